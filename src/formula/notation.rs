//! A part of a formula as it was written: what the text leaves open about it, with the places, until
//! it is settled.

use crate::text::Span;

/// What stands between two dots. Its terms lie among the formula's tokens.
#[derive(Debug)]
pub(super) struct PartNotation {
    /// Where its coefficient stands; nowhere, if it has none.
    pub(super) coefficient: Place,
    pub(super) charge: Option<ChargeNotation>,
    /// Where in the text it begins, and ends.
    pub(super) start: u16,
    pub(super) end: u16,
    /// How many words the formula had before this part, and before its first term.
    pub(super) from: u16,
    pub(super) first: u16,
    /// How many it had before the bracket that was opened and closed last, before that was closed,
    /// and behind it if it is a round one; noughts where there is none.
    pub(super) opened: u16,
    pub(super) closed: u16,
    pub(super) round: u16,
}

impl PartNotation {
    /// Notes a bracket that was closed: how many words there were before it was opened, before it
    /// was closed, and behind it.
    #[inline(always)]
    pub(super) fn close(&mut self, opened: u16, closed: u16, behind: u16, bracket: Bracket) {
        self.opened = opened;
        self.closed = closed;
        self.round = match bracket {
            Bracket::Round => behind,
            Bracket::Square | Bracket::Curly => 0,
        };
    }

    pub(super) fn place(&self) -> Place {
        Place::new(self.start.into(), self.end.into())
    }
}

/// The count before a sign, as it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Counted {
    /// Nowhere, where there is none.
    pub(super) place: Place,
    /// Whole digits on the line, which a sign behind them may turn into a charge.
    pub(super) plain_digits: bool,
}

impl Counted {
    pub(super) const NOT: Counted = Counted {
        place: Place::NOWHERE,
        plain_digits: false,
    };
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

    /// Where the text goes on behind it.
    pub(super) const fn end(self) -> usize {
        self.end as usize
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

    /// The kind of an opening or closing bracket, which its upper bits tell.
    #[inline(always)]
    pub(super) const fn of(byte: u8) -> Bracket {
        match byte >> 5 {
            1 => Bracket::Round,
            2 => Bracket::Square,
            _ => Bracket::Curly,
        }
    }

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
        counted: Counted,
        digits_after: Option<u32>,
        place: Place,
    },
}
