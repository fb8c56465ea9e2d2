//! What is wrong with a cell or a row.

use alloc::borrow::Cow;
use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::sync::Arc;
use core::fmt;

use super::cell_text::shown;
use super::limits::LONGEST_CELL;
use crate::gravimetry::Quantity;
use crate::text::visible;
use crate::{formula, gravimetry, number};

/// What is wrong, with the values that its sentences need.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(in crate::class) enum ProblemKind {
    /// A cell that is too long to be read.
    LongCell,
    BadNumber(number::Error),
    /// A number with letters that look like digits, and the number with the digits.
    LetterInNumber(String),
    BadRatio,
    NegativeMass,
    BadReadability,
    BadStandIn,
    /// A heating that cannot be read, before others that can.
    EarlierHeating(Box<ProblemKind>),
    MissingReading,
    /// Only the empty container is weighed, and nothing after it.
    NotWeighedIn,
    NoReadings,
    BlankBench,
    OpenQuote,
    /// Cells after the last header that hold somebody's remark.
    SurplusWords(usize),
    /// Cells after the last header that came from further left, and whether commas may have moved
    /// them.
    SurplusNumbers(usize, bool),
    /// What was issued to the row cannot be read.
    BadIssued(String, formula::Error),
    NoHydrateIssued(String),
    /// Nothing says what was issued to the row.
    NotIssued,
    /// More than this number of different hydrates were issued to a class.
    TooManyIssued(usize),
    /// What was issued to the row, and another salt that was issued to the row in this line, whose
    /// readings it shares.
    IssuedDiffers([String; 2], u64),
    /// The readings cannot be worked out.
    Unworkable(gravimetry::Error),
    /// A reported formula cannot be read.
    BadFormula(String, formula::Error),
}

impl ProblemKind {
    /// Returns the text that it is about, if it holds one.
    pub(super) fn text(&self) -> Option<&str> {
        match self {
            ProblemKind::BadIssued(text, _) | ProblemKind::BadFormula(text, _) => Some(text),
            _ => None,
        }
    }

    fn is_still_to_come(&self) -> bool {
        match self {
            ProblemKind::Unworkable(error) => {
                error.kind() == gravimetry::ErrorKind::MissingWeighing
            }
            ProblemKind::NotWeighedIn | ProblemKind::NoReadings => true,
            _ => false,
        }
    }

