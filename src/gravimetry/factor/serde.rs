//! Gravimetric factors in the shape of the JSON-lines contract.

use alloc::vec::Vec;

use ::serde::{Serialize, Serializer};

use super::content::Content;
use super::gravimetric_factor::GravimetricFactor;
use crate::number::{Budget, Ratio};
use crate::text::{Note, fields};

/// A whole number as a number, or as text if it is too long for one.
struct NumberOrText<'a>(&'a Ratio);

impl Serialize for NumberOrText<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0.to_i128().and_then(|n| u64::try_from(n).ok()) {
            Some(number) => serializer.serialize_u64(number),
            None => serializer.serialize_str(&self.0.to_plain()),
        }
    }
}

/// A factor, and what it gives if a mass was weighed.
struct FactorAnswer<'a> {
    factor: &'a GravimetricFactor,
    content: Option<&'a Content>,
    warnings: Vec<Note>,
}

fields!(FactorAnswer<'_>, it, {
    "sought_per_weighed": it.factor.sought_per_weighed().iter().map(NumberOrText).collect::<Vec<_>>(),
    "factor": it.factor.value().to_plain(),
    "factor_uncertainty": it.factor.standard_uncertainty(),
    "sought_mass": it.content.map(|content| content.sought_mass().to_plain()),
    "sought_mass_uncertainty": it.content.map(|content| content.mass_budget().standard_uncertainty()),
    "percent": it.content.and_then(Content::percent).map(Ratio::to_plain),
    "percent_uncertainty":
        it.content.and_then(Content::percent_budget).as_ref().map(Budget::standard_uncertainty),
    "warnings": &it.warnings,
    "edition": it.factor.edition(),
});

impl Serialize for GravimetricFactor {
    /// Writes the factor. The fields of a content are null.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let answer = FactorAnswer {
            factor: self,
            content: None,
            warnings: self.notes().to_vec(),
        };
        answer.serialize(serializer)
    }
}

impl Serialize for Content {
    /// Writes the content with its factor.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let answer = FactorAnswer {
            factor: self.factor(),
            content: Some(self),
            warnings: self.warnings(),
        };
        answer.serialize(serializer)
    }
}
