//! The result for a reported value.

use crate::class::{Error, ErrorKind};

/// The result for a reported value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Verdict {
    /// Careful work on the bench's own readings gives the value, or it follows from earlier answers that
    /// are all correct.
    Correct,
    /// The value follows from an earlier answer that is not correct. It loses no second mark.
    #[doc(alias = "ECF")]
    #[doc(alias = "error carried forward")]
    CarriedForward,
    /// One or more known slips on paper give exactly the digits written.
    Slip,
    /// Nothing that the marker knows gives the value.
    Unexplained,
    /// Nothing was handed in.
    Missing,
}

impl Verdict {
    /// All verdicts, from the best.
    pub const ALL: [Verdict; 5] = [
        Verdict::Correct,
        Verdict::CarriedForward,
        Verdict::Slip,
        Verdict::Unexplained,
        Verdict::Missing,
    ];

    /// Returns the stable name of the verdict.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried_forward",
            Verdict::Slip => "slip",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        }
    }

    /// Returns whether the value earns its marks.
    #[must_use]
    pub const fn earns(self) -> bool {
        matches!(self, Verdict::Correct | Verdict::CarriedForward)
    }
}

crate::text::codes!(Verdict, code, "verdicts", Error(ErrorKind::UnknownCode));

impl core::fmt::Display for Verdict {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried forward",
            Verdict::Slip => "a slip",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        })
    }
}
