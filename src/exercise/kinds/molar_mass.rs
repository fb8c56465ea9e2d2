//! The molar mass of a hydrate, or of its salt.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::row::KindRow;
use super::wording::{
    NAME, NAMED_UNITS, SYSTEMATIC, molecules, name_step, salt_name, systematic_name,
};
use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, to_figures};
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::kind::Level;
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::Interval;
use crate::mistake::Slip;
use crate::number::Ratio;
use crate::working::{Step, Working};

pub(super) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// Given are the formula, the salt and its waters, a label, the name, the systematic name, or the salt's name and its
/// waters. Asked is the hydrate, its salt, or one of two hydrates: by the molar mass, or by the number of formula
/// units in a gram.
const FORMULA: &str = "from_formula";
const UNITS: &str = "from_salt_and_waters";
const LABEL: &str = "from_label";
const SALT: &str = "salt_from_hydrate";
const NAMED_SALT: &str = "salt_from_name";
const GREATER: &str = "greater_of_two";
const SMALLER: &str = "smaller_of_two";
const MORE_UNITS: &str = "more_units_in_each_gram";
const FEWER_UNITS: &str = "fewer_units_in_each_gram";

const UNITS_IN_A_GRAM: &str = "formula units in 1 g = N(A) × 1 g / M";

/// Two molar masses that differ by less than this, in g/mol, are too alike to compare.
const LEAST_DIFFERENCE: i64 = 10;
/// A subscript that is overlooked changes the molar mass by more than this, in g/mol.
const LEAST_ERROR: i64 = 4;

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let figures = 3 + draw.sampler.below(2);
    let form = draw.form(match draw.level {
        Level::OneStep => &[FORMULA, UNITS, LABEL, SALT],
        Level::SeveralSteps => &[NAME, SYSTEMATIC, NAMED_UNITS, NAMED_SALT],
        Level::Judgement => &[GREATER, SMALLER, MORE_UNITS, FEWER_UNITS],
    });
    let (row, rows, prompt) = match draw.level {
        Level::Judgement => compare(form, draw)?,
        _ => {
            let row = draw.hydrate()?;
            // So does the systematic name of a hemihydrate.
            let has_several = form == SYSTEMATIC && !row.waters.is_integer();
            if has_several || row.salt.with_waters(&row.waters).as_ref() != Some(&row.hydrate) {
                let reason = "the formula has several units of the salt";
                return Err(Refusal::Again(reason));
            }
            (row, Vec::from([row]), prompt(form, row))
        }
    };
    let asked = match form {
        SALT | NAMED_SALT => &row.salt,
        _ => &row.hydrate,
    };
    let no_mass = || Refusal::Again("the hydrate has no molar mass");
    let exact = draw.exact();
    let other = rows.iter().copied().find(|other| *other != row);
    let wrong = match draw.source.exercises.options {
        true => wrong(row, asked, other, exact).ok_or_else(no_mass)?,
        false => Vec::new(),
    };
    Ok(DraftProblem {
        form,
        skills: skills(draw.level),
        prompt,
        request: Request::new(Operation::Formula, draw.weights()).with("formula", asked),
        asked: Asked::Number {
            pointer: "/molar_mass".into(),
            unit: "g/mol",
            figures,
            careful: molar_mass(row, asked, draw.careful(figures)).ok_or_else(no_mass)?,
        },
        working: working(&rows, row, form, exact, figures).ok_or_else(no_mass)?,
        wrong,
    })
}

fn skills(level: Level) -> Vec<Skill> {
    let mut skills = Vec::from([Skill::MolarMass]);
    skills.push(match level {
        Level::OneStep => Skill::ReadFormula,
        Level::SeveralSteps => Skill::ReadName,
        Level::Judgement => Skill::Compare,
    });
    skills
}

