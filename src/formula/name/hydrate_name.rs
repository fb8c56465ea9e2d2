//! The name of a salt or hydrate in two forms.

use alloc::string::String;
use alloc::vec::Vec;

use crate::formula::repr::Formula;
use crate::text::Note;

/// The name of a salt or of its hydrate, in two forms.
///
/// ```
/// use effloresce::Formula;
/// let hydrate: Formula = "CoCl2·6H2O".parse()?;
/// let name = hydrate.name()?;
/// assert_eq!(name.name(), "cobalt(II) chloride hexahydrate");
/// assert_eq!(name.systematic(), "cobalt(II) chloride—water (1/6)");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct HydrateName {
    pub(super) formula: Formula,
    pub(super) name: String,
    pub(super) systematic: String,
    pub(super) notes: Vec<Note>,
}

impl HydrateName {
    /// Returns the formula that is named.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Returns the compositional name, with the degree of hydration as a prefix: `calcium sulfate
    /// hemihydrate`.
    ///
    /// If the formula begins with a count, as in `3CdSO4·8H2O`, or has other parts than a salt and
    /// water, this is the systematic name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Returns the name as an adduct: the components and their proportions in whole numbers, such
    /// as `calcium sulfate—water (2/1)`. For an anhydrous salt, this is the compositional name.
    #[must_use]
    pub fn systematic(&self) -> &str {
        &self.systematic
    }

    /// Returns what was noted when a name was read.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Adds the notes of [`Formula::from_name`].
    #[must_use]
    pub fn with_notes(mut self, notes: Vec<Note>) -> Self {
        self.notes = notes;
        self
    }
}

impl core::fmt::Display for HydrateName {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(&self.name)
    }
}
