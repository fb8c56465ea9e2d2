//! Values that a prompt gives and a request does not have.

use alloc::borrow::Cow;
use alloc::string::String;

/// A value that the prompt of a problem gives and its request does not have, because the catalogue has it, such as an
/// enthalpy.
///
/// The program that solves the request takes the same value, as it takes the same atomic weights.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind, Level};
/// let heats = Exercises::new(1).kinds([Kind::Heat]).level(Level::Judgement);
/// for problem in heats.set(10)?.problems() {
///     for given in problem.request().given() {
///         // The prompt has a minus sign, the value a hyphen.
///         let value = given.value().replace('-', "−");
///         assert!(problem.prompt().contains(&format!("{value}\u{a0}{}", given.unit())));
///     }
/// }
/// # Ok::<(), effloresce::exercise::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct GivenValue {
    what: String,
    value: String,
    unit: Cow<'static, str>,
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
            unit: Cow::Borrowed(unit),
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
        &self.unit
    }

    /// Returns where the value is from.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.source
    }
}

#[cfg(feature = "serde")]
crate::text::given! {
    #[derive(Default)]
    struct ValueFields {
        "what" => what: String,
        "value" => value: String,
        "unit" => unit: String,
        "source" => source: String,
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for GivenValue {
    /// Reads a value that was saved. Every field may be left out.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let fields = ValueFields::deserialize(deserializer)?;
        Ok(GivenValue {
            what: fields.what,
            value: fields.value,
            unit: fields.unit.into(),
            source: fields.source,
        })
    }
}
