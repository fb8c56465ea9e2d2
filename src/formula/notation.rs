//! A part of a formula as it was written: what the text leaves open about it, with the places, until
//! it is settled.

use crate::text::Span;

/// What stands between two dots, as far as it is read. Its terms lie among the formula's words.
#[derive(Debug, Clone, Copy)]
pub(super) struct PartNotation {
    /// Where in the text it begins.
    pub(super) start: u16,
    /// How many words the formula had before its first term.
    pub(super) first: u16,
    /// Where the last coefficient stands that was written: this part's, if it stands in it.
    pub(super) coefficient: Place,
}

impl PartNotation {
    /// Before any part.
    pub(super) const NONE: PartNotation = PartNotation {
        start: 0,
        first: 0,
        coefficient: Place::NOWHERE,
    };

    /// Where its coefficient stands, if it has one.
    pub(super) fn coefficient(&self) -> Option<Span> {
        let coefficient = self.coefficient.somewhere();
        coefficient.filter(|span| span.start >= self.start.into())
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

    /// The number of a kind: that of an opening or closing bracket, which its upper bits tell.
    #[inline(always)]
    pub(super) const fn number(byte: u8) -> u8 {
        (byte >> 5).wrapping_sub(1)
    }

    /// The kind of an opening or closing bracket.
    pub(super) const fn of(byte: u8) -> Bracket {
        match Bracket::number(byte) {
            0 => Bracket::Round,
            1 => Bracket::Square,
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
