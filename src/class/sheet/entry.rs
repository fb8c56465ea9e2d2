//! A class made in code: entries in place of the rows of a file.

use alloc::boxed::Box;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::cell;
use super::cell_text::shown;
use super::class_sheet::Sheet;
use super::columns::SheetColumn;
use super::extra_cells::ExtraCells;
use super::limits::LONGEST_CELL;
use super::parse_row::name_by_line;
use super::problem::{Problem, ProblemKind};
use super::row::{Reported, ReportedValue, Row, RowReadings};
use super::row_words::{RowWord, RowWords};
use crate::gravimetry::{Quantity, Weighings, WeighingsForm};
use crate::number::{DecimalMark, Reading};
use crate::text::one_line;

/// A row of a class sheet, made in code: what one bench, or one pupil of it, hands in.
///
/// An entry without weighings shares those of another entry with the same bench and period, as in a
/// [`Sheet`] that was read. Blank text means that nothing is given.
///
/// ```
/// use effloresce::class::{Entry, Marker, Sheet, Verdict};
/// use effloresce::gravimetry::{Method, Net, Quantity, Weighings};
/// let net = Weighings::net("2.666".parse()?, "1.303".parse()?, Net::Tared);
/// let sheet = Sheet::of([
///     Entry::new("Heron").weighings(net).reported(Quantity::Ratio, "1 : 6.99"),
///     Entry::new("Heron").pupil("b").reported(Quantity::Ratio, "0.1431"),
/// ]);
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let verdict = |row: usize| marked.rows()[row].answers()[0].verdict();
/// assert_eq!((verdict(0), verdict(1)), (Verdict::Correct, Verdict::Slip));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Entry {
    pub(in crate::class) bench: String,
    pub(in crate::class) pupil: String,
    pub(in crate::class) balance: String,
    pub(in crate::class) period: String,
    pub(in crate::class) issued: String,
    pub(in crate::class) weighings: Option<Weighings>,
    pub(in crate::class) readability: Option<Reading>,
    pub(in crate::class) stand_in: bool,
    pub(in crate::class) reported: Vec<(Reported, Option<Box<ProblemKind>>)>,
}

/// Returns words on one line, and nothing for a blank or a dash.
fn words(text: &str) -> String {
    cell::not_blank(text).map(one_line).unwrap_or_default()
}

impl Entry {
    /// Makes an entry of this bench, with nothing in it yet.
    #[must_use]
    pub fn new(bench: impl AsRef<str>) -> Self {
        Entry {
            bench: words(bench.as_ref()),
            ..Entry::default()
        }
    }

    /// Gives an entry without a bench the name of its line. An entry by itself shares no readings,
    /// so it needs no name of a bench.
    pub(in crate::class) fn with_name(mut self) -> Self {
        if self.bench.is_empty() {
            self.bench = name_by_line(1);
        }
        self
    }

    /// Sets the pupil.
    #[must_use]
    pub fn pupil(mut self, name: impl AsRef<str>) -> Self {
        self.pupil = words(name.as_ref());
        self
    }

    /// Sets the balance that was used. Entries of one balance share its readability.
    #[must_use]
    pub fn balance(mut self, name: impl AsRef<str>) -> Self {
        self.balance = words(name.as_ref());
        self
    }

    /// Sets the period. Benches of different periods are different.
    #[must_use]
    pub fn period(mut self, name: impl AsRef<str>) -> Self {
        self.period = words(name.as_ref());
        self
    }

    /// Sets what was issued to this bench, if the class was issued another hydrate: a formula or a name.
    #[must_use]
    pub fn issued(mut self, formula: impl AsRef<str>) -> Self {
        self.issued = words(formula.as_ref());
        self
    }

    /// Sets the bench's readings, in any of their forms: grams, or per cent of water.
    #[must_use]
    pub fn weighings(mut self, weighings: Weighings) -> Self {
        self.weighings = Some(weighings);
        self
    }

    /// Sets the smallest step of the balance, in grams. One that is not positive is a problem of
    /// the [`Sheet`] and does not count.
    #[must_use]
    pub fn readability(mut self, step: Reading) -> Self {
        self.readability = Some(step);
        self
    }

    /// Sets whether nobody weighed the readings, which were made for somebody who was absent.
    #[must_use]
    pub fn stand_in(mut self, stand_in: bool) -> Self {
        self.stand_in = stand_in;
        self
    }

    /// Sets what was reported for a quantity, as it was written: a number with a decimal point,
    /// with or without its unit, for the ratio also `1 : 6.99`. A blank or a dash is asked for and
    /// missing. Of two values for one quantity the last counts.
    #[must_use]
    pub fn reported(mut self, quantity: Quantity, text: impl AsRef<str>) -> Self {
        let known = |text: &&str| !cell::says_missing(text) && !cell::says_unknown(text);
        let text = cell::not_blank(text.as_ref())
            .filter(known)
            .unwrap_or_default();
        let unit = cell::unit_of(quantity);
        let long = text.len() > LONGEST_CELL;
        let read = if long {
            Err(Box::new(ProblemKind::LongCell))
        } else {
            ReportedValue::read(text, unit, DecimalMark::Point)
        };
        let (value, problem) = match read {
            Ok(value) => (value, None),
            Err(kind) => (ReportedValue::Unreadable, Some(kind)),
        };
        let text = if long { shown(text) } else { text.to_string() };
        let reported = Reported {
            quantity,
            text,
            value,
        };
        self.reported
            .retain(|(other, _)| other.quantity != quantity);
        self.reported.push((reported, problem));
        // Answers are marked in the order in which they are worked out.
        self.reported.sort_by_key(|(reported, _)| reported.quantity);
        self
    }

