//! How a problem about heat is drawn.

use alloc::vec::Vec;

use super::hydration::{HeatQuantity, Hydration};
use super::prompt::{
    EXTRA_MASS, FORMATION, HEAT, MUCH_WATER, NAMES, RISE, WATER, WATER_NAMES, WATER_OF_MUCH, prompt,
};
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::Draw;
use crate::exercise::given::GivenValue;
use crate::exercise::kind::Level;
use crate::exercise::kinds::row::KindRow;
use crate::exercise::kinds::wording::BENCHES;
use crate::exercise::pool::{HEATS, HeatRow};
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::formula::Formula;

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

const NOTHING: &str = "no salt with a known heat of hydration";

/// Drawn only if it is asked for.
const COPPER: &[HeatRow] = &[HeatRow {
    salt_name: "copper(II) sulfate",
    hydrate: "CuSO4·5H2O",
}];

/// The only row whose crystals do not dissolve in the water that is left over.
const GYPSUM: HeatRow = HeatRow {
    salt_name: "calcium sulfate",
    hydrate: "CaSO4·2H2O",
};

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let has_crystals = draw.is_left(&formulas(&GYPSUM));
    let form = draw.form(match draw.level {
        Level::OneStep => &[HEAT, WATER],
        Level::SeveralSteps => &[FORMATION, NAMES, WATER_NAMES],
        Level::Judgement if has_crystals => &[MUCH_WATER, WATER_OF_MUCH, EXTRA_MASS, RISE],
        Level::Judgement => &[MUCH_WATER, WATER_OF_MUCH, EXTRA_MASS],
    });
    let quantity = match form {
        WATER | WATER_NAMES | WATER_OF_MUCH => HeatQuantity::Water,
        EXTRA_MASS => HeatQuantity::Enthalpy,
        RISE => HeatQuantity::Rise,
        _ => HeatQuantity::Heat,
    };
    let copper = draw.with_copper(COPPER);
    let rows = HEATS.iter().chain(copper);
    let row = match form {
        // With more water than it needs, a salt does not stop at a lower hydrate.
        RISE => draw.row(NOTHING, [&GYPSUM], formulas)?,
        MUCH_WATER | WATER_OF_MUCH => {
            draw.row(NOTHING, rows.filter(|row| is_highest(row)), formulas)?
        }
        _ => draw.row(NOTHING, rows, formulas)?,
    };
    let hydration = Hydration::draw(draw, row.hydrate)?;
    let hydration = match form {
        MUCH_WATER | WATER_OF_MUCH => hydration.with_much_water(draw)?,
        RISE => hydration.with_warm_water(draw)?,
        _ => hydration,
    };
    let bench = draw.form(&BENCHES);
    let prompt = prompt(form, bench, &hydration, quantity)?;
    // The estimate of a rise has two.
    let figures = 3 - u32::from(quantity == HeatQuantity::Rise);
    let wrong = hydration
        .wrong(form, quantity, draw.exact())
        .unwrap_or_default();
    let wrong = wrong
        .into_iter()
        .map(|(step, value)| (step, WrongValue::Number(value)));
    let careful = hydration.value(quantity, draw.careful(figures));
    let no_value = || Refusal::Again("a value cannot be worked out");
    let working = hydration.working(form, quantity, draw.exact(), figures);
    Ok(DraftProblem {
        form,
        skills: skills(form, quantity),
        request: request(draw, &hydration, prompt.given),
        prompt: prompt.text,
        asked: Asked::Number {
            pointer: quantity.pointer().into(),
            unit: quantity.unit(),
            figures,
            careful: careful.ok_or_else(no_value)?,
        },
        working: working.ok_or_else(no_value)?,
        wrong: wrong.collect(),
    })
}

/// Whether no other hydrate of the salt has a known heat and more waters.
fn is_highest(row: &HeatRow) -> bool {
    let waters = |row: &HeatRow| {
        let hydrate: Formula = row.hydrate.parse().ok()?;
        hydrate.one_formula_unit().map(|(_, waters)| waters)
    };
    let same_salt = HEATS
        .iter()
        .filter(|other| other.salt_name == row.salt_name);
    same_salt.map(waters).all(|other| other <= waters(row))
}

fn formulas(row: &HeatRow) -> Vec<Formula> {
    row.hydrate.parse().into_iter().collect()
}

fn skills(form: &str, quantity: HeatQuantity) -> Vec<Skill> {
    let mut skills = Vec::new();
    if quantity != HeatQuantity::Enthalpy {
        skills.extend([Skill::MolarMass, Skill::AmountFromMass]);
    }
    skills.push(match quantity {
        HeatQuantity::Water => Skill::MassFromAmount,
        _ => Skill::HeatFromEnthalpy,
    });
    match form {
        NAMES | WATER_NAMES => skills.push(Skill::ReadName),
        MUCH_WATER | WATER_OF_MUCH => skills.push(Skill::LimitingReactant),
        _ => {}
    }
    skills
}

fn request(draw: &Draw<'_>, hydration: &Hydration, given: Vec<GivenValue>) -> Request {
    let request = Request::new(Operation::Heat, draw.weights())
        .with("hydrate", hydration.hydrate())
        .with("mass", &hydration.mass);
    let request = match &hydration.water_mass {
        Some(water) => request.with("water_mass", water),
        None => request,
    };
    given.into_iter().fold(request, Request::giving)
}
