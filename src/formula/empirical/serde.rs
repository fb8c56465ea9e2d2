//! An empirical formula in serialised data, in the shape of the JSON-lines contract.

use serde::ser::{SerializeMap, SerializeStruct};
use serde::{Serialize, Serializer};

use super::constituent::Constituent;
use super::outcome::Empirical;

/// The ratios by part, in order.
struct Ratios<'a>(&'a [Constituent]);

impl Serialize for Ratios<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for part in self.0 {
            map.serialize_entry(part.formula(), &part.ratio().to_plain())?;
        }
        map.end()
    }
}

impl Serialize for Empirical {
    /// Writes the shape of the JSON-lines contract.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Empirical", 6)?;
        out.serialize_field("ratios", &Ratios(self.constituents()))?;
        out.serialize_field("formula", &self.formula())?;
        out.serialize_field("multiplier", &self.multiplier())?;
        out.serialize_field("molecular_formula", &self.molecular_formula())?;
        let residual = self.residual().map(|residual| residual.to_plain());
        out.serialize_field("residual", &residual)?;
        out.serialize_field("warnings", self.warnings())?;
        out.end()
    }
}
