//! A request of the JSON-lines contract: the question of a problem, for anybody who wants to solve it again.

use alloc::string::String;
use alloc::vec::Vec;

use super::error::{Error, ErrorKind};
use super::field::{Field, RequestMembers};
use super::given::GivenValue;
use crate::element::AtomicWeights;

/// An operation of the JSON-lines contract that solves problems.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Operation {
    /// Coefficients of an equation.
    Balance,
    /// A class sheet with what each bench reported.
    Class,
    /// The degree of hydration from readings.
    Dehydration,
    /// An empirical formula from masses.
    Empirical,
    /// A content by a gravimetric factor.
    Factor,
    /// The composition of a formula, its molar mass and its water.
    Formula,
    /// The heat of hydration.
    Heat,
    /// Amounts, limiting reactants, yield.
    Limiting,
    /// A mixture of two components.
    Mixture,
    /// Stages of heating.
    Stages,
}

crate::text::codes! {
    Operation, "operations that solve problems", Error(ErrorKind::UnknownCode);
    Balance => "balance",
    Class => "class",
    Dehydration => "dehydration",
    Empirical => "empirical",
    Factor => "factor",
    Formula => "formula",
    Heat => "heat",
    Limiting => "limiting",
    Mixture => "mixture",
    Stages => "stages",
}

/// A request of the JSON-lines contract that solves a problem, with the numbers as the prompt prints them.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Request {
    operation: Operation,
    fields: Vec<(String, Field)>,
    weights: AtomicWeights,
    given: Vec<GivenValue>,
}

impl Request {
    pub(super) fn new(operation: Operation, weights: &AtomicWeights) -> Request {
        Request {
            operation,
            fields: Vec::new(),
            weights: weights.clone(),
            given: Vec::new(),
        }
    }

    /// Adds a field.
    pub(super) fn with(mut self, name: impl Into<String>, value: impl Into<Field>) -> Request {
        self.fields.push((name.into(), value.into()));
        self
    }

    /// Adds a value that the prompt gives and the operation knows.
    pub(super) fn giving(mut self, value: GivenValue) -> Request {
        self.given.push(value);
        self
    }

    /// Returns the operation.
    #[must_use]
    pub fn operation(&self) -> Operation {
        self.operation
    }

    /// Returns the fields in order, without the operation and the weights.
    #[must_use]
    pub fn fields(&self) -> &[(String, Field)] {
        &self.fields
    }

    /// Returns the atomic weights.
    #[must_use]
    pub fn weights(&self) -> &AtomicWeights {
        &self.weights
    }

    /// Returns the values that the operation takes from the catalogue and that the prompt gives. They are not
    /// serialized with the request.
    #[must_use]
    pub fn given(&self) -> &[GivenValue] {
        &self.given
    }

    pub(super) fn members(&self) -> RequestMembers<'_> {
        RequestMembers::new(&self.fields)
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Request {
    /// Serializes a whole request, with its operation and its weights.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeMap;
        let mut map = serializer.serialize_map(Some(self.fields.len() + 2))?;
        map.serialize_entry("op", &self.operation)?;
        for (name, value) in &self.fields {
            map.serialize_entry(name, value)?;
        }
        map.serialize_entry("weights", &crate::element::StatedWeights(&self.weights))?;
        map.end()
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Request {
    /// Reads a whole request, with its operation. Without weights, it has the default ones.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(RequestVisitor)
    }
}

#[cfg(feature = "serde")]
struct RequestVisitor;

#[cfg(feature = "serde")]
impl<'de> serde::de::Visitor<'de> for RequestVisitor {
    type Value = Request;

    fn expecting(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("a request, as an object")
    }

    fn visit_map<A: serde::de::MapAccess<'de>>(self, mut members: A) -> Result<Request, A::Error> {
        use serde::de::Error as _;
        let mut operation = None;
        let mut weights = None;
        let mut fields: Vec<(String, Field)> = Vec::new();
        while let Some(name) = members.next_key::<String>()? {
            let known = match &*name {
                "op" => operation.replace(members.next_value()?).is_some(),
                "weights" => weights.replace(members.next_value()?).is_some(),
                _ => {
                    let known = fields.iter().any(|(field, _)| *field == name);
                    fields.push((name.clone(), members.next_value()?));
                    known
                }
            };
            if known {
                let message = alloc::format!("`{name}` is given twice (leave one out)");
                return Err(A::Error::custom(message));
            }
        }
        let operation = operation
            .ok_or_else(|| A::Error::custom("`op` is missing (give it, such as \"formula\")"))?;
        Ok(Request {
            operation,
            fields,
            weights: weights.unwrap_or_default(),
            given: Vec::new(),
        })
    }
}
