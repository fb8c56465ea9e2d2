//! Names of ionic salts and their hydrates, both ways.

mod ions;
mod likely;
mod numbers;
mod read;
mod read_salt;
mod salt;
#[cfg(test)]
mod tests;
mod words;
mod write;

use alloc::string::String;
use alloc::vec::Vec;

use super::{Error, Formula};
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
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HydrateName {
    formula: Formula,
    name: String,
    systematic: String,
    notes: Vec<Note>,
}

impl HydrateName {
    /// The formula that is named.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// The compositional name with the degree as a prefix: `calcium sulfate hemihydrate`. Where
    /// the formula begins with a count, as in `3CdSO4·8H2O`, or joins more than a salt and
    /// water, the systematic name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The name as an adduct, components and their proportions in whole numbers:
    /// `calcium sulfate—water (2/1)`. Of an anhydrous salt the name itself.
    #[must_use]
    pub fn systematic(&self) -> &str {
        &self.systematic
    }

    /// What was noted when a name was read.
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

#[cfg(feature = "serde")]
impl serde::Serialize for HydrateName {
    /// In the shape of the JSON-lines contract.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        let mut name = serializer.serialize_struct("HydrateName", 4)?;
        name.serialize_field("formula", &self.formula)?;
        name.serialize_field("name", &self.name)?;
        name.serialize_field("systematic", &self.systematic)?;
        name.serialize_field("notes", &self.notes)?;
        name.end()
    }
}

impl Formula {
    /// Reads the name of an ionic salt, of its hydrate, or of an adduct of salts and a few
    /// molecules.
    ///
    /// Read are compositional names (`cobalt(II) chloride hexahydrate`, `calcium sulfate
    /// 0.5-hydrate`, `copper(II) sulfate-5-water`), adducts with their proportions (`sodium
    /// sulfate—water (1/10)`), metals with bound water (`hexaaquanickel(II) chloride`), and a few
    /// names of the trade. Cations keep the order in which they are named. Charges must cancel; a
    /// metal with several common ions needs its charge in Roman digits.
    ///
    /// The notes are `old_name` (`ferric`, `bicarbonate`), `other_name` (`aluminum`,
    /// `sulphate`, `ethanoate`), `trivial_name` (`potassium alum`), `bare_number` (`copper II
    /// sulfate`), `simplest_ratio` (two cations, whose ratio the name does not say, in a salt of which
    /// only the simplest is common) and `open_degree` (`hydrate`, without a number, which is read as `xH2O`).
    ///
    /// # Errors
    /// `bad_name` where a word is not known, a charge is missing or impossible, or the name
    /// leaves the formula open; `too_large` where the text is longer than any name.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let (alum, notes) = Formula::from_name("potassium aluminium sulfate dodecahydrate")?;
    /// assert_eq!(alum.to_string(), "KAl(SO4)2·12H2O");
    /// assert_eq!(notes[0].code(), "simplest_ratio");
    ///
    /// let error = Formula::from_name("cobalt chloride").unwrap_err();
    /// assert_eq!(error.to_string(), "`cobalt` forms several ions: cobalt(II) and cobalt(III)");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn from_name(text: &str) -> Result<(Formula, Vec<Note>), Error> {
        read::read(text)
    }

    /// The name of a salt or of its hydrate, by the IUPAC recommendations of 2005, cations in
    /// alphabetical order.
    ///
    /// # Errors
    /// `bad_name` where the formula cannot be named from the table of ions: complexes, ions by
    /// themselves, salts with several anions, and what can be read as two salts.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let gypsum: Formula = "CaSO4·2H2O".parse()?;
    /// assert_eq!(gypsum.name()?.to_string(), "calcium sulfate dihydrate");
    /// let isomer: Formula = "[Cr(H2O)4Cl2]Cl·2H2O".parse()?;
    /// assert_eq!(isomer.name().unwrap_err().code(), "bad_name");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn name(&self) -> Result<HydrateName, Error> {
        write::name(self)
    }
}

impl core::fmt::Display for HydrateName {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(&self.name)
    }
}