fn prompt(form: &str, row: &PoolHydrate) -> String {
    let PoolHydrate {
        hydrate,
        name,
        salt,
        waters,
        ..
    } = row;
    match form {
        FORMULA => format!("Work out the molar mass of {hydrate}."),
        UNITS => format!(
            "In a hydrate of {salt} there {} for each formula unit of the salt. Work out the molar mass of the \
             hydrate.",
            molecules(waters)
        ),
        LABEL => {
            format!(
                "A bottle is labelled “{name}, {hydrate}”. Work out the molar mass of the crystals."
            )
        }
        SALT => format!(
            "A hydrate has the formula {hydrate}. Work out the molar mass of the salt without its water."
        ),
        NAME => format!("Write the formula of {name}. Work out its molar mass."),
        SYSTEMATIC => format!(
            "A data sheet calls a hydrate “{}”. Write its formula. Work out its molar mass.",
            systematic_name(row)
        ),
        NAMED_UNITS => format!(
            "When {} crystallises, there {} for each formula unit of the salt. Work out the molar mass of the \
             crystals.",
            salt_name(row),
            molecules(waters)
        ),
        _ => format!(
            "Write the formula of {name}. Work out the molar mass of the salt without its water."
        ),
    }
}

/// Two hydrates: the one asked for, both in the order of the prompt, and the prompt.
fn compare<'d>(
    form: &str,
    draw: &mut Draw<'d>,
) -> Result<(&'d PoolHydrate, Vec<&'d PoolHydrate>, String), Refusal> {
    let [one, two] = draw.two_hydrates()?;
    let mass = |row: &PoolHydrate| {
        let mass = draw.exact().molar_mass(&row.hydrate);
        let mass = mass.map(|mass| mass.low().clone());
        mass.ok_or(Refusal::Again("the hydrate has no molar mass"))
    };
    let difference = mass(one)? - mass(two)?;
    if difference.abs() < Ratio::from(LEAST_DIFFERENCE) {
        return Err(Refusal::Again("the two molar masses are nearly the same"));
    }
    let (heavy, light) = match difference.is_positive() {
        true => (one, two),
        false => (two, one),
    };
    let (asked, question) = match form {
        GREATER => (heavy, "has the greater molar mass"),
        SMALLER => (light, "has the smaller molar mass"),
        MORE_UNITS => (light, "holds more formula units in each gram"),
        _ => (heavy, "holds fewer formula units in each gram"),
    };
    let prompt = format!(
        "There are two bottles, one with {} and one with {}. Find out which of the two {question}. Give its molar mass.",
        one.hydrate, two.hydrate
    );
    Ok((asked, Vec::from([one, two]), prompt))
}

/// The molar mass along some paths: of the whole, or added up from the salt and its waters.
fn molar_mass(row: &PoolHydrate, asked: &Formula, paths: &CarefulWork) -> Option<Interval> {
    let whole = paths.molar_mass(asked)?;
    if *asked == row.salt {
        return Some(whole);
    }
    let waters = Interval::point(row.waters.clone());
    let water = paths.molar_mass(&Formula::water())?.times(&waters);
    Some(whole.join(paths.molar_mass(&row.salt)?.plus(&water)))
}

/// The wrong steps with their values.
fn wrong(
    row: &PoolHydrate,
    asked: &Formula,
    other: Option<&PoolHydrate>,
    exact: &CarefulWork,
) -> Option<Vec<(WrongStep, WrongValue)>> {
    let molar = |formula: &Formula| Some(exact.molar_mass(formula)?.low().clone());
    let element = |symbol: &str| molar(&symbol.parse().ok()?);
    let (salt, water) = (molar(&row.salt)?, molar(&Formula::water())?);
    let mut values: Vec<(WrongStep, Ratio)> = Vec::new();
    if let Some(other) = other {
        values.push((WrongStep::OTHER_SUBSTANCE, molar(&other.hydrate)?));
    }
    let is_salt = *asked == row.salt;
    let waters = match is_salt {
        true => Ratio::ZERO,
        false => &water * &row.waters,
    };
    // A hydrogen atom more or fewer is too near.
    let is_off = |mass: &Ratio| (mass - &salt).abs() > Ratio::from(LEAST_ERROR);
    let misread = row.salt.misreadings();
    let misread = misread.iter().filter_map(molar).filter(is_off).take(2);
    let misread: Vec<Ratio> = misread.map(|mass| mass + &waters).collect();
    let dropped = |mass: &Ratio| (WrongStep::from(Slip::SubscriptDropped), mass.clone());
    if is_salt {
        let hydrate = molar(&row.hydrate)?;
        values.push((Slip::HydrateMolarMassForSalt.into(), hydrate));
        values.extend(misread.iter().map(dropped));
        if row.waters != Ratio::ONE {
            values.push((WrongStep::ONE_WATER_LEFT_IN, &salt + &water));
        }
    } else {
        values.push((WrongStep::WATER_LEFT_OUT, salt.clone()));
        if row.waters != Ratio::ONE {
            let hydrogen = Ratio::from(2) * &row.waters * element("H")?;
            values.push((WrongStep::ONE_WATER_ADDED, &salt + &water));
            let alone = &salt + hydrogen + element("O")?;
            values.push((WrongStep::HYDROGEN_OF_WATER_ALONE, alone));
        }
        values.extend(misread.iter().map(dropped));
        let seventeen = &salt + &row.waters * Ratio::from(17);
        values.push((Slip::WrongWaterMolarMass.into(), seventeen));
    }
    let atoms = asked.composition().ok()?;
    let numbers = atoms
        .iter()
        .map(|(atom, count)| count * &Ratio::from(i64::from(atom.element().number())));
    values.push((WrongStep::ATOMIC_NUMBERS_ADDED, numbers.sum()));
    let values = values.into_iter();
    Some(
        values
            .map(|(step, value)| (step, WrongValue::Number(value)))
            .collect(),
    )
}

