//! The assumptions of the estimate, and what is not known.

use alloc::format;
use alloc::string::ToString;

use crate::formula::Formula;
use crate::number::{Ratio, Reading, TieRule};
use crate::text::{Note, list};

/// The rise in kelvin from which on water boils, from a room at about 20 °C with some margin.
const BOILS: i64 = 75;

/// The enthalpies of formation of these solids are not known from two sources that agree.
pub(super) fn not_verified(solids: &[&Formula]) -> Note {
    let names = list(solids.iter().map(ToString::to_string));
    let text = format!(
        "No enthalpy of formation that a second table confirms is known here for {names}. So no heat is given. Nothing is \
         estimated in its place."
    );
    Note::new("not_verified", text).with("solids", names)
}

/// The tables give an uptake of heat.
pub(super) fn takes_up_heat(salt: &Formula) -> Note {
    let text = format!(
        "By these enthalpies of formation the reaction takes up heat. They are of the most stable form of {salt}. \
         Heating may leave another form, which gives off heat."
    );
    Note::new("takes_up_heat", text)
}

/// The assumptions of an estimated rise of temperature.
pub(super) fn assumptions(hydrate: &Formula, is_excess: bool) -> Note {
    let excess = match is_excess {
        true => {
            " The excess water takes up 4.18 J/(g·K) (from memory). The estimate \
             leaves out that hydrate dissolves in it. That usually takes up heat, but of a lower hydrate it may give off \
             more."
        }
        false => "",
    };
    let text = format!(
        "The rise of temperature is an estimate. It assumes that all the salt turns into {hydrate}, at once, and that \
         no heat is lost. The heat capacity of the hydrate comes from Kopp's rule (from memory).{excess} The real rise is \
         usually smaller."
    );
    Note::new("estimate", text)
}

/// No mass of water was given.
pub(super) fn just_enough(water: &Ratio) -> Note {
    let water = grams(water);
    let text = format!(
        "No mass of water was given. The estimate is for just the water that restores the hydrate, {water} g."
    );
    Note::new("just_enough_water", text).with("restoring_water", water)
}

/// Whether water boils at this rise.
pub(super) fn boils(rise: &Ratio) -> bool {
    *rise > Ratio::from(BOILS)
}

/// The estimated rise makes water boil.
pub(super) fn water_boils() -> Note {
    let text = "With so little water, the water can boil and spit hot solid. Boiling water takes up heat, so no rise of \
                temperature is given. Use more water, or add it drop by drop to the cold solid.";
    Note::new("water_boils", text)
}

/// The dry salt reacts violently with water.
pub(super) fn reacts_with_water(salt: &Formula) -> Note {
    let text = format!(
        "Do not add water to dry {salt}. It reacts violently, so no rise of temperature is estimated."
    );
    Note::new("reacts_with_water", text)
}

/// The given water does not restore the hydrate.
pub(super) fn too_little(hydrate: &Formula, given: &Reading, needed: &Ratio) -> Note {
    let needed = grams(needed);
    let text = format!(
        "{given} g of water is too little: all the salt needs {needed} g to become {hydrate}. Lower hydrates form, \
         so no rise of temperature is estimated. The heat is that of the whole hydrate."
    );
    Note::new("too_little_water", text)
        .with("water_mass", given.to_string())
        .with("restoring_water", needed)
}

fn grams(mass: &Ratio) -> alloc::string::String {
    mass.to_figures(4, TieRule::Even).to_string()
}
