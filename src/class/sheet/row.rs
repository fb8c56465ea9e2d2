//! A row of a sheet, and what was reported in it.

use alloc::boxed::Box;
use alloc::string::String;
use alloc::vec::Vec;

use super::cell;
use super::extra_cells::ExtraCells;
use super::issued::read_issued;
use super::problem::{Problem, ProblemKind};
use super::row_words::{RowWord, RowWords};
use crate::formula::{self, Formula};
use crate::gravimetry::{Net, Quantity};
use crate::number::{DecimalMark, Reading, Unit};
use crate::text::Note;

/// One row of a class sheet: a bench, its readings, and what one pupil or group reported.
///
/// Names and words are as they were written, on one line. [`visible`](crate::visible) shows one on a
/// terminal or a page.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Row {
    pub(super) line: u64,
    pub(super) words: RowWords,
    /// False if the cell was blank, so that the bench only says the line.
    pub(super) named: bool,
    pub(super) readings: RowReadings,
    pub(super) readability: Option<Reading>,
    pub(super) stand_in: bool,
    pub(super) absent: bool,
    pub(super) has_readings: bool,
    pub(super) readings_unreadable: bool,
    pub(super) reported: Vec<Reported>,
    pub(super) extra: ExtraCells,
}

/// The readings of one row.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub(super) struct RowReadings {
    pub(super) crucible: Option<Reading>,
    pub(super) crucible_hydrate: Option<Reading>,
    pub(super) heated: Vec<Reading>,
    /// Whether weighings up to one that cannot be read are left out of them.
    pub(super) heated_cut: bool,
    pub(super) unreadable_heating: Option<Box<UnreadableHeating>>,
    pub(super) hydrate_mass: Option<Reading>,
    pub(super) residue_mass: Option<Reading>,
    pub(super) net: Net,
    pub(super) percent_water: Option<Reading>,
}

/// The first weighing after heating that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(in crate::class) struct UnreadableHeating {
    /// The weighings after heating before it.
    pub(in crate::class) before: Vec<Reading>,
    pub(in crate::class) column: String,
    pub(in crate::class) cell: String,
}

impl Row {
    fn word(&self, word: RowWord) -> Option<&str> {
        Some(self.words.get(word)).filter(|words| !words.is_empty())
    }

    /// Returns a row to read into.
    pub(super) fn blank() -> Row {
        Row {
            line: 0,
            words: RowWords::default(),
            named: false,
            readings: RowReadings::default(),
            readability: None,
            stand_in: false,
            absent: false,
            has_readings: false,
            readings_unreadable: false,
            reported: Vec::new(),
            extra: ExtraCells::default(),
        }
    }

    /// Returns the line of the file, counted from 1, on which the row starts.
    #[must_use]
    pub fn line(&self) -> u64 {
        self.line
    }

    /// Returns the bench: `line` and its number if the cell is blank, which is a problem of the
    /// sheet.
    #[must_use]
    pub fn bench(&self) -> &str {
        self.words.get(RowWord::Bench)
    }

    /// Returns the pupil.
    #[must_use]
    pub fn pupil(&self) -> Option<&str> {
        self.word(RowWord::Pupil)
    }

    /// Returns the balance that was used.
    #[must_use]
    pub fn balance(&self) -> Option<&str> {
        self.word(RowWord::Balance)
    }

    /// Returns the period.
    #[must_use]
    pub fn period(&self) -> Option<&str> {
        self.word(RowWord::Period)
    }

    /// Returns what was issued to this bench, as written: a formula or a name.
    #[must_use]
    pub fn issued(&self) -> Option<&str> {
        self.word(RowWord::Issued)
    }

