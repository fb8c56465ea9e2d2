//! A mixture in the shape of the JSON-lines contract.

use super::two_parts::Mixture;
use crate::number::Ratio;
use crate::text::fields;

fields!(Mixture, it, {
    "fractions": it.fractions().each_ref().map(Ratio::to_plain),
    "uncertainty": it.standard_uncertainty(),
    "masses": it.masses().map(|masses| masses.map(|mass| Ratio::to_plain(&mass))),
    "hazard": it.severity(),
    "cautions": it.cautions(),
    "warnings": it.warnings(),
    "edition": it.edition(),
});
