//! A heat of hydration in the shape of the JSON-lines contract.

use super::heat_of_hydration::HeatOfHydration;
use crate::number::{Ratio, TieRule};
use crate::text::fields;

fields!(HeatOfHydration, it, {
    "equation": it.equation(),
    "enthalpy": it.enthalpy().map(Ratio::to_plain),
    "heat": it.heat().map(|heat| heat.to_plain()),
    "restoring_water": it.restoring_water().map(|mass| mass.to_plain()),
    "temperature_rise": it.temperature_rise().map(|rise| {
        rise.to_figures(2, TieRule::Even).value().to_plain()
    }),
    "source": it.source(),
    "notes": it.notes(),
    "cautions": it.cautions(),
    "edition": it.edition(),
});
