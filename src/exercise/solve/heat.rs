//! `heat`: the heat that an anhydrous salt gives off when it takes up water.

use super::solved::{Pointer, Solved};
use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::gravimetry::HeatOfHydration;
use crate::number::TieRule;

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    request.only(&["hydrate", "mass", "water_mass"])?;
    let mut heat = HeatOfHydration::of(&request.formula("hydrate")?, weights)?;
    if let Some(grams) = request.optional_reading("mass")? {
        heat = heat.mass(grams)?;
    }
    if let Some(grams) = request.optional_reading("water_mass")? {
        if request.get("mass").is_none() {
            let help = "give the mass of anhydrous salt, or leave `water_mass` out";
            return Err(request.wrong("mass", "is missing", help));
        }
        heat = heat.water_mass(grams)?;
    }
    let number = match pointer.steps() {
        ["equation"] => return Ok(Some(Solved::Text(heat.equation()))),
        ["enthalpy"] => heat.enthalpy().cloned(),
        ["heat"] => heat.heat(),
        ["restoring_water"] => heat.restoring_water(),
        // The result has this estimate with two significant figures.
        ["temperature_rise"] => {
            let rise = heat.temperature_rise();
            rise.map(|rise| rise.to_figures(2, TieRule::Even).value())
        }
        _ => None,
    };
    Ok(number.map(Solved::Number))
}