    /// Returns the formula that was issued to this bench, from its formula or its name; `None` if the cell
    /// is blank.
    ///
    /// # Errors
    /// Returns the error of the formula if the text is neither a formula nor the name of an ionic hydrate.
    ///
    /// ```
    /// use effloresce::class::Sheet;
    /// let text = "bench,issued,hydrate_g,residue_g\nHeron,barium chloride dihydrate,2.443,2.082\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let issued = sheet.rows()[0].issued_formula().unwrap()?;
    /// assert_eq!(issued.to_string(), "BaCl2·2H2O");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn issued_formula(&self) -> Option<Result<Formula, formula::Error>> {
        Some(read_issued(self.issued()?).map(|(issued, _)| issued))
    }

    /// Reads what was issued from its formula or from the name of an ionic hydrate, with notes.
    ///
    /// A name may leave out the charge of its metal if only one known hydrate can be meant. That has the
    /// note `assumed_charge`, as well as the notes of [`Formula::read`] and [`Formula::from_name`].
    ///
    /// # Errors
    /// Returns the error of the name if the text is words only, otherwise that of the formula. The help of
    /// a name with several meanings lists the known hydrates that it may mean. Two hydrates at once are
    /// `ambiguous_notation`.
    ///
    /// ```
    /// use effloresce::class::Row;
    /// let (issued, notes) = Row::read_issued("copper sulphate pentahydrate")?;
    /// assert_eq!(issued.to_string(), "CuSO4·5H2O");
    /// assert_eq!(notes.last().map(|note| note.code()), Some("assumed_charge"));
    /// assert_eq!(Row::read_issued("CuSO4.5H2O")?.0, issued);
    /// let error = Row::read_issued("cobalt chloride").unwrap_err();
    /// assert_eq!(
    ///     error.help(),
    ///     Some("write which one you mean: CoCl2·H2O, CoCl2·2H2O or CoCl2·6H2O"),
    /// );
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn read_issued(text: &str) -> Result<(Formula, Vec<Note>), formula::Error> {
        read_issued(text)
    }

    /// Returns the teacher's own remark: the text in the column `notes`.
    #[must_use]
    pub fn notes(&self) -> Option<&str> {
        self.word(RowWord::Notes)
    }

    /// Returns the mass of the empty crucible, in grams.
    #[must_use]
    pub fn crucible(&self) -> Option<Reading> {
        self.readings.crucible
    }

    /// Returns the mass of the crucible with the hydrate, in grams.
    #[must_use]
    pub fn crucible_hydrate(&self) -> Option<Reading> {
        self.readings.crucible_hydrate
    }

    /// Returns the masses of the crucible with the residue after each heating, in grams, in order.
    ///
    /// Cells left blank or not readable are left out. If a heating cannot be read and later ones
    /// can, those before it are left out too: two weighings that did not follow one another show
    /// nothing about constant mass.
    #[must_use]
    pub fn heated(&self) -> &[Reading] {
        &self.readings.heated
    }

    /// Returns the first weighing after heating that cannot be read.
    pub(in crate::class) fn unreadable_heating(&self) -> Option<&UnreadableHeating> {
        self.readings.unreadable_heating.as_deref()
    }

    /// Returns the net mass of hydrate, in grams.
    #[must_use]
    pub fn hydrate_mass(&self) -> Option<Reading> {
        self.readings.hydrate_mass
    }

    /// Returns the net mass of residue, in grams.
    #[must_use]
    pub fn residue_mass(&self) -> Option<Reading> {
        self.readings.residue_mass
    }

    /// Returns how the net masses were weighed: in a sheet that was read, on a tared balance.
    #[must_use]
    pub fn net(&self) -> Net {
        self.readings.net
    }

    /// Returns the mass fraction of water, in per cent, if the bench gives nothing else. A sheet
    /// that was read has none.
    #[must_use]
    pub fn percent_water(&self) -> Option<Reading> {
        self.readings.percent_water
    }

    /// Returns the readability that the row itself gives, in grams. See [`Sheet::readability`] for
    /// the one to use.
    ///
    /// [`Sheet::readability`]: super::Sheet::readability
    #[must_use]
    pub fn readability(&self) -> Option<Reading> {
        self.readability
    }

    /// Returns whether the row says in `stand_in` that nobody weighed its readings, which were made
    /// for somebody who was absent. See [`Sheet::stand_in`] for rows that share them.
    ///
    /// [`Sheet::stand_in`]: super::Sheet::stand_in
    #[must_use]
    pub fn stand_in(&self) -> bool {
        self.stand_in
    }

    /// Returns whether the row says that its pupil or its bench was absent: it has no readings and
    /// reports nothing, and the word `absent` is in one of its cells. The names of bench, pupil,
    /// balance and period do not count.
    #[must_use]
    pub fn absent(&self) -> bool {
        self.absent
    }

    /// Returns whether this row has any weighing or net mass, readable or not.
    #[must_use]
    pub fn has_readings(&self) -> bool {
        self.has_readings
    }

    /// Returns whether the row cannot be worked out because a weighing or net mass cannot be read,
    /// or may be under the wrong header. A heating that cannot be read does not count if the last
    /// one can.
    #[must_use]
    pub fn readings_unreadable(&self) -> bool {
        self.readings_unreadable
    }

    /// Returns what was reported: one value for each `reported_…` column of the sheet, in the order
    /// of [`Quantity::ALL`].
    #[must_use]
    pub fn reported(&self) -> &[Reported] {
        &self.reported
    }

    /// Returns the header and the text of each cell in a column that has no meaning here, without
    /// the blank ones.
    pub fn extra(&self) -> impl Iterator<Item = (&str, &str)> {
        self.extra.iter()
    }

    /// Returns a problem of the row in this column.
    pub(in crate::class) fn problem(&self, column: &str, kind: &ProblemKind) -> Problem {
        let cell = kind.text().unwrap_or_default();
        Problem::new(self.line, column.into(), self.bench(), cell, kind)
    }

    /// Returns every mass that a balance showed.
    pub(super) fn masses(&self) -> impl Iterator<Item = &Reading> {
        [
            &self.readings.crucible,
            &self.readings.crucible_hydrate,
            &self.readings.hydrate_mass,
            &self.readings.residue_mass,
        ]
        .into_iter()
        .flatten()
        .chain(&self.readings.heated)
    }
}

