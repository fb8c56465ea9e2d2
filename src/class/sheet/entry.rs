//! A class made in code: entries in place of the rows of a file.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::cell::{self, Bad};
use super::class_sheet::Sheet;
use super::columns::SheetColumn;
use super::one_line::{flat, shown};
use super::problem::Problem;
use super::row::{Reported, ReportedValue, Row};
use crate::gravimetry::{Quantity, Weighings, WeighingsForm};
use crate::number::{DecimalMark, Reading};

/// What one bench, or one pupil of it, hands in: the row of a class sheet, made in code.
///
/// A bench without weighings shares those of another entry with the same bench and period, as in a
/// [`Sheet`] that was read. Blank text is the same as nothing said.
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
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Entry {
    bench: String,
    pupil: String,
    balance: String,
    period: String,
    issued: String,
    weighings: Option<Weighings>,
    readability: Option<Reading>,
    stand_in: bool,
    reported: Vec<(Reported, Option<Bad>)>,
}

/// Words on one line; none are empty.
fn words(text: &str) -> String {
    cell::present(text).map(flat).unwrap_or_default()
}

impl Entry {
    /// An entry of this bench, with nothing in it yet.
    #[must_use]
    pub fn new(bench: impl AsRef<str>) -> Self {
        Entry {
            bench: words(bench.as_ref()),
            ..Entry::default()
        }
    }

    /// Who hands in.
    #[must_use]
    pub fn pupil(mut self, name: impl AsRef<str>) -> Self {
        self.pupil = words(name.as_ref());
        self
    }

    /// The balance that was used: entries of one balance share its readability.
    #[must_use]
    pub fn balance(mut self, name: impl AsRef<str>) -> Self {
        self.balance = words(name.as_ref());
        self
    }

    /// The class hour: benches of different hours are different.
    #[must_use]
    pub fn period(mut self, name: impl AsRef<str>) -> Self {
        self.period = words(name.as_ref());
        self
    }

    /// What this bench was given, where it is not what the class was issued.
    #[must_use]
    pub fn issued(mut self, formula: impl AsRef<str>) -> Self {
        self.issued = words(formula.as_ref());
        self
    }

    /// The bench's readings, in any of their forms: grams, or per cent of water.
    #[must_use]
    pub fn weighings(mut self, weighings: Weighings) -> Self {
        self.weighings = Some(weighings);
        self
    }

    /// One division of the balance, in grams. One that is not above zero is a problem of the
    /// [`Sheet`] and does not count.
    #[must_use]
    pub fn readability(mut self, division: Reading) -> Self {
        self.readability = Some(division);
        self
    }

    /// Whether nobody weighed the readings: they were made for somebody who was absent.
    #[must_use]
    pub fn stand_in(mut self, stand_in: bool) -> Self {
        self.stand_in = stand_in;
        self
    }

    /// What was reported for a quantity, as it was written: a number with a decimal point, with its
    /// unit or without, for the ratio also `1 : 6.99`. Blank or a dash is asked for and missing.
    /// Of two for one quantity the last counts.
    #[must_use]
    pub fn reported(mut self, quantity: Quantity, text: impl AsRef<str>) -> Self {
        let text = cell::present(text.as_ref()).unwrap_or_default();
        let (value, bad) = match cell::unit_of(quantity) {
            _ if text.is_empty() => (ReportedValue::Missing, None),
            None => (ReportedValue::Formula(text.to_string()), None),
            Some(unit) => match cell::number(text, unit, DecimalMark::Point) {
                Ok(number) => (ReportedValue::Number(number), None),
                Err(bad) => (ReportedValue::Unreadable, Some(bad)),
            },
        };
        let text = text.to_string();
        let reported = Reported {
            quantity,
            text,
            value,
        };
        self.reported
            .retain(|(other, _)| other.quantity != quantity);
        self.reported.push((reported, bad));
        // Answers are marked in the order in which they are worked out.
        self.reported.sort_by_key(|(reported, _)| reported.quantity);
        self
    }