/// The steps to the molar mass that is asked for. The formula comes first if its name is given; of two hydrates both
/// are worked out, in the order of the prompt, so that no step tells which of them it is.
fn working(
    rows: &[&PoolHydrate],
    asked: &PoolHydrate,
    form: &str,
    exact: &CarefulWork,
    figures: u32,
) -> Option<Working> {
    let mut working = Working::default();
    if let Some(step) = name_step(form, NAMED_SALT, asked) {
        working.push(step);
    }
    for row in rows {
        let of = match rows {
            [_] => ["the salt".into(), "the hydrate".into()],
            _ => [row.salt.to_string(), row.hydrate.to_string()],
        };
        for step in molar_mass_steps(row, form, of, exact, figures)? {
            working.push(step);
        }
    }
    let (word, symbols) = match form {
        GREATER => ("greater", "compare the molar masses"),
        SMALLER => ("smaller", "compare the molar masses"),
        MORE_UNITS => ("smaller", UNITS_IN_A_GRAM),
        FEWER_UNITS => ("greater", UNITS_IN_A_GRAM),
        _ => return Some(working),
    };
    let compared = Step::new(
        "molar mass that is asked for",
        symbols,
        format!("take the {word} of the two molar masses"),
        to_figures(exact.molar_mass(&asked.hydrate)?.low(), figures),
        "g/mol",
    );
    working.push(compared.concluded());
    Some(working)
}

/// The salt from its elements, then the hydrate from its salt and its waters unless the salt is asked for.
fn molar_mass_steps(
    row: &PoolHydrate,
    form: &str,
    [of_salt, of_hydrate]: [String; 2],
    exact: &CarefulWork,
    figures: u32,
) -> Option<Vec<Step>> {
    let molar = |formula: &Formula| Some(exact.molar_mass(formula)?.low().clone());
    let water = molar(&Formula::water())?.to_plain();
    let times = |count: &Ratio| match *count == Ratio::ONE {
        true => String::new(),
        false => format!("{count} × "),
    };
    let mut numbers = Vec::new();
    for (atom, count) in &row.salt.composition().ok()? {
        let mass = molar(&atom.element().symbol().parse().ok()?)?.to_plain();
        numbers.push(format!("{}{mass} g/mol", times(count)));
    }
    let is_salt = matches!(form, SALT | NAMED_SALT);
    let salt = molar(&row.salt)?;
    let written = match is_salt {
        true => to_figures(&salt, figures),
        false => salt.to_plain(),
    };
    let mut steps = Vec::from([Step::new(
        format!("molar mass of {of_salt}"),
        "the sum of atoms × molar mass of the element",
        numbers.join(" + "),
        written.clone(),
        "g/mol",
    )]);
    if !is_salt {
        steps.push(Step::new(
            format!("molar mass of {of_hydrate}"),
            "M(hydrate) = M(salt) + waters × M(H2O)",
            format!("{written} g/mol + {}{water} g/mol", times(&row.waters)),
            to_figures(&molar(&row.hydrate)?, figures),
            "g/mol",
        ));
    }
    Some(steps)
}
