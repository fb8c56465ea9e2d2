//! A text, and how far it is read.

use super::super::draft::Draft;
use crate::formula::lex::Leaf;
use crate::formula::limits::MOST_DEPTH;
use crate::formula::repr::{Bracket, ShortSpan};
use crate::text::{Span, is_space};

/// A text, and how far it is read.
pub(crate) struct Cursor<'a> {
    pub(crate) text: &'a str,
    /// The offset of the byte that is next, which is always the first one of a character.
    pub(crate) at: usize,
    /// The last count that was written in another form than plain digits.
    pub(crate) last_rare_count: CountNotation,
    /// The brackets that are open.
    pub(crate) open: [OpenBracket; MOST_DEPTH],
    pub(crate) depth: u8,
}

/// The count before a sign, as it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct CountNotation {
    /// No span if there is no count.
    pub(crate) span: ShortSpan,
    /// Whether it is whole digits on the line, which a sign after them may turn into a charge.
    pub(crate) plain_digits: bool,
}

impl CountNotation {
    pub(crate) const NONE: CountNotation = CountNotation {
        span: ShortSpan::NONE,
        plain_digits: false,
    };
}

/// A bracket that is open. A text is short enough for two bytes an offset.
#[derive(Clone, Copy)]
pub(crate) struct OpenBracket {
    /// The index of its word.
    pub(crate) words: u16,
    pub(crate) offset: u16,
}

impl OpenBracket {
    const NONE: OpenBracket = OpenBracket::new(0, 0);

    pub(crate) const fn new(words: usize, offset: usize) -> OpenBracket {
        OpenBracket {
            words: words as u16,
            offset: offset as u16,
        }
    }
}

impl<'a> Cursor<'a> {
    pub(crate) fn new(text: &'a str) -> Cursor<'a> {
        Cursor {
            text,
            at: 0,
            last_rare_count: CountNotation::NONE,
            open: [OpenBracket::NONE; MOST_DEPTH],
            depth: 0,
        }
    }

    /// The text that is not read yet.
    pub(crate) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(crate) fn span_since(&self, start: usize) -> ShortSpan {
        ShortSpan::new(start, self.at)
    }

    pub(crate) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    #[inline]
    pub(crate) fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    pub(crate) fn byte_after(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at + 1).copied()
    }

    /// The span of the next character, empty at the end.
    pub(crate) fn here(&self) -> Span {
        let length = self.peek().map_or(0, char::len_utf8);
        Span::new(self.at, self.at + length)
    }

    /// Reads what a parser accepts here, if it does.
    pub(crate) fn take<T>(&mut self, mut parser: impl FnMut(&'a str) -> Leaf<'a, T>) -> Option<T> {
        let (rest, found) = parser(self.rest()).ok()?;
        self.go_to(rest);
        Some(found)
    }

    /// Moves to where this rest of the text begins.
    pub(crate) fn go_to(&mut self, rest: &str) {
        self.at = self.text.len() - rest.len();
    }

    pub(crate) fn skip_spaces(&mut self) {
        // Spaces of other scripts begin with a high byte.
        if self.byte().is_some_and(|b| b <= b' ' || b >= 0x80) {
            self.go_to(self.rest().trim_start_matches(is_space));
        }
    }

    /// The bracket that is to be closed next.
    #[inline(always)]
    pub(crate) fn innermost(&self) -> Option<OpenBracket> {
        let last = usize::from(self.depth).wrapping_sub(1);
        self.open.get(last).copied()
    }

    /// The kind of that bracket, and its offset in the text.
    pub(crate) fn innermost_kind(&self, draft: &Draft<'_>) -> Option<(Bracket, usize)> {
        let open = self.innermost()?;
        let bracket = draft.formula.packed.bracket_at(open.words)?;
        Some((bracket, open.offset.into()))
    }

    /// The index of the word of the outermost bracket that was closed last. A closed bracket stays in the
    /// list until another one opens at its depth.
    #[inline(always)]
    pub(crate) fn last_outermost(&self) -> u16 {
        let [outermost, ..] = self.open;
        outermost.words
    }
}