    /// The reported values that cannot be read as numbers, each with what is wrong with it and what
    /// to do, in English.
    ///
    /// ```
    /// use effloresce::class::Entry;
    /// use effloresce::gravimetry::Quantity;
    /// let entry = Entry::new("Heron").reported(Quantity::WaterMass, "1,363");
    /// let (quantity, message) = entry.unreadable().next().unwrap();
    /// assert_eq!(quantity, Quantity::WaterMass);
    /// assert!(message.contains("`1,363`"));
    /// ```
    pub fn unreadable(&self) -> impl Iterator<Item = (Quantity, &str)> {
        self.reported.iter().filter_map(|(reported, bad)| {
            let bad = bad.as_ref()?;
            Some((reported.quantity, bad.message.as_str()))
        })
    }

    /// The row with this number, and what is wrong with it.
    fn row(self, line: u64) -> (Row, Vec<Problem>) {
        let named = !self.bench.is_empty();
        let mut row = Row {
            line,
            bench: if named {
                self.bench
            } else {
                format!("line {line}")
            },
            named,
            pupil: self.pupil,
            balance: self.balance,
            period: self.period,
            issued: self.issued,
            readability: self.readability,
            stand_in: self.stand_in,
            has_readings: self.weighings.is_some(),
            ..Row::blank()
        };
        let mut problems = Vec::new();
        if !named {
            problems.push(problem(&row, SheetColumn::Bench, "", blank_bench()));
        }
        if let Some(division) = row.readability.take_if(|d| !d.value().is_positive()) {
            let written = division.to_string();
            let bad = bad_readability(&written);
            problems.push(problem(&row, SheetColumn::Readability, &written, bad));
        }
        if let Some(weighings) = &self.weighings {
            row.weighed(weighings);
        }
        for (reported, bad) in self.reported {
            if let Some(bad) = bad {
                let column = SheetColumn::Reported(reported.quantity);
                problems.push(problem(&row, column, &reported.text, bad));
            }
            row.reported.push(reported);
        }
        if !named && !row.has_readings {
            problems.push(no_readings_of(&row));
        }
        (row, problems)
    }
}

fn blank_bench() -> Bad {
    Bad::new(
        "blank_bench",
        "no bench is named in this entry, so it shares no readings; name the bench in every entry"
            .to_string(),
    )
}

fn bad_readability(written: &str) -> Bad {
    Bad::new(
        "bad_readability",
        format!(
            "`{}` is no readability; give one division of the balance in g, such as 0.001",
            shown(written)
        ),
    )
}

fn problem(row: &Row, column: SheetColumn, cell: &str, bad: Bad) -> Problem {
    Problem {
        line: row.line,
        column: column.name().into_owned(),
        bench: row.bench.clone(),
        cell: shown(cell),
        code: bad.code,
        message: bad.message,
    }
}

impl Row {
    /// Takes the readings, whichever form they have.
    fn weighed(&mut self, weighings: &Weighings) {
        match weighings.form() {
            WeighingsForm::Container(weighings) => {
                self.crucible = Some(weighings.container);
                self.crucible_hydrate = Some(weighings.with_hydrate);
                self.heated.clone_from(&weighings.heated);
            }
            WeighingsForm::Net {
                hydrate,
                residue,
                net,
            } => {
                self.hydrate_mass = Some(*hydrate);
                self.residue_mass = Some(*residue);
                self.net = *net;
            }
            WeighingsForm::Percent(percent) => self.percent_water = Some(*percent),
        }
    }
}

impl Sheet {
    /// A class made in code. An entry's line is its place among them, counted from 1, and its
    /// problems name columns as a file has them.
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
        Sheet::of_rows(rows, problems, Vec::new(), reported, no_readings_of)
    }
}

fn no_readings_of(row: &Row) -> Problem {
    problem(row, SheetColumn::Crucible, "", no_readings())
}

fn no_readings() -> Bad {
    Bad::new(
        "no_readings",
        "no entry of this bench has readings; give them in one of its entries".to_string(),
    )
}
