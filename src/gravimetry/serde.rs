//! Results in the shape of the JSON-lines contract.

use alloc::format;

use serde::ser::{SerializeMap, SerializeStruct};
use serde::{Serialize, Serializer};

use super::advice::{Check, Plateau};
use super::constant_mass::Constancy;
use super::defensible::Defensible;
use super::dehydration::Dehydration;
use super::interval::Interval;
use super::outcome::Candidate;
use super::quantity::Quantity;
use super::sensitivity::Sensitivity;
use crate::number::{Ratio, TieRule};

impl Serialize for Dehydration {
    /// Writes the fields of the JSON-lines contract.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let plain = |value: Option<Ratio>| value.map(|v| v.to_plain());
        let mut out = serializer.serialize_struct("Dehydration", 18)?;
        out.serialize_field("hydrate_mass", &self.hydrate_mass())?;
        out.serialize_field("residue_mass", &self.residue_mass())?;
        out.serialize_field("water_mass", &self.water_mass())?;
        out.serialize_field("percent_water", &self.percent_water().to_plain())?;
        out.serialize_field("mol_salt", &plain(self.mol_salt()))?;
        out.serialize_field("mol_water", &plain(self.mol_water()))?;
        out.serialize_field("ratio", &self.ratio().to_plain())?;
        out.serialize_field("ratio_uncertainty", &self.standard_uncertainty())?;
        out.serialize_field("sensitivity", self.sensitivity())?;
        out.serialize_field("nearest", &format!("{}", self.nearest()))?;
        out.serialize_field("nearest_formula", &self.nearest_formula())?;
        out.serialize_field("outcome", self.outcome().code())?;
        out.serialize_field("formula", &self.outcome().formula())?;
        out.serialize_field("candidates", &self.candidates())?;
        out.serialize_field("constant_mass", &self.constant_mass())?;
        out.serialize_field("defensible", &self.defensible())?;
        out.serialize_field("warnings", &self.warnings())?;
        out.serialize_field("edition", self.edition().year())?;
        out.end()
    }
}

impl Serialize for Sensitivity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Sensitivity", 6)?;
        for (name, value) in [
            ("crucible", self.container()),
            ("crucible_hydrate", self.with_hydrate()),
            ("heated", self.heated()),
            ("hydrate_mass", self.hydrate_mass()),
            ("residue_mass", self.residue_mass()),
            ("percent_water", self.percent_water()),
        ] {
            out.serialize_field(name, &value.map(Ratio::to_plain))?;
        }
        out.end()
    }
}

impl Serialize for Candidate {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Candidate", 5)?;
        out.serialize_field("waters", &format!("{}", self.waters))?;
        out.serialize_field("formula", &self.formula)?;
        out.serialize_field(
            "expected_percent_water",
            &self.expected_percent_water.to_plain(),
        )?;
        out.serialize_field(
            "expected_residue_mass",
            &self.expected_residue_mass.as_ref().map(Ratio::to_plain),
        )?;
        out.serialize_field("z", &self.z)?;
        out.end()
    }
}

impl Serialize for Constancy {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut constancy = serializer.serialize_struct("Constancy", 3)?;
        constancy.serialize_field("reached", &self.reached)?;
        constancy.serialize_field("last_change", &self.last_change)?;
        constancy.serialize_field("criterion", &self.criterion.to_plain())?;
        constancy.end()
    }
}

impl Serialize for Interval {
    /// Writes the pair `[low, high]` in plain decimal notation.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = |value: &Ratio| match self.places {
            Some(places) => {
                let needed = value
                    .exact_decimal_places()
                    .and_then(|p| i32::try_from(p).ok());
                let places = places.max(needed.unwrap_or(0));
                format!("{}", value.to_places(places, TieRule::Even))
            }
            None => value.to_plain(),
        };
        [text(&self.low), text(&self.high)].serialize(serializer)
    }
}

impl Serialize for Defensible {
    /// Writes each quantity with its `[low, high]`, or null.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.intervals.len()))?;
        for (quantity, interval) in Quantity::ALL.iter().zip(&self.intervals) {
            map.serialize_entry(quantity.code(), interval)?;
        }
        map.end()
    }
}

impl Serialize for Check {
    /// Writes the fields of the JSON-lines contract.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Check", 6)?;
        out.serialize_field("advice", self.advice().code())?;
        out.serialize_field("reasons", &self.reasons())?;
        out.serialize_field("expected_last", &self.expected_last().map(Ratio::to_plain))?;
        out.serialize_field("still_to_lose", &self.still_to_lose().map(Ratio::to_plain))?;
        out.serialize_field(
            "plateaus",
            &self.expectation.as_ref().map(|known| &known.plateaus),
        )?;
        out.serialize_field("constant_mass", &self.constant_mass())?;
        out.end()
    }
}

impl Serialize for Plateau {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Plateau", 2)?;
        out.serialize_field("waters", &format!("{}", self.waters()))?;
        out.serialize_field("mass", &self.mass().to_plain())?;
        out.end()
    }
}
