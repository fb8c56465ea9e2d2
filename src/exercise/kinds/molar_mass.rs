//! The molar mass of a hydrate, or of its salt.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::row::KindRow;
use super::wording::{molecules, salt_name, systematic_name};
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, to_figures};
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::kind::Level;
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::{CarefulWork, Interval};
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
const NAME: &str = "from_name";
const SYSTEMATIC: &str = "from_systematic_name";
const NAMED_UNITS: &str = "from_salt_name_and_waters";
const NAMED_SALT: &str = "salt_from_name";
const GREATER: &str = "greater_of_two";
const SMALLER: &str = "smaller_of_two";
const MORE_UNITS: &str = "more_units_in_each_gram";
const FEWER_UNITS: &str = "fewer_units_in_each_gram";

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
    let (row, other, prompt) = match draw.level {
        Level::Judgement => {
            let (row, other, prompt) = compare(form, draw)?;
            (row, Some(other), prompt)
        }
        _ => {
            let row = draw.hydrate()?;
            // So does the systematic name of a hemihydrate.
            let has_several = form == SYSTEMATIC && !row.waters.is_integer();
            if has_several || row.salt.with_waters(&row.waters).as_ref() != Some(&row.hydrate) {
                let reason = "the formula has several units of the salt";
                return Err(Refusal::Again(reason));
            }
            (row, None, prompt(form, row))
        }
    };
    let asked = match form {
        SALT | NAMED_SALT => &row.salt,
        _ => &row.hydrate,
    };
    let no_mass = || Refusal::Again("the hydrate has no molar mass");
    let exact = draw.exact();
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
            careful: molar_mass(row, asked, draw.careful()).ok_or_else(no_mass)?,
        },
        working: working(row, asked, exact, figures).ok_or_else(no_mass)?,
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

/// Two hydrates: the one asked for, the other, and the prompt.
fn compare<'d>(
    form: &str,
    draw: &mut Draw<'d>,
) -> Result<(&'d PoolHydrate, &'d PoolHydrate, String), Refusal> {
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
    let (asked, other, question) = match form {
        GREATER => (heavy, light, "has the greater molar mass"),
        SMALLER => (light, heavy, "has the smaller molar mass"),
        MORE_UNITS => (light, heavy, "holds more formula units in each gram"),
        _ => (heavy, light, "holds fewer formula units in each gram"),
    };
    let prompt = format!(
        "There are two bottles, one with {} and one with {}. Find out which of the two {question}. Give its molar mass.",
        one.hydrate, two.hydrate
    );
    Ok((asked, other, prompt))
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

/// The salt from its elements, then the hydrate from its salt and its waters.
fn working(
    row: &PoolHydrate,
    asked: &Formula,
    exact: &CarefulWork,
    figures: u32,
) -> Option<Working> {
    let plain = |formula: &Formula| Some(exact.molar_mass(formula)?.low().to_plain());
    let times = |count: &Ratio| match *count == Ratio::ONE {
        true => String::new(),
        false => format!("{count} × "),
    };
    let answer = to_figures(exact.molar_mass(asked)?.low(), figures);
    let (mut symbols, mut numbers) = (Vec::new(), Vec::new());
    for (atom, count) in &row.salt.composition().ok()? {
        let symbol = atom.element().symbol();
        let mass = plain(&symbol.parse().ok()?)?;
        let times = times(count);
        symbols.push(format!("{times}M({symbol})"));
        numbers.push(format!("{times}{mass} g/mol"));
    }
    let salt = plain(&row.salt)?;
    let is_salt = *asked == row.salt;
    let mut working = Working::default();
    working.push(Step::new(
        "molar mass of the salt",
        symbols.join(" + "),
        numbers.join(" + "),
        if is_salt {
            answer.clone()
        } else {
            salt.clone()
        },
        "g/mol",
    ));
    if !is_salt {
        let water = plain(&Formula::water())?;
        let waters = &row.waters;
        working.push(Step::new(
            "molar mass of the hydrate",
            format!("M({}) + {}M(H2O)", row.salt, times(waters)),
            format!("{salt} g/mol + {}{water} g/mol", times(waters)),
            answer,
            "g/mol",
        ));
    }
    Some(working)
}
