//! Amounts in the shape of the JSON-lines contract.

use alloc::vec::Vec;

use ::serde::ser::SerializeStruct;
use ::serde::{Serialize, Serializer};

use super::reacted::{Reacted, SpeciesAmount};
use crate::number::Ratio;
use crate::reaction::equation::Side;

impl Serialize for Reacted {
    /// In the shape of the JSON-lines contract.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Reacted", 5)?;
        let limiting: Vec<_> = self.limiting().map(SpeciesAmount::name).collect();
        out.serialize_field("limiting", &limiting)?;
        out.serialize_field("extent", &self.extent().amount().to_plain())?;
        out.serialize_field("species", self.species())?;
        let percent = self.percent_yield().map(|y| y.percent().to_plain());
        out.serialize_field("percent_yield", &percent)?;
        out.serialize_field("warnings", self.warnings())?;
        out.end()
    }
}

impl Serialize for SpeciesAmount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("SpeciesAmount", 8)?;
        out.serialize_field("species", &self.name())?;
        let role = match self.side() {
            Side::Reactants => "reactant",
            Side::Products => "product",
        };
        out.serialize_field("role", role)?;
        for (name, value) in [
            ("mol_initial", self.mol_initial()),
            ("mol_final", self.mol_final()),
            ("mass_initial", self.mass_initial()),
            ("mass_final", self.mass_final()),
            ("mol_change", Some(self.mol_change())),
            ("mass_change", Some(self.mass_change())),
        ] {
            out.serialize_field(name, &value.map(Ratio::to_plain))?;
        }
        out.end()
    }
}