/// The value that one row reports for one quantity.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Reported {
    pub(super) quantity: Quantity,
    pub(super) text: String,
    pub(super) value: ReportedValue,
}

impl Reported {
    pub(super) fn none(quantity: Quantity) -> Reported {
        Reported {
            quantity,
            text: String::new(),
            value: ReportedValue::Missing,
        }
    }

    /// Returns the quantity.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        self.quantity
    }

    /// Returns the cell as it was written, without the blanks around it: empty if nothing was
    /// reported.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Returns whether a mole ratio is written as a pair, whose sides may be in either order.
    pub(in crate::class) fn is_pair(&self) -> bool {
        cell::is_pair(&self.text)
    }

    /// Returns what the cell says.
    #[must_use]
    pub fn value(&self) -> &ReportedValue {
        &self.value
    }
}

/// The meaning of a reported cell.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ReportedValue {
    /// Blank, a dash, or a word for an answer that the pupil does not have, such as `idk` or `none`.
    Missing,
    /// A number in the unit of its quantity, or the x of a pair `1 : x` or `x : 1`.
    Number(Reading),
    /// A mole ratio of whole numbers such as `8/3`, `½` or `3 : 8`: the numerator and the denominator.
    WholeRatio(Reading, u16),
    /// A formula, not yet read as chemistry: see [`Reported::text`].
    Formula,
    /// Something that is not a number, or may be under the wrong header. A problem of the sheet
    /// says what it is.
    Unreadable,
}

impl ReportedValue {
    /// Reads a cell of a quantity that is given in this unit. Without a unit, the cell is a
    /// formula.
    #[inline]
    pub(super) fn read(
        text: &str,
        unit: Option<Unit>,
        mark: DecimalMark,
    ) -> Result<ReportedValue, Box<ProblemKind>> {
        match unit {
            _ if text.is_empty() => Ok(ReportedValue::Missing),
            None => Ok(ReportedValue::Formula),
            Some(unit) => match cell::answer(text, unit, mark) {
                Err(problem) if unit == Unit::One => match cell::whole_ratio(text) {
                    Some((number, 1)) => Ok(ReportedValue::Number(number)),
                    Some((number, of)) => Ok(ReportedValue::WholeRatio(number, of)),
                    None => Err(problem),
                },
                answer => answer.map(ReportedValue::Number),
            },
        }
    }
}
