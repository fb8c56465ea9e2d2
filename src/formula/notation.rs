//! A formula as it was written: every sign of the text with its place, nothing yet decided
//! that the text leaves open. It lies flat, in line up to some 32 terms.

use smallvec::SmallVec;

use super::{Count, State};
use crate::element::Atom;
use crate::text::Span;

/// The whole text.
#[derive(Debug, Default)]
pub(super) struct Notation {
    /// The terms of all parts, one part after the other.
    pub(super) terms: SmallVec<[TermNotation; 40]>,
    pub(super) parts: SmallVec<[PartNotation; 4]>,
    pub(super) state: Option<State>,
    /// A final full stop, as a sentence leaves it.
    pub(super) full_stop: Option<Span>,
    /// While the text is read: of the bracket just closed, how many terms lie between it and its
    /// partner.
    pub(super) closing: u16,
}

/// What stands between two dots.
#[derive(Debug)]
pub(super) struct PartNotation {
    pub(super) coefficient: Option<(Count, Place)>,
    /// Where its terms begin and end among all.
    pub(super) terms: core::ops::Range<usize>,
    pub(super) charge: Option<ChargeNotation>,
    pub(super) place: Place,
    /// The full stop before this part, where it stands between digits and what follows is no
    /// solvate: it may be a decimal point.
    pub(super) doubtful_dot: Option<Place>,
}

/// An atom or a bracket, with the count behind it.
#[derive(Debug, Clone, Copy)]
pub(super) struct TermNotation {
    pub(super) sign: Sign,
    pub(super) place: Place,
    /// The count and where it was written; one, and nowhere, where none was.
    pub(super) count: Count,
    pub(super) counted: Place,
    /// Whole digits on the line, which a sign behind them may turn into a charge.
    pub(super) plain_digits: bool,
    /// Of a bracket, how many terms lie between it and its partner and back.
    pub(super) partner: u16,
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
