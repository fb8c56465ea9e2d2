//! An empirical formula in serialised data, in the shape of the JSON-lines contract.

use serde::{Serialize, Serializer};

use super::constituent::Constituent;
use super::outcome::Empirical;
use crate::text::fields;

/// The ratios by part, in order.
struct Ratios<'a>(&'a [Constituent]);

impl Serialize for Ratios<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let parts = self.0.iter();
        serializer.collect_map(parts.map(|part| (part.formula(), part.ratio().to_plain())))
    }
}

fields!(Empirical, it, {
    "ratios": Ratios(it.constituents()),
    "formula": it.formula(),
    "multiplier": it.multiplier(),
    "molecular_formula": it.molecular_formula(),
    "residual": it.residual().map(|residual| residual.to_plain()),
    "warnings": it.warnings(),
});
