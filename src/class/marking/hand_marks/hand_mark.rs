//! The marks that a person gave, and a list of them.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::class::{Error, ErrorKind, Marks};
use crate::gravimetry::Quantity;
use crate::text::{Detail, one_line};

/// The marks that a person gave one answer.
///
/// ```
/// use effloresce::class::{HandMark, HandMarks, Marker, Sheet};
/// use effloresce::gravimetry::{Method, Quantity};
/// let text = "bench,pupil,hydrate_g,residue_g,reported_ratio\nHeron,a,2.666,1.303,nearly seven\n";
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&Sheet::read(text.as_bytes())?);
/// assert_eq!(marked.rows()[0].by_hand(), 1);
/// let mark = HandMark::new("Heron", Quantity::Ratio, 1).pupil("a");
/// let marked = marked.with_hand_marks(&HandMarks::of([mark]))?;
/// assert_eq!(marked.rows()[0].by_hand(), 0);
/// assert_eq!(marked.rows()[0].total(), Some(1.into()));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct HandMark {
    /// The line of its file, or its number in a list that was made in code.
    pub(super) line: u64,
    pub(super) bench: String,
    pub(super) pupil: String,
    /// `None` if the period does not matter.
    pub(super) period: Option<String>,
    pub(super) quantity: Quantity,
    /// The answer for which the marks were given, if it was noted.
    pub(super) reported: Option<String>,
    pub(super) marks: Marks,
    /// The most that the answer could earn then, if it was noted.
    pub(super) out_of: Option<Marks>,
}

impl HandMark {
    /// Creates the marks of the answer of a bench about a quantity.
    #[must_use]
    pub fn new(bench: impl AsRef<str>, quantity: Quantity, marks: impl Into<Marks>) -> Self {
        HandMark {
            line: 1,
            bench: one_line(bench.as_ref()),
            pupil: String::new(),
            period: None,
            quantity,
            reported: None,
            marks: marks.into(),
            out_of: None,
        }
    }

    /// Names the pupil.
    #[must_use]
    pub fn pupil(mut self, pupil: impl AsRef<str>) -> Self {
        self.pupil = one_line(pupil.as_ref());
        self
    }

    /// Names the period, for benches of one name in several periods.
    #[must_use]
    pub fn period(mut self, period: impl AsRef<str>) -> Self {
        self.period = Some(one_line(period.as_ref()));
        self
    }

    /// The bench and the pupil in a sentence.
    pub(super) fn owner(&self) -> String {
        match self.pupil.as_str() {
            "" => format!("bench `{}`", self.bench),
            pupil => format!("bench `{}`, pupil `{pupil}`", self.bench),
        }
    }
}

/// A list of marks that were given by hand.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct HandMarks(pub(super) Vec<HandMark>);

impl HandMarks {
    /// Makes a list in code. Errors count its marks from 1.
    #[must_use]
    pub fn of(marks: impl IntoIterator<Item = HandMark>) -> Self {
        let numbered = (1..).zip(marks);
        HandMarks(
            numbered
                .map(|(line, mark)| HandMark { line, ..mark })
                .collect(),
        )
    }
}

/// Returns the error for a line and a column of the list.
pub(super) fn bad(line: u64, column: &str, what: &str, help: impl Into<String>) -> Error {
    let message = format!("line {line}, `{column}`: {what}");
    Error::new(
        ErrorKind::BadHandMarks,
        Detail::new(message).help(help.into()),
    )
}
