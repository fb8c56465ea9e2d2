//! A part of a formula as it was written: what the text leaves open about it, with the places, until
//! it is settled.

use crate::formula::repr::Place;
use crate::text::Span;

/// What stands between two dots, as far as it is read. Its terms lie among the formula's words.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PartNotation {
    /// Where in the text it begins.
    pub(crate) start: u16,
    /// How many words the formula had before its first term.
    pub(crate) first: u16,
    /// Where the last coefficient stands that was written: this part's, if it stands in it.
    pub(crate) coefficient: Place,
}

impl PartNotation {
    /// Before any part.
    pub(crate) const NONE: PartNotation = PartNotation {
        start: 0,
        first: 0,
        coefficient: Place::NOWHERE,
    };

    /// Where its coefficient stands, if it has one.
    pub(crate) fn coefficient(&self) -> Option<Span> {
        let coefficient = self.coefficient.somewhere();
        coefficient.filter(|span| span.start >= self.start.into())
    }
}

/// The count before a sign, as it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Counted {
    /// Nowhere, where there is none.
    pub(crate) place: Place,
    /// Whole digits on the line, which a sign behind them may turn into a charge.
    pub(crate) plain_digits: bool,
}

impl Counted {
    pub(crate) const NOT: Counted = Counted {
        place: Place::NOWHERE,
        plain_digits: false,
    };
}

#[derive(Debug, Clone, Copy)]
pub(crate) enum ChargeNotation {
    /// Marked as a charge: raised, after a caret, or in brackets of its own.
    Marked(i32),
    /// Signs on the line: `-`, `--`, `+2`; digits before them belong, as written, to the last count.
    Bare {
        negative: bool,
        signs: u32,
        counted: Counted,
        digits_after: Option<u32>,
        place: Place,
    },
}
