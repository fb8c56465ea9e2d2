//! A part of a formula as it was written: what the text leaves open about it, with the places, until
//! it is settled.

use super::Count;
use crate::element::Atom;
use crate::text::Span;

/// What stands between two dots. Its terms lie among the formula's tokens.
#[derive(Debug)]
pub(super) struct PartNotation {
    pub(super) coefficient: Option<(Count, Place)>,
    /// How many bytes the formula had before this part, and before its first term.
    pub(super) from: u16,
    pub(super) first: u16,
    /// How many terms were read, brackets among them.
    pub(super) terms: u16,
    pub(super) last: LastTerm,
    /// The count of an H that is written with the digits 20.
    pub(super) twenty: Option<Place>,
}

/// The last atom or bracket of a part, with the count behind it.
#[derive(Debug, Clone, Copy)]
pub(super) struct LastTerm {
    pub(super) sign: Sign,
    /// How many bytes the formula had before it.
    pub(super) at: u16,
    /// How many it had before the bracket that it closes.
    pub(super) opened: u16,
    /// Where its count was written; nowhere, where it has none.
    pub(super) counted: Place,
    /// Whole digits on the line, which a sign behind them may turn into a charge.
    pub(super) plain_digits: bool,
}

impl LastTerm {
    pub(super) const NONE: LastTerm = LastTerm {
        sign: Sign::Open(Bracket::Round),
        at: 0,
        opened: 0,
        counted: Place::NOWHERE,
        plain_digits: false,
    };
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    Atom(Atom),
    Open(Bracket),
    Close(Bracket),
}

/// Where in the text something stands. A text is short enough for two bytes a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub(super) struct Place {
    start: u16,
    end: u16,
}

impl Place {
    /// Nowhere: every place in a text ends behind its start.
    pub(super) const NOWHERE: Place = Place { start: 0, end: 0 };

    pub(super) const fn new(start: usize, end: usize) -> Place {
        Place {
            start: start as u16,
            end: end as u16,
        }
    }

    pub(super) const fn span(self) -> Span {
        Span::new(self.start as usize, self.end as usize)
    }

    /// The place, if it is one.
    pub(super) fn somewhere(self) -> Option<Span> {
        (self != Place::NOWHERE).then_some(self.span())
    }
}

/// A pair of brackets: `()`, `[]` or `{}`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Bracket {
    Round,
    Square,
    Curly,
}

impl Bracket {
    pub(super) const ALL: [Bracket; 3] = [Bracket::Round, Bracket::Square, Bracket::Curly];

    pub(super) const fn open(self) -> char {
        match self {
            Bracket::Round => '(',
            Bracket::Square => '[',
            Bracket::Curly => '{',
        }
    }

    pub(super) const fn close(self) -> char {
        match self {
            Bracket::Round => ')',
            Bracket::Square => ']',
            Bracket::Curly => '}',
        }
    }
}

#[derive(Debug, Clone, Copy)]
pub(super) enum ChargeNotation {
    /// Marked as a charge: raised, after a caret, or in brackets of its own.
    Marked(i32),
    /// Signs on the line: `-`, `--`, `+2`; digits before them belong, as written, to the last count.
    Bare {
        negative: bool,
        signs: u32,
        digits_after: Option<u32>,
        place: Place,
    },
}