    /// Returns the stable code.
    fn code(&self) -> &'static str {
        match self {
            ProblemKind::BadNumber(error) => match error.kind() {
                number::ErrorKind::OtherUnit => "bad_unit",
                _ => "bad_number",
            },
            ProblemKind::LetterInNumber(_) => "bad_number",
            ProblemKind::LongCell => "cell_too_long",
            ProblemKind::BadRatio => "bad_ratio",
            ProblemKind::NegativeMass => "negative_mass",
            ProblemKind::BadReadability => "bad_readability",
            ProblemKind::BadStandIn => "bad_stand_in",
            ProblemKind::EarlierHeating(kind) => kind.code(),
            ProblemKind::MissingReading | ProblemKind::NotWeighedIn => "missing_reading",
            ProblemKind::NoReadings => "no_readings",
            ProblemKind::BlankBench => "blank_bench",
            ProblemKind::OpenQuote => "open_quote",
            ProblemKind::SurplusWords(_) | ProblemKind::SurplusNumbers(..) => "surplus_cell",
            ProblemKind::BadIssued(..) | ProblemKind::NoHydrateIssued(_) => "bad_issued",
            ProblemKind::NotIssued => "not_issued",
            ProblemKind::TooManyIssued(_) => "too_many_issued",
            ProblemKind::BadFormula(..) => "bad_formula",
            ProblemKind::IssuedDiffers(..) => "issued_differs",
            ProblemKind::Unworkable(error) => match error.kind() {
                gravimetry::ErrorKind::MissingWeighing => "not_heated",
                gravimetry::ErrorKind::ImpossibleMasses => "impossible_masses",
                _ => error.code(),
            },
        }
    }

    /// Returns what is wrong with this cell.
    fn what(&self, cell: &str) -> String {
        match self {
            ProblemKind::BadNumber(error) => error.to_string(),
            ProblemKind::LetterInNumber(_) => {
                format!("`{cell}` has a letter where a digit should be")
            }
            ProblemKind::BadRatio => format!("`{cell}` is not a ratio to one mole of salt"),
            ProblemKind::LongCell => format!(
                "`{cell}` is too long: a cell of this column may have some {LONGEST_CELL} letters"
            ),
            ProblemKind::NegativeMass => format!("`{cell}` is a negative mass"),
            ProblemKind::BadReadability => format!("`{cell}` is not a readability"),
            ProblemKind::BadStandIn => format!(
                "`{cell}` does not say whether these are stand-in readings, so they count as the \
                 bench's own"
            ),
            ProblemKind::EarlierHeating(kind) => kind.what(cell),
            ProblemKind::MissingReading | ProblemKind::NotWeighedIn => {
                "the row has readings but not this one".into()
            }
            ProblemKind::NoReadings => "no row of this bench has readings".into(),
            ProblemKind::BlankBench => "no bench is named, so the row shares no readings".into(),
            ProblemKind::OpenQuote => {
                "a quotation mark opens a cell and nothing closes it, so the \
                quotation marks of the row were read as plain characters"
                    .into()
            }
            ProblemKind::SurplusWords(count) => format!(
                "the row has {} after the last header, and nothing there is used",
                cells(count)
            ),
            ProblemKind::SurplusNumbers(count, _) => format!(
                "the row has {} after the last header, so its numbers may be under the wrong \
                 headers and none is used",
                cells(count)
            ),
            ProblemKind::BadIssued(text, error) | ProblemKind::BadFormula(text, error) => {
                not_a_formula(text, error)
            }
            ProblemKind::NotIssued => {
                "nothing says what was issued, so only masses and percent water are marked".into()
            }
            ProblemKind::NoHydrateIssued(formula) => {
                format!("{formula} was issued, which is not a hydrate")
            }
            ProblemKind::TooManyIssued(most) => {
                format!(
                    "the rows above were issued {most} other hydrates, and no class may have more"
                )
            }
            ProblemKind::IssuedDiffers([own, shared], line) => format!(
                "`{own}` was issued to this row, and `{shared}` to line {line}, whose readings it \
                 shares"
            ),
            ProblemKind::Unworkable(error) => error.to_string(),
        }
    }

    /// Returns how to correct it.
    fn help(&self) -> Cow<'_, str> {
        Cow::Borrowed(match self {
            ProblemKind::BadNumber(error) => error.help().unwrap_or_default(),
            ProblemKind::Unworkable(error) => error.help().unwrap_or_default(),
            ProblemKind::BadIssued(_, error) | ProblemKind::BadFormula(_, error) => {
                error.help().unwrap_or_default()
            }
            ProblemKind::LetterInNumber(digits) => return format!("write {digits}").into(),
            ProblemKind::EarlierHeating(kind) => {
                let help = kind.help();
                return format!("{help}. The row is worked out from the weighings after it").into();
            }
            ProblemKind::IssuedDiffers([own, _], _) => {
                return format!("the row is marked by `{own}`. Correct one of them").into();
            }
            ProblemKind::LongCell => "shorten it, or move the words to a column of your own",
            ProblemKind::BadRatio => "write `6.99` or `1 : 6.99`",
            ProblemKind::NegativeMass => "correct the sign, or weigh with the balance set to zero",
            ProblemKind::BadReadability => {
                "write the smallest step of the balance in g, such as 0.001"
            }
            ProblemKind::BadStandIn => "write yes, or leave the cell blank",
            ProblemKind::MissingReading | ProblemKind::NotWeighedIn => {
                "fill it in: nothing is worked out without it"
            }
            ProblemKind::NoReadings => "write them in one of its rows",
            ProblemKind::BlankBench => "write the bench in every row",
            ProblemKind::OpenQuote => "remove them from the cell",
            ProblemKind::SurplusWords(_) => "add a header, or move the text to a column of notes",
            ProblemKind::SurplusNumbers(_, true) => {
                "write a decimal point, or quote each cell that has a comma"
            }
            ProblemKind::SurplusNumbers(_, false) => "move the cells, or add a header",
            ProblemKind::NotIssued => {
                "write its formula or its name, or say what the whole class was issued"
            }
            ProblemKind::NoHydrateIssued(_) => "write the hydrate that was issued",
            ProblemKind::TooManyIssued(_) => {
                "check the formulas, or give the class in several files"
            }
        })
    }

    /// Returns what is wrong with this cell and how to correct it, as two sentences.
    pub(super) fn message(&self, cell: &str) -> String {
        let (what, mut help) = (self.what(cell), self.help());
        let before_point = cell.split_once('.').map_or("", |(before, _)| before);
        if before_point.ends_with(|c: char| c.is_ascii_digit()) && !cell.contains(',') {
            // The example has the decimal mark of the cell.
            help = help.replace("2,50", "2.50").into();
        }
        match help.split_at_checked(1) {
            Some((first, rest)) => format!("{what}. {}{rest}.", first.to_ascii_uppercase()),
            None => format!("{what}."),
        }
    }
}

