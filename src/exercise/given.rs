//! Values that a prompt gives and a request does not have.

use alloc::string::String;

/// A value that the prompt of a problem gives and its request does not have, because the catalogue has it, such as an
/// enthalpy.
///
/// The program that solves the request takes the same value, as it takes the same atomic weights.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct GivenValue {
    what: String,
    value: String,
    unit: &'static str,
    source: String,
}

impl GivenValue {
    pub(super) fn new(
        what: impl Into<String>,
        value: impl Into<String>,
        unit: &'static str,
        source: impl Into<String>,
    ) -> GivenValue {
        GivenValue {
            what: what.into(),
            value: value.into(),
            unit,
            source: source.into(),
        }
    }

    /// Returns the name of the quantity, with its formula.
    #[must_use]
    pub fn what(&self) -> &str {
        &self.what
    }

    /// Returns the number as the prompt prints it, always with a decimal point.
    #[must_use]
    pub fn value(&self) -> &str {
        &self.value
    }

    /// Returns the unit.
    #[must_use]
    pub fn unit(&self) -> &str {
        self.unit
    }

    /// Returns where the value is from.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.source
    }
}
