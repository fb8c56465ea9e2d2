//! The percentage by mass of water in a hydrate.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::row::KindRow;
use super::wording::{
    NAME, NAMED_UNITS, SYSTEMATIC, gently, molecules, name_step, salt_name, systematic_name,
};
use crate::exercise::careful::{CarefulWork, PrintedMasses};
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
/// waters. Asked is the water, what heating drives off, or the water of one of two.
const FORMULA: &str = "from_formula";
const UNITS: &str = "from_salt_and_waters";
const LOSS: &str = "loss_on_heating";
const BOTTLE: &str = "from_label";
const NAME_LOSS: &str = "loss_from_name";
const MORE: &str = "greater_of_two";
const LESS: &str = "smaller_of_two";

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let figures = 3 + draw.sampler.below(2);
    let (form, prompt, row, rows) = match draw.level {
        Level::Judgement => compare(draw)?,
        _ => {
            let (form, row) = form_and_hydrate(draw)?;
            (form, prompt(form, row), row, Vec::from([row]))
        }
    };
    let mut skills = Vec::from([Skill::MolarMass, Skill::MassFraction]);
    match draw.level {
        Level::OneStep => skills.push(Skill::ReadFormula),
        Level::SeveralSteps => skills.push(Skill::ReadName),
        Level::Judgement => skills.push(Skill::Compare),
    }
    let careful = percent(row, draw.careful(figures));
    let mut wrong = match draw.source.exercises.options {
        true => wrong(row, draw.exact()).unwrap_or_default(),
        false => Vec::new(),
    };
    let other = rows.iter().find(|other| ***other != *row);
    if let Some(other) = other.and_then(|other| percent(other, draw.exact())) {
        wrong.insert(
            0,
            (
                WrongStep::OTHER_SUBSTANCE,
                WrongValue::Number(other.low().clone()),
            ),
        );
    }
    Ok(DraftProblem {
        form,
        skills,
        prompt,
        request: Request::new(Operation::Formula, draw.weights())
            .with("formula", row.text.as_str()),
        asked: Asked::Number {
            pointer: "/percent_water".into(),
            unit: "%",
            figures,
            careful: careful.ok_or(Refusal::Again("the hydrate has no molar mass"))?,
        },
        working: working(&rows, row, form, draw.exact(), figures)
            .ok_or(Refusal::Again("the hydrate has no molar mass"))?,
        wrong,
    })
}

fn form_and_hydrate<'d>(draw: &mut Draw<'d>) -> Result<(&'static str, &'d PoolHydrate), Refusal> {
    // Fewer hydrates may be heated.
    let form = draw.form(match (draw.level, draw.has_heated_hydrates()) {
        (Level::OneStep, true) => &[FORMULA, UNITS, BOTTLE, LOSS],
        (Level::OneStep, false) => &[FORMULA, UNITS, BOTTLE],
        (_, true) => &[
            NAME,
            NAME,
            SYSTEMATIC,
            SYSTEMATIC,
            NAMED_UNITS,
            NAMED_UNITS,
            NAME_LOSS,
        ],
        (_, false) => &[NAME, SYSTEMATIC, NAMED_UNITS],
    });
    let row = match form {
        LOSS | NAME_LOSS => draw.heated_hydrate()?,
        _ => draw.hydrate()?,
    };
    Ok((form, row))
}

fn prompt(form: &str, row: &PoolHydrate) -> String {
    let PoolHydrate {
        text: hydrate,
        name,
        salt_text: salt,
        waters,
        ..
    } = row;
    let gently = gently(row);
    match form {
        FORMULA => format!("Work out the percentage by mass of water in {hydrate}."),
        UNITS => format!(
            "In a hydrate of {salt} there {} for each formula unit of the salt. \
             Work out the percentage by mass of water in it.",
            molecules(waters)
        ),
        LOSS => format!(
            "A sample of {hydrate} is heated {gently}until all of its water has left. \
             Work out the percentage of its mass that it loses."
        ),
        BOTTLE => format!(
            "A bottle is labelled “{name}, {hydrate}”. Work out the percentage by mass of water in the crystals."
        ),
        NAME => format!("Write the formula of {name}. Work out its percentage by mass of water."),
        SYSTEMATIC => format!(
            "A data sheet calls a hydrate “{}”. Write its formula. Work out its percentage by mass of water.",
            systematic_name(row)
        ),
        NAMED_UNITS => format!(
            "When {} crystallises, there {} for each formula unit of the salt. \
             Work out the percentage by mass of water in the crystals.",
            salt_name(row),
            molecules(waters)
        ),
        _ => format!(
            "A sample of {name} is heated {gently}until all of its water has left. \
             Work out the percentage of its mass that it loses."
        ),
    }
}

/// The form, the prompt, the hydrate asked for, and both in the order of the prompt.
type Compared<'d> = (&'static str, String, &'d PoolHydrate, Vec<&'d PoolHydrate>);

/// Two hydrates, of which one holds clearly more water.
fn compare<'d>(draw: &mut Draw<'d>) -> Result<Compared<'d>, Refusal> {
    let form = draw.form(&[MORE, LESS]);
    let [one, two] = draw.two_hydrates()?;
    let water = |row| {
        let percent = percent(row, draw.exact());
        percent.ok_or(Refusal::Again("the hydrate has no molar mass"))
    };
    let (first, second) = (water(one)?, water(two)?);
    let difference = first.low() - second.low();
    if difference.abs() < Ratio::from(2) {
        return Err(Refusal::Again("the two hydrates hold nearly the same"));
    }
    let (more, less) = match difference.is_positive() {
        true => (one, two),
        false => (two, one),
    };
    let (asked, word) = match form {
        MORE => (more, "more"),
        _ => (less, "less"),
    };
    let prompt = format!(
        "There are two bottles, one with {} and one with {}. Find out which of the two holds {word} water in each \
         gram. Give its percentage by mass of water.",
        one.text, two.text
    );
    Ok((form, prompt, asked, Vec::from([one, two])))
}

