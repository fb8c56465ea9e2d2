//! A fact together with the publication that supports it.

use super::source::Source;

/// A fact with the publication that supports it.
///
/// ```
/// use effloresce::gravimetry::salt_facts;
/// let copper = salt_facts(&"CuSO4".parse()?).unwrap();
/// let enthalpy = copper.enthalpy_of_formation(&"5".parse().unwrap()).unwrap();
/// assert_eq!(enthalpy.value().to_string(), "-2279.65");
/// assert!(enthalpy.source().contains("NBS tables") && !enthalpy.is_from_memory());
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Sourced<T> {
    value: T,
    source: Source,
}

impl<T> Sourced<T> {
    pub(super) const fn new(value: T, source: Source) -> Sourced<T> {
        Sourced { value, source }
    }

    /// Returns the fact.
    pub const fn value(&self) -> &T {
        &self.value
    }

    /// Returns the publication, or the words that there is none.
    pub const fn source(&self) -> &'static str {
        self.source.publication()
    }

    /// Returns true if the fact was recalled, or is common practice, and no publication was read.
    pub const fn is_from_memory(&self) -> bool {
        self.source.is_from_memory()
    }
}
