//! A package: the test and its items, in a ZIP file.

use alloc::borrow::ToOwned;
use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::Write;

use super::answer_key;
use super::archive::{Archive, MOST_FILES};
use super::entry::EntryAnswer;
use super::error::{Error, ErrorKind, wrong};
use super::identifier::Identifiers;
use super::item::{ItemStyle, ProblemItem};
use super::manifest::{self, PackageFacts};
use super::packaged_item::PackagedItem;
use super::test::{self, TestFacts};
use crate::exercise::{Exercise, ExerciseSet, SetNote, heating_note, weights_note};
use crate::text::visible;

/// The largest number of items. The manifest and the test are there as well.
const MOST_ITEMS: usize = MOST_FILES - 2;

/// Sets of problems as a package of QTI 3.0. A section of the test has the problems of one place, one of each set.
/// They are siblings: a pupil is shown some of them.
///
/// The same sets and choices give the same bytes.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind};
/// use effloresce::qti::{self, Package};
/// let versions = Exercises::new(1).kinds([Kind::PercentWater]).versions(2, 3)?;
/// let package = Package::new(&versions)?.title("Water in salts").select(1)?;
/// let mut zip = Vec::new();
/// package.write(&mut zip)?;
/// assert_eq!(qti::read_items(std::io::Cursor::new(zip))?, package.items());
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Package<'a> {
    sets: &'a [ExerciseSet],
    title: String,
    select: usize,
    with_options: bool,
}