/// The percentage of water along some paths.
pub(super) fn percent(row: &PoolHydrate, paths: &CarefulWork) -> Option<Interval> {
    paths.percent_water(&row.hydrate, || percent_along(row, paths))
}

/// 100 divided by one more than the salt's mass over the water's, and the same from the rounded molar masses.
fn percent_along(row: &PoolHydrate, paths: &CarefulWork) -> Option<Interval> {
    let point = |number: Ratio| Interval::point(number);
    let water = paths
        .molar_mass(&Formula::water())?
        .times(&point(row.waters.clone()));
    let salt = paths.molar_mass(&row.salt)?;
    let whole = paths.kept(&salt.over(&water)?.plus(&point(Ratio::ONE)))?;
    let split = point(Ratio::from(100)).over(&whole)?;
    // Others add the rounded molar masses up.
    let added = crate::gravimetry::percent(&water, &paths.molar_mass(&row.hydrate)?)?;
    Some(split.join(added))
}

/// The wrong steps with their values.
pub(super) fn wrong(
    row: &PoolHydrate,
    exact: &CarefulWork,
) -> Option<Vec<(WrongStep, WrongValue)>> {
    let number = |interval: Interval| WrongValue::Number(interval.low().clone());
    let molar = |formula: &Formula| exact.molar_mass(formula);
    let (water, salt, hydrate) = (
        molar(&Formula::water())?,
        molar(&row.salt)?,
        molar(&row.hydrate)?,
    );
    let waters = water.times(&Interval::point(row.waters.clone()));
    let percent = crate::gravimetry::percent;
    let mut wrong = Vec::from([
        (
            WrongStep::on_paper(Slip::PercentOfResidue),
            number(percent(&waters, &salt)?),
        ),
        (
            WrongStep::on_paper(Slip::PercentSaltForWater),
            number(percent(&salt, &hydrate)?),
        ),
    ]);
    if row.waters != Ratio::ONE {
        wrong.push((
            WrongStep::ONE_WATER_COUNTED,
            number(percent(&water, &hydrate)?),
        ));
        wrong.push((
            WrongStep::on_paper(Slip::OneWaterOnly),
            number(percent(&water, &salt.plus(&water))?),
        ));
    }
    let ions = Interval::point(Ratio::from(17)).times(&Interval::point(row.waters.clone()));
    wrong.push((
        Slip::WrongWaterMolarMass.into(),
        number(percent(&ions, &salt.plus(&ions))?),
    ));
    let ten = Interval::point(Ratio::from(10));
    wrong.push((
        Slip::FactorOfTen.into(),
        number(percent(&waters, &hydrate)?.over(&ten)?),
    ));
    Some(wrong)
}

/// The steps to the percentage of one hydrate. The formula comes first if its name is given; of two hydrates both
/// are worked out, in the order of the prompt, so that no step tells which of them it is.
fn working(
    rows: &[&PoolHydrate],
    asked: &PoolHydrate,
    form: &str,
    exact: &CarefulWork,
    figures: u32,
) -> Option<Working> {
    let mut working = Working::default();
    if let Some(step) = name_step(form, NAME_LOSS, asked) {
        working.push(step);
    }
    let share = |row| {
        let percent = percent(row, exact)?;
        Some(to_figures(percent.low(), figures))
    };
    for row in rows {
        let of = match rows {
            [_] => "the hydrate".into(),
            _ => row.text.clone(),
        };
        for step in share_steps(row, &of, share(row)?, exact)? {
            working.push(step);
        }
    }
    let word = match form {
        MORE => "greater",
        LESS => "smaller",
        _ => return Some(working),
    };
    let compared = Step::new(
        format!("{word} percentage of water"),
        "each gram holds more water if the percentage is greater",
        format!("take the {word} of the two percentages"),
        share(asked)?,
        "%",
    );
    working.push(compared.concluded());
    Some(working)
}

/// The molar mass of a hydrate, then its percentage of water.
pub(super) fn share_steps(
    row: &PoolHydrate,
    of: &str,
    share: String,
    exact: &CarefulWork,
) -> Option<[Step; 2]> {
    let masses = exact.printed(&row.hydrate, || printed(row, exact))?;
    Some([
        Step::new(
            format!("molar mass of {of}"),
            "M(hydrate) = M(salt) + waters × M(H2O)",
            masses.sum.clone(),
            masses.whole.clone(),
            "g/mol",
        ),
        Step::new(
            format!("percentage of water in {of}"),
            "100 % × waters × M(H2O) / M(hydrate)",
            masses.share.clone(),
            share,
            "%",
        ),
    ])
}

fn printed(row: &PoolHydrate, exact: &CarefulWork) -> Option<PrintedMasses> {
    let plain = |formula: &Formula| Some(exact.molar_mass(formula)?.low().to_plain());
    let (water, salt, whole) = (
        plain(&Formula::water())?,
        plain(&row.salt)?,
        plain(&row.hydrate)?,
    );
    let waters = &row.waters;
    Some(PrintedMasses {
        sum: format!("{salt} g/mol + {waters} × {water} g/mol"),
        share: format!("100 % × {waters} × {water} g/mol / {whole} g/mol"),
        whole,
    })
}
