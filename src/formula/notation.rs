//! A formula as it was written: every sign of the text with its place, nothing yet decided
//! that the text leaves open.

use alloc::vec::Vec;

use super::{Count, State};
use crate::element::Atom;
use crate::text::Span;

/// The whole text.
#[derive(Debug)]
pub(super) struct Notation {
    pub(super) parts: Vec<PartNotation>,
    pub(super) state: Option<State>,
    /// A final full stop, as a sentence leaves it.
    pub(super) full_stop: Option<Span>,
}

/// What stands between two dots.
#[derive(Debug)]
pub(super) struct PartNotation {
    pub(super) coefficient: Option<(Count, Span)>,
    pub(super) terms: Vec<TermNotation>,
    pub(super) charge: Option<ChargeNotation>,
    pub(super) span: Span,
    /// The full stop before this part, where it stands between digits and what follows is no
    /// solvate: it may be a decimal point.
    pub(super) doubtful_dot: Option<Span>,
}

/// An atom or a bracket, with the count behind it.
#[derive(Debug)]
pub(super) struct TermNotation {
    pub(super) sign: Sign,
    pub(super) span: Span,
    pub(super) count: Option<CountNotation>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    Atom(Atom),
    Open(Bracket),
    Close(Bracket),
}

#[derive(Debug)]
pub(super) struct CountNotation {
    pub(super) count: Count,
    pub(super) span: Span,
    /// Whole digits on the line, which a sign behind them may turn into a charge.
    pub(super) plain_digits: bool,
}

/// A pair of brackets: `()`, `[]` or `{}`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Bracket {
    Round,
    Square,
    Curly,
}

impl Bracket {
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

#[derive(Debug)]
pub(super) enum ChargeNotation {
    /// Marked as a charge: raised, after a caret, or in brackets of its own.
    Marked(i32),
    /// Signs on the line: `-`, `--`, `+2`; digits before them belong, as written, to the last count.
    Bare {
        negative: bool,
        signs: u32,
        digits_after: Option<u32>,
        span: Span,
    },
}
