//! Brackets.

/// A pair of brackets: `()`, `[]` or `{}`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Bracket {
    Round,
    Square,
    Curly,
}

impl Bracket {
    pub(crate) const ALL: [Bracket; 3] = [Bracket::Round, Bracket::Square, Bracket::Curly];

    /// The number of the kind of an opening or closing bracket, which its upper bits give.
    pub(crate) const fn number(byte: u8) -> u8 {
        (byte >> 5).wrapping_sub(1)
    }

    /// The kind of an opening or closing bracket.
    pub(crate) const fn of(byte: u8) -> Bracket {
        match Bracket::number(byte) {
            0 => Bracket::Round,
            1 => Bracket::Square,
            _ => Bracket::Curly,
        }
    }

    pub(crate) const fn open(self) -> char {
        match self {
            Bracket::Round => '(',
            Bracket::Square => '[',
            Bracket::Curly => '{',
        }
    }

    pub(crate) const fn close(self) -> char {
        match self {
            Bracket::Round => ')',
            Bracket::Square => ']',
            Bracket::Curly => '}',
        }
    }
}