fn not_a_formula(text: &str, error: &formula::Error) -> String {
    let what = match error.kind() {
        formula::ErrorKind::BadName => "is not the name of one salt",
        _ => "is not a formula",
    };
    format!("`{}` {what}: {error}", shown(text))
}

fn cells(count: &usize) -> String {
    match count {
        1 => "1 cell".into(),
        _ => format!("{count} cells"),
    }
}

/// A cell or a row with something wrong.
///
/// ```
/// use effloresce::class::Sheet;
/// let text = "bench;hydrate_g;residue_g\nHeron;2,666;1,3o3\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// assert_eq!(
///     sheet.problems()[0].to_string(),
///     "line 2, `residue_g`, bench Heron: `1,3o3` is not a number. \
///      Write digits and one decimal mark, such as 2,50.",
/// );
/// # Ok::<(), effloresce::class::Error>(())
/// ```
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Problem(Arc<ProblemFields>);

/// What a problem says. A sheet and its marked class share it.
#[derive(Debug, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
struct ProblemFields {
    line: u64,
    column: String,
    bench: String,
    cell: String,
    code: &'static str,
    message: String,
    #[cfg_attr(feature = "serde", serde(skip))]
    still_to_come: bool,
    /// The quantity of the answer that it is about.
    #[cfg_attr(feature = "serde", serde(skip))]
    quantity: Option<Quantity>,
}

impl Problem {
    pub(super) fn new(
        line: u64,
        column: String,
        bench: &str,
        cell: &str,
        kind: &ProblemKind,
    ) -> Problem {
        let cell = shown(cell);
        Problem(Arc::new(ProblemFields {
            line,
            column,
            bench: shown(bench),
            code: kind.code(),
            message: visible(&kind.message(&cell)).into_owned(),
            cell,
            still_to_come: kind.is_still_to_come(),
            quantity: None,
        }))
    }

    /// Says which answer the problem is about, if it is about one.
    pub(in crate::class) fn of_answer(mut self, quantity: Option<Quantity>) -> Problem {
        if let Some(fields) = Arc::get_mut(&mut self.0) {
            fields.quantity = quantity;
        }
        self
    }

    /// Gives its column the header of the file.
    pub(super) fn set_column(&mut self, title: &str) {
        if let Some(fields) = Arc::get_mut(&mut self.0) {
            fields.column = title.into();
        }
    }

    /// Returns the quantity of the answer that the problem is about, if it is about one.
    pub(in crate::class) fn quantity(&self) -> Option<Quantity> {
        self.0.quantity
    }

    /// Returns the line of the file, counted from 1, on which the row starts.
    #[must_use]
    pub fn line(&self) -> u64 {
        self.0.line
    }

    /// Returns the header of the column as the file has it: `column` and its number if it has none.
    #[must_use]
    pub fn column(&self) -> &str {
        &self.0.column
    }

    /// Returns the bench, as [`Row::bench`](super::Row::bench) names it, cut after some sixty characters.
    #[must_use]
    pub fn bench(&self) -> &str {
        &self.0.bench
    }

    /// Returns the text of the cell, on one line and cut after some sixty characters.
    #[must_use]
    pub fn cell(&self) -> &str {
        &self.0.cell
    }

    /// Returns the stable name of what is wrong: `bad_number`, `bad_unit`, `bad_ratio`,
    /// `cell_too_long`, `negative_mass`, `bad_readability`, `missing_reading`, `no_readings`,
    /// `blank_bench`, `surplus_cell` or `open_quote`; from marking also `impossible_masses`,
    /// `not_heated`, `bad_issued`, `not_issued` and `bad_formula`. More may be added.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.0.code
    }

    /// Returns whether the only thing wrong is that a weighing is not there yet, while the class is
    /// still heating.
    #[must_use]
    pub fn is_still_to_come(&self) -> bool {
        self.0.still_to_come
    }

    /// Returns what is wrong and how to correct it, in English.
    #[must_use]
    pub fn message(&self) -> &str {
        &self.0.message
    }
}

impl fmt::Debug for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Problem {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl fmt::Display for Problem {
    /// Writes where it is, what is wrong, and how to correct it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A column without a header is already called by its number.
        let mark = if self.column().starts_with("column ") {
            ""
        } else {
            "`"
        };
        f.pad(&format!(
            "line {}, {mark}{}{mark}, bench {}: {}",
            self.line(),
            visible(self.column()),
            visible(self.bench()),
            self.message()
        ))
    }
}
