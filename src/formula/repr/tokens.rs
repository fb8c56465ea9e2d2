//! The tokens of a formula, which are read from its words.

use super::bracket::Bracket;
use super::count::Count;
use super::words::{
    CLOSE, COEFFICIENT, COUNT_FOLLOWS, DOT, LABELLED, LEAST_LONG_COUNT, LONG_FRACTION, OPEN, SHIFT,
    TAG,
};
use crate::element::{Atom, Element};

/// One piece of a formula.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Token {
    /// The dot before each part but the first, with the coefficient of the part.
    Dot(Count),
    /// The coefficient of the first part, if it is not one.
    Coefficient(Count),
    Atom(Atom, Count),
    Open(Bracket),
    /// A closing bracket and the count of the group.
    Close(Bracket, Count),
    Charge(i32),
}

/// The tokens of a formula, in order.
#[derive(Debug, Clone)]
pub(crate) struct Tokens<'a>(pub(crate) core::slice::Iter<'a, u16>);

impl<'a> Tokens<'a> {
    #[inline]
    pub(crate) fn of(words: &'a [u16]) -> Tokens<'a> {
        Tokens(words.iter())
    }

    /// Each token with the number of words before it.
    pub(crate) fn with_offsets(mut self) -> impl Iterator<Item = (usize, Token)> + 'a {
        let length = self.0.len();
        core::iter::from_fn(move || {
            let at = length - self.0.len();
            self.next().map(|token| (at, token))
        })
    }

    #[inline(always)]
    pub(crate) fn word(&mut self) -> Option<u16> {
        self.0.next().copied()
    }

    #[inline(always)]
    fn count(&mut self, word: u16) -> Option<Count> {
        match word >> SHIFT {
            count @ ..LEAST_LONG_COUNT => Some(Count::Known(count.into(), 1)),
            more => self.more(more),
        }
    }

    #[cold]
    fn more(&mut self, more: u16) -> Option<Count> {
        if more == COUNT_FOLLOWS {
            return Some(Count::Known(self.word()?.into(), 1));
        }
        let mut number = || {
            let low = u32::from(self.word()?);
            let high = match more {
                LONG_FRACTION => u32::from(self.word()?),
                _ => 0,
            };
            Some(low | high << 16)
        };
        Some(match (number()?, number()?) {
            (letter, 0) => Count::Unknown(char::from_u32(letter)?),
            (above, below) => Count::Known(above, below),
        })
    }

    /// The atom that the next word labels.
    #[inline]
    pub(crate) fn labelled(&mut self) -> Option<Atom> {
        let word = self.word()?;
        let element = Element::from_number((word & TAG) as u8)?;
        Some(Atom::known(element, word >> SHIFT))
    }

    /// The token that begins with a word.
    #[inline]
    pub(crate) fn token(&mut self, word: u16) -> Option<Token> {
        let tag = word & TAG;
        if let OPEN..CLOSE = tag {
            return Bracket::ALL
                .get(usize::from(tag - OPEN))
                .map(|bracket| Token::Open(*bracket));
        }
        let count = self.count(word)?;
        Some(match tag {
            1..LABELLED => Token::Atom(Element::from_number(tag as u8)?.into(), count),
            LABELLED => Token::Atom(self.labelled()?, count),
            CLOSE..DOT => Token::Close(*Bracket::ALL.get(usize::from(tag - CLOSE))?, count),
            DOT => Token::Dot(count),
            COEFFICIENT => Token::Coefficient(count),
            _ => {
                let Count::Known(size, _) = count else {
                    return None;
                };
                let charge = i32::try_from(size >> 1).ok()?;
                Token::Charge(if size & 1 == 1 { -charge } else { charge })
            }
        })
    }
}

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        let word = self.word()?;
        self.token(word)
    }
}
