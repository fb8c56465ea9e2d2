//! `heat`: the heat that an anhydrous salt gives off when it takes up water.

use effloresce::gravimetry::HeatOfHydration;

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure, Reply};

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["hydrate", "mass", "water_mass"], &options::ENVELOPE])?;
    let weights = options::weights(request)?;
    let (hydrate, notes) = options::formula_or_name(request, "hydrate")?;
    let heat = HeatOfHydration::of(&hydrate, &weights);
    let heat = heat.map_err(|error| Failure::from(error).within("hydrate"))?;
    if request.has("water_mass") && !request.has("mass") {
        let message = "a rise of temperature needs the mass of anhydrous salt";
        return Err(
            Failure::missing("mass", message).help("give `mass`, or leave `water_mass` out")
        );
    }
    let heat = request.set("mass", heat, |heat, value| Ok(heat.mass(value.mass()?)?))?;
    let heat = request.set("water_mass", heat, |heat, value| {
        Ok(heat.water_mass(value.mass()?)?)
    })?;
    Ok(reply::result(heat.with_notes(notes)))
}
