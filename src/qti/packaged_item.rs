//! What a package says of an item.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::exercise::{Kind, Level, Skill};

/// An item of a package, as the package describes it.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind};
/// use effloresce::qti::Package;
/// let versions = Exercises::new(7).kinds([Kind::PercentWater]).versions(2, 3)?;
/// let items = Package::new(&versions)?.items();
/// assert_eq!(items.len(), 6);
/// assert_eq!((items[1].identifier(), items[1].section()), ("percent_water-7-1-B", 1));
/// assert_eq!((items[1].kind(), items[1].form()), (Kind::PercentWater, versions[1].problems()[0].form()));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct PackagedItem {
    pub(super) identifier: String,
    pub(super) section: usize,
    pub(super) title: String,
    pub(super) kind: Kind,
    pub(super) level: Level,
    pub(super) form: String,
    pub(super) skills: Vec<Skill>,
    pub(super) marks: usize,
    /// Whether something is chosen.
    pub(super) is_chosen: bool,
    /// Whether something is entered.
    pub(super) is_entered: bool,
}

impl PackagedItem {
    /// Returns the identifier. No other item of the package has it.
    #[must_use]
    pub fn identifier(&self) -> &str {
        &self.identifier
    }

    /// Returns the number of the section of the test, from 1 on. The items of a section are siblings.
    #[must_use]
    pub fn section(&self) -> usize {
        self.section
    }

    /// Returns the title.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Returns the kind of problem.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// Returns the level.
    #[must_use]
    pub fn level(&self) -> Level {
        self.level
    }

    /// Returns the code of the wording.
    #[must_use]
    pub fn form(&self) -> &str {
        &self.form
    }

    /// Returns what the problem practises.
    #[must_use]
    pub fn skills(&self) -> &[Skill] {
        &self.skills
    }

    /// Returns the number of entries. Each earns one mark.
    #[must_use]
    pub fn marks(&self) -> usize {
        self.marks
    }

    /// The name of the file of the item in the package.
    pub(super) fn file(&self) -> String {
        format!("items/{}.xml", self.identifier)
    }
}