    /// Returns the reported values that cannot be read as numbers, each with what is wrong and how
    /// to correct it, in English.
    ///
    /// ```
    /// use effloresce::class::Entry;
    /// use effloresce::gravimetry::Quantity;
    /// let entry = Entry::new("Heron").reported(Quantity::WaterMass, "1,363");
    /// let (quantity, message) = entry.unreadable().next().unwrap();
    /// assert_eq!(quantity, Quantity::WaterMass);
    /// assert!(message.contains("`1,363`"));
    /// ```
    pub fn unreadable(&self) -> impl Iterator<Item = (Quantity, String)> {
        self.reported.iter().filter_map(|(reported, kind)| {
            let message = kind.as_ref()?.message(&shown(&reported.text));
            Some((reported.quantity, message))
        })
    }

    /// Returns the row with this number, and what is wrong with it.
    fn row(self, line: u64) -> (Row, Vec<Problem>) {
        let named = !self.bench.is_empty();
        let bench = if named {
            self.bench
        } else {
            name_by_line(line)
        };
        let mut problems = Vec::new();
        let mut report = |column: SheetColumn, cell: &str, kind: &ProblemKind| {
            let problem = Problem::new(line, column.name().into_owned(), &bench, cell, kind);
            problems.push(problem.of_answer(column.quantity()));
        };
        if !named {
            report(SheetColumn::Bench, "", &ProblemKind::BlankBench);
        }
        let readability = self.readability.filter(|step| {
            let counts = step.value().is_positive();
            if !counts {
                let column = SheetColumn::Readability;
                report(column, &step.to_string(), &ProblemKind::BadReadability);
            }
            counts
        });
        let reported = self.reported.into_iter().map(|(reported, kind)| {
            if let Some(kind) = kind {
                let column = SheetColumn::Reported(reported.quantity);
                report(column, &reported.text, &kind);
            }
            reported
        });
        let reported = reported.collect();
        if !named && self.weighings.is_none() {
            report(SheetColumn::Crucible, "", &ProblemKind::NoReadings);
        }
        let mut words = RowWords::default();
        for (word, text) in [
            (RowWord::Bench, &bench),
            (RowWord::Pupil, &self.pupil),
            (RowWord::Balance, &self.balance),
            (RowWord::Period, &self.period),
            (RowWord::Issued, &self.issued),
            (RowWord::Notes, &String::new()),
        ] {
            words.add(word, |words| words.push_str(text));
        }
        let row = Row {
            line,
            words,
            named,
            has_readings: self.weighings.is_some(),
            readings: self.weighings.map(RowReadings::from).unwrap_or_default(),
            readings_unreadable: false,
            readability,
            stand_in: self.stand_in,
            absent: false,
            reported,
            extra: ExtraCells::default(),
        };
        (row, problems)
    }
}

impl From<Weighings> for RowReadings {
    fn from(weighings: Weighings) -> RowReadings {
        match weighings.form() {
            WeighingsForm::Container(weighings) => RowReadings {
                crucible: Some(weighings.container),
                crucible_hydrate: Some(weighings.with_hydrate),
                heated: weighings.heated.clone(),
                ..RowReadings::default()
            },
            WeighingsForm::Net {
                hydrate,
                residue,
                net,
            } => RowReadings {
                hydrate_mass: Some(*hydrate),
                residue_mass: Some(*residue),
                net: *net,
                ..RowReadings::default()
            },
            WeighingsForm::Percent(percent) => RowReadings {
                percent_water: Some(*percent),
                ..RowReadings::default()
            },
        }
    }
}

impl Sheet {
    /// Makes the sheet of a class in code. An entry's line is its number among them, counted from
    /// 1. Its problems name columns as a file has them.
    ///
    /// ```
    /// use effloresce::class::{Entry, Sheet};
    /// let sheet = Sheet::of([Entry::new("Heron")]);
    /// assert_eq!(sheet.problems()[0].code(), "no_readings");
    /// ```
    #[must_use]
    pub fn of(entries: impl IntoIterator<Item = Entry>) -> Sheet {
        let (mut rows, mut problems) = (Vec::new(), Vec::new());
        for (line, entry) in (1..).zip(entries) {
            let (row, found) = entry.row(line);
            rows.push(row);
            problems.extend(found);
        }
        let reported = Quantity::ALL.into_iter().filter(|quantity| {
            let mut all = rows.iter().flat_map(Row::reported);
            all.any(|reported| reported.quantity == *quantity)
        });
        let reported = reported.collect();
        Sheet::of_rows(rows, problems, Vec::new(), reported, "crucible_g")
    }
}