impl<'a> Package<'a> {
    /// Makes a package of versions of a set, or of one set. The sets must be alike place by place: the same kind and
    /// the same level.
    ///
    /// # Errors
    /// Returns an error if there are no problems or more than 10,000, or if the sets are not alike. The error names
    /// the place.
    pub fn new(sets: &'a [ExerciseSet]) -> Result<Package<'a>, Error> {
        let first = sets.first().map_or(&[][..], ExerciseSet::problems);
        Package::check_size(first.len() * sets.len())?;
        for (number, set) in (1..).zip(sets) {
            check_alike(first, number, set.problems())?;
        }
        Ok(Package {
            sets,
            title: "Problems".to_owned(),
            select: 1,
            with_options: false,
        })
    }

    /// Refuses a number of items that no package has, before the sets are made. The items are all problems of all sets.
    ///
    /// ```
    /// use effloresce::qti::Package;
    /// assert!(Package::check_size(26 * 300).is_ok());
    /// assert!(Package::check_size(26 * 10_000).is_err());
    /// ```
    ///
    /// # Errors
    /// Returns an error if the number is zero or more than 10,000.
    pub fn check_size(items: usize) -> Result<(), Error> {
        if (1..=MOST_ITEMS).contains(&items) {
            return Ok(());
        }
        let message = format!("a package cannot have {items} items");
        let help = format!("give sets with 1 to {MOST_ITEMS} problems together");
        Err(wrong(ErrorKind::Sets, message, help))
    }

    /// Sets the title; `Problems` without it, or if it is blank.
    #[must_use]
    pub fn title(mut self, title: impl Into<String>) -> Self {
        let title = title.into();
        if !title.trim().is_empty() {
            self.title = title;
        }
        self
    }

    /// Sets how many siblings of each section a pupil is shown; 1 without it.
    ///
    /// # Errors
    /// Returns an error if it is zero or more than the number of sets.
    pub fn select(mut self, siblings: usize) -> Result<Self, Error> {
        let most = self.sets.len();
        if !(1..=most).contains(&siblings) {
            let message = format!("{siblings} of {most} siblings cannot be selected");
            let help = match most {
                1 => "give 1, or more versions".into(),
                _ => format!("give a number from 1 to {most}, or more versions"),
            };
            return Err(wrong(ErrorKind::Selection, message, help));
        }
        self.select = siblings;
        Ok(self)
    }

    /// Makes a choice of each problem that has options.
    #[must_use]
    pub fn with_options(mut self) -> Self {
        self.with_options = true;
        self
    }

    /// Returns the items as the package describes them, section by section.
    #[must_use]
    pub fn items(&self) -> Vec<PackagedItem> {
        let (_, items) = self.described();
        items.into_iter().map(|(packaged, _)| packaged).collect()
    }

    /// Writes the package, a ZIP file.
    ///
    /// # Errors
    /// Returns an error if `out` fails.
    pub fn write(&self, mut out: impl Write) -> Result<(), Error> {
        let (names, described) = self.described();
        let mut archive = Archive::new();
        let origin = self.origin();
        let (packaged, items): (Vec<PackagedItem>, Vec<ProblemItem<'_>>) =
            described.into_iter().unzip();
        let facts = PackageFacts {
            identifier: &names.package,
            test: &names.test,
            title: &self.title,
            origin: &origin,
        };
        archive.add(manifest::FILE, &manifest::write(&facts, &packaged)?)?;
        let facts = TestFacts {
            identifier: &names.test,
            title: &self.title,
            select: self.select,
            notes: self.notes(),
        };
        archive.add(test::FILE, &test::write(&facts, &packaged)?)?;
        for (packaged, item) in packaged.iter().zip(&items) {
            archive.add(&packaged.file(), &item.write()?)?;
        }
        out.write_all(&archive.finish()?)?;
        out.flush()?;
        Ok(())
    }

    /// Writes the key as CSV: the answers of each item, and the error behind each option and each feedback.
    ///
    /// # Errors
    /// Returns an error if `out` fails.
    pub fn write_key(&self, out: impl Write) -> Result<(), Error> {
        let (_, items) = self.described();
        let items: Vec<ProblemItem<'_>> = items.into_iter().map(|(_, item)| item).collect();
        Ok(answer_key::write(&items, out)?)
    }

    /// The items with their identifiers, section by section.
    fn described(&self) -> (PackageNames, Vec<(PackagedItem, ProblemItem<'a>)>) {
        let mut identifiers = Identifiers::default();
        let mut items = Vec::new();
        let places = self.sets.first().map_or(0, |set| set.problems().len());
        for place in 0..places {
            for set in self.sets {
                let Some(problem) = set.problems().get(place) else {
                    continue;
                };
                let style = ItemStyle {
                    comma: set.exercises().has_decimal_comma(),
                    options: self.with_options,
                };
                let identifier = identifiers.unique(problem.id());
                let item = ProblemItem::of(problem, identifier, style);
                items.push((described(problem, place + 1, &item), item));
            }
        }
        let first = items.first().map_or("", |(_, item)| &*item.identifier);
        let mut name = |what: &str| identifiers.unique(&format!("{what}-{first}"));
        let names = PackageNames {
            package: name("package"),
            test: name("test"),
        };
        (names, items)
    }

    /// What pupils read with the problems: the atomic weights of each table, and cautions if a problem speaks of heating.
    fn notes(&self) -> Vec<SetNote> {
        let mut tables: Vec<Vec<&ExerciseSet>> = Vec::new();
        for set in self.sets {
            let agrees =
                |other: &&ExerciseSet| other.exercises().agrees_on_weights(set.exercises());
            match tables
                .iter_mut()
                .find(|sets| sets.first().is_some_and(agrees))
            {
                Some(sets) => sets.push(set),
                None => tables.push(Vec::from([set])),
            }
        }
        let problems = self.sets.iter().flat_map(ExerciseSet::problems);
        let weights = tables.iter().filter_map(|sets| weights_note(sets));
        weights.chain(heating_note(problems)).collect()
    }

    /// What the sets were made from, each statement once.
    fn origin(&self) -> Vec<(String, String)> {
        let statements = self.sets.iter().flat_map(|set| {
            let generator = ("generator", set.generator().to_string());
            [generator].into_iter().chain(set.exercises().choices())
        });
        let mut known = BTreeSet::new();
        let once = statements.filter(|statement| known.insert(statement.clone()));
        once.map(|(name, text)| (format!("effloresce {name}"), text))
            .collect()
    }
}

/// The identifiers of a package and of its test.
struct PackageNames {
    package: String,
    test: String,
}

/// Refuses a set that is not like the first one, place by place.
fn check_alike(first: &[Exercise], number: usize, problems: &[Exercise]) -> Result<(), Error> {
    let different = |message: String| {
        let help = "give versions of one set, or sets of the same kinds and levels";
        Err(wrong(ErrorKind::Sets, message, help))
    };
    if first.len() != problems.len() {
        let (first, other) = (first.len(), problems.len());
        return different(format!(
            "set {number} has {other} problems, and the first set has {first}"
        ));
    }
    let what = |problem: &Exercise| (problem.kind(), problem.level());
    let pairs = (1..).zip(first.iter().zip(problems));
    for (place, (one, other)) in pairs {
        if what(one) != what(other) {
            let words = |problem: &Exercise| {
                format!("`{}` of level {}", problem.kind(), problem.level().number())
            };
            return different(format!(
                "place {place}: the problem of set {number} is {}, and that of the first set is {}",
                words(other),
                words(one)
            ));
        }
    }
    Ok(())
}

fn described(problem: &Exercise, section: usize, item: &ProblemItem<'_>) -> PackagedItem {
    let is_choice = |answer: &EntryAnswer<'_>| matches!(answer, EntryAnswer::Choice(_));
    let mut answers = item.entries.iter().map(|entry| &entry.answer);
    PackagedItem {
        identifier: item.identifier.clone(),
        section,
        title: visible(&item.title).into_owned(),
        kind: problem.kind(),
        level: problem.level(),
        form: visible(problem.form()).into_owned(),
        skills: problem.skills().to_vec(),
        marks: item.entries.len(),
        is_chosen: answers.clone().any(is_choice),
        is_entered: answers.any(|answer| !is_choice(answer)),
    }
}
