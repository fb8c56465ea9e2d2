//! The slips: wrong steps on paper.

use core::fmt;

/// A wrong step on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Slip {
    /// The mole ratio upside down.
    RatioInverted,
}

impl Slip {
    /// The stable name of the slip.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Slip::RatioInverted => "ratio_inverted",
        }
    }
}

impl fmt::Display for Slip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}
