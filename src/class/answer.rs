//! One reported value, and what is said of it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::gravimetry::{Quantity, Range};
use crate::text::Note;

/// What is said of a reported value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Verdict {
    /// Careful work on the bench's own readings gives it, or it follows from earlier answers that
    /// are all correct.
    Correct,
    /// It follows from an earlier answer that is not correct: no second penalty.
    #[doc(alias = "ECF")]
    #[doc(alias = "error carried forward")]
    CarriedForward,
    /// Nothing that the marker knows leads to it.
    Unexplained,
    /// Nothing was handed in.
    Missing,
}

impl Verdict {
    /// The stable name of the verdict.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried_forward",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        }
    }

    /// Whether the value earns its mark.
    #[must_use]
    pub const fn earns(self) -> bool {
        matches!(self, Verdict::Correct | Verdict::CarriedForward)
    }
}

impl core::fmt::Display for Verdict {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried forward",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        })
    }
}

/// A reported value, marked.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    pub(super) quantity: Quantity,
    pub(super) reported: String,
    pub(super) verdict: Verdict,
    pub(super) expected: Option<String>,
    pub(super) written: Option<String>,
    pub(super) defensible: Option<Range>,
    pub(super) carried_from: Option<Quantity>,
    /// The answer handed in that a correct value follows from, where the readings alone do not
    /// give it.
    pub(super) follows: Option<Quantity>,
    pub(super) remarks: Vec<Note>,
}

impl Answer {
    /// Which quantity.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        self.quantity
    }

    /// The value as it was handed in.
    #[must_use]
    pub fn reported(&self) -> &str {
        &self.reported
    }

    /// The verdict.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.verdict
    }

    /// One mark where the value is correct or carried forward, else none.
    #[must_use]
    pub fn marks(&self) -> u32 {
        u32::from(self.verdict.earns())
    }

    /// What the bench's own readings give, unrounded (the formula: as text).
    #[must_use]
    pub fn expected(&self) -> Option<&str> {
        self.expected.as_deref()
    }

    /// What the bench's own readings give, with the figures that they allow.
    #[must_use]
    pub fn expected_as_written(&self) -> Option<&str> {
        self.written.as_deref()
    }

    /// The least and the greatest value that careful work can give.
    #[must_use]
    pub fn defensible(&self) -> Option<&Range> {
        self.defensible.as_ref()
    }

    /// The earlier answer that this one follows from.
    #[must_use]
    pub fn carried_from(&self) -> Option<Quantity> {
        self.carried_from
    }

    /// What else is to be said.
    #[must_use]
    pub fn remarks(&self) -> &[Note] {
        &self.remarks
    }

    /// The verdict in a sentence, with its reason.
    #[must_use]
    pub fn reason(&self) -> String {
        let unit = match self.quantity.unit() {
            "" => String::new(),
            unit => format!(" {unit}"),
        };
        let own = self.written.as_deref().unwrap_or("nothing");
        match self.verdict {
            Verdict::Correct => match self.follows {
                Some(from) => format!("correct: it follows from the {from} reported"),
                None => format!("correct: the bench's own readings give {own}{unit}"),
            },
            Verdict::CarriedForward => match self.carried_from {
                Some(from) => format!("follows from the {from} reported, so no mark is lost twice"),
                None => "follows from an earlier answer".into(),
            },
            Verdict::Missing => {
                format!("nothing was handed in; the bench's own readings give {own}{unit}")
            }
            Verdict::Unexplained => match self.remarks.first() {
                Some(remark) => format!(
                    "{}; the bench's own readings give {own}{unit}",
                    remark.text()
                ),
                None => format!(
                    "the bench's own readings give {own}{unit}, and nothing leads from them to this"
                ),
            },
        }
    }
}
