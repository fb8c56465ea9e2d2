//! The wordings of problems about heat, and the values that they give.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::hydration::{HeatQuantity, Hydration, WATER_CAPACITY, WATER_SOURCE};
use crate::exercise::draft::Refusal;
use crate::exercise::given::GivenValue;
use crate::exercise::kinds::wording::solid_name;
use crate::number::{Ratio, TieRule};

/// The heat or the water, from a mass.
pub(super) const HEAT: &str = "heat_from_mass";
pub(super) const WATER: &str = "water_from_mass";
/// The heat by enthalpies of formation; the heat or the water by names.
pub(super) const FORMATION: &str = "heat_from_formation";
pub(super) const NAMES: &str = "heat_from_names";
pub(super) const WATER_NAMES: &str = "water_from_names";
/// With more water than the salt takes up; with a mass that is not needed; the rise of temperature.
pub(super) const MUCH_WATER: &str = "heat_with_much_water";
pub(super) const WATER_OF_MUCH: &str = "water_taken_up_of_much";
pub(super) const EXTRA_MASS: &str = "enthalpy_mass_not_needed";
pub(super) const RISE: &str = "temperature_rise";

/// A prompt with the values that it gives and the request does not have.
pub(super) struct HeatPrompt {
    pub(super) text: String,
    pub(super) given: Vec<GivenValue>,
}

/// A number with at least one decimal place.
fn plain(value: &Ratio) -> String {
    let places = value.exact_decimal_places().unwrap_or(2).max(1);
    let places = i32::try_from(places).unwrap_or(2);
    value.to_places(places, TieRule::Even).to_string()
}

pub(super) fn prompt(
    form: &str,
    bench: &str,
    hydration: &Hydration,
    quantity: HeatQuantity,
) -> Result<HeatPrompt, Refusal> {
    let given = given(form, hydration);
    let story = story(form, bench, hydration)?;
    let data: Vec<String> = sentences(&given);
    let salt = hydration.salt();
    let question = match (quantity, form) {
        (HeatQuantity::Heat, MUCH_WATER) => {
            "Decide which of the two is used up. Work out the heat in kJ. It has a minus sign if it is given off.".into()
        }
        (HeatQuantity::Heat, _) => {
            "Work out the heat in kJ. It has a minus sign if it is given off.".into()
        }
        (HeatQuantity::Water, _) => "Work out the mass of water that the salt takes up.".into(),
        (HeatQuantity::Enthalpy, _) => {
            format!("Work out the enthalpy change in kJ for each mole of {salt}.")
        }
        (HeatQuantity::Rise, _) => {
            "Estimate the rise of temperature. No heat is lost, and the crystals do not dissolve.".to_string()
        }
    };
    let text = core::iter::once(story).chain(data).chain([question]);
    Ok(HeatPrompt {
        text: text.collect::<Vec<_>>().join(" "),
        given,
    })
}

fn story(form: &str, bench: &str, hydration: &Hydration) -> Result<String, Refusal> {
    let (salt, hydrate, mass) = (hydration.salt(), hydration.hydrate(), hydration.mass);
    let water = match hydration.water_mass {
        Some(water) => format!("{water}\u{a0}g of water"),
        None => "water".into(),
    };
    Ok(match form {
        NAMES | WATER_NAMES => format!(
            "At bench {bench}, {mass}\u{a0}g of {} takes up water. It becomes {}. Write the formulas.",
            solid_name(salt)?,
            solid_name(hydrate)?
        ),
        MUCH_WATER | WATER_OF_MUCH => format!(
            "Bench {bench} has {mass}\u{a0}g of {salt} and {water}. The salt becomes {hydrate}."
        ),
        RISE => format!(
            "Bench {bench} has {mass}\u{a0}g of {salt} and {water}. All of the salt becomes {hydrate}, and water is \
             left over."
        ),
        _ => format!(
            "At bench {bench}, {mass}\u{a0}g of {salt} takes up {water} and becomes {hydrate}."
        ),
    })
}

/// The values that a form gives, in the order of its sentences.
fn given(form: &str, hydration: &Hydration) -> Vec<GivenValue> {
    let (salt, hydrate) = (hydration.salt(), hydration.hydrate());
    let source = hydration.heat.source().unwrap_or("the catalogue of salts");
    let enthalpy = || {
        let what = match form {
            // The formulas are to be found.
            NAMES => "enthalpy of hydration per mole of anhydrous salt".into(),
            _ => format!("enthalpy of hydration of {salt} to {hydrate}"),
        };
        GivenValue::new(what, plain(&hydration.enthalpy), "kJ/mol", source)
    };
    match form {
        WATER | WATER_NAMES | WATER_OF_MUCH => Vec::new(),
        FORMATION | EXTRA_MASS => {
            let [of_salt, of_hydrate, of_water] = &hydration.formation;
            let solids = [
                (salt.to_string(), of_salt),
                (hydrate.to_string(), of_hydrate),
                ("liquid water".into(), of_water),
            ];
            let value = |(of, value): (String, &Ratio)| {
                let what = format!("standard enthalpy of formation of {of}");
                GivenValue::new(what, plain(value), "kJ/mol", source)
            };
            solids.into_iter().map(value).collect()
        }
        RISE => {
            let capacity = plain(hydration.heat.heat_capacity());
            let of_hydrate = format!("molar heat capacity of {hydrate}");
            let kopp = "an estimate by Kopp's rule";
            let of_water = "specific heat capacity of water";
            Vec::from([
                enthalpy(),
                GivenValue::new(of_hydrate, capacity, "J/(mol·K)", kopp),
                GivenValue::new(of_water, WATER_CAPACITY, "J/(g·K)", WATER_SOURCE),
            ])
        }
        _ => Vec::from([enthalpy()]),
    }
}

/// The sentences that give the values.
fn sentences(given: &[GivenValue]) -> Vec<String> {
    let sentence = |value: &GivenValue| {
        let (what, unit) = (value.what(), value.unit());
        let number = value.value().replace('-', "−");
        format!("The {what} is {number}\u{a0}{unit}.")
    };
    given.iter().map(sentence).collect()
}
