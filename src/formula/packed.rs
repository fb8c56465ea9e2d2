//! How a formula is kept: one or two bytes a term, in line up to some 32 terms, so that a formula
//! is read, copied and dropped without the heap.
//!
//! ```text
//! formula  := part (DOT part)*
//! part     := [COEFFICIENT count] term* [CHARGE number]
//! term     := z | 0x80+z count | LABELLED z mass-number count | OPEN count | CLOSE
//! count    := number           the lowest two bits tell its kind:
//!             ..00 whole  ..01 numerator, a second number is the denominator  ..10 open (x, n)
//! number   := seven bits a byte, the lowest first; the top bit says that more follow
//! ```
//!
//! A group's count stands at its opening, so that every factor is known before the atoms that it
//! counts. One meaning has one row of bytes: equality and hashing go by them.

use smallvec::SmallVec;

use super::Count;
use super::notation::Bracket;
use crate::element::{Atom, Element};

/// Room for 32 terms with counts of up to four digits.
pub(super) const IN_LINE: usize = 104;

const LABELLED: u8 = 119;
const OPEN: u8 = 120;
const CLOSE: u8 = 123;
const DOT: u8 = 126;
const COEFFICIENT: u8 = 127;
const CHARGE: u8 = 128;

/// One piece of a formula, in the order in which it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Token {
    Dot,
    Coefficient(Count),
    Atom(Atom, Count),
    /// The bracket and the count of the whole group.
    Open(Bracket, Count),
    Close(Bracket),
    Charge(i32),
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub(super) struct Packed(SmallVec<[u8; IN_LINE]>);

impl Packed {
    pub(super) const fn new() -> Packed {
        Packed(SmallVec::new_const())
    }

    pub(super) fn push(&mut self, token: Token) {
        match token {
            Token::Dot => self.0.push(DOT),
            Token::Coefficient(count) => {
                if !count.is_one() {
                    self.0.push(COEFFICIENT);
                    self.count(count);
                }
            }
            Token::Atom(atom, count) => self.atom(atom, count),
            Token::Open(bracket, count) => {
                self.0.push(OPEN + bracket as u8);
                self.count(count);
            }
            Token::Close(bracket) => self.0.push(CLOSE + bracket as u8),
            Token::Charge(charge) => {
                if charge != 0 {
                    self.0.push(CHARGE);
                    self.number(u64::from(charge.unsigned_abs()) << 1 | u64::from(charge < 0));
                }
            }
        }
    }

    fn atom(&mut self, atom: Atom, count: Count) {
        let z = atom.element().number();
        match atom.mass_number() {
            None if count.is_one() => self.0.push(z),
            None => {
                self.0.push(0x80 | z);
                self.count(count);
            }
            Some(mass_number) => {
                self.0.extend_from_slice(&[LABELLED, z]);
                self.number(u64::from(mass_number));
                self.count(count);
            }
        }
    }

    fn count(&mut self, count: Count) {
        match count {
            Count::Known(whole, 1) => self.number(u64::from(whole) << 2),
            Count::Known(numerator, denominator) => {
                self.number(u64::from(numerator) << 2 | 1);
                self.number(u64::from(denominator));
            }
            Count::Unknown(letter) => self.number(u64::from(letter) << 2 | 2),
        }
    }

    fn number(&mut self, mut number: u64) {
        while number >= 0x80 {
            self.0.push(number as u8 | 0x80);
            number >>= 7;
        }
        self.0.push(number as u8);
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub(super) fn tokens(&self) -> Tokens<'_> {
        Tokens { bytes: &self.0 }
    }
}

/// The tokens of a formula, in order.
#[derive(Debug, Clone)]
pub(super) struct Tokens<'a> {
    bytes: &'a [u8],
}

impl Tokens<'_> {
    fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.bytes.split_first()?;
        self.bytes = rest;
        Some(*first)
    }

    fn number(&mut self) -> Option<u64> {
        let mut number = 0;
        let mut shift = 0;
        loop {
            let byte = self.byte()?;
            number |= u64::from(byte & 0x7F) << shift;
            if byte < 0x80 {
                return Some(number);
            }
            shift += 7;
        }
    }

    fn count(&mut self) -> Option<Count> {
        let number = self.number()?;
        let value = u32::try_from(number >> 2).ok()?;
        Some(match number & 3 {
            0 => Count::Known(value, 1),
            1 => Count::Known(value, u32::try_from(self.number()?).ok()?),
            _ => Count::Unknown(char::from_u32(value)?),
        })
    }
}

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        let byte = self.byte()?;
        Some(match byte {
            1..LABELLED => Token::Atom(Element::from_number(byte)?.into(), Count::ONE),
            LABELLED => {
                let element = Element::from_number(self.byte()?)?;
                let mass_number = u16::try_from(self.number()?).ok()?;
                Token::Atom(Atom::known(element, mass_number), self.count()?)
            }
            OPEN..CLOSE => Token::Open(*Bracket::ALL.get(usize::from(byte - OPEN))?, self.count()?),
            CLOSE..DOT => Token::Close(*Bracket::ALL.get(usize::from(byte - CLOSE))?),
            DOT => Token::Dot,
            COEFFICIENT => Token::Coefficient(self.count()?),
            CHARGE => {
                let number = self.number()?;
                let size = i32::try_from(number >> 1).ok()?;
                Token::Charge(if number & 1 == 1 { -size } else { size })
            }
            _ => {
                let element = Element::from_number(byte & 0x7F)?;
                Token::Atom(element.into(), self.count()?)
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::vec::Vec;

    #[test]
    fn what_is_packed_comes_out() {
        let atom = |z| Atom::natural(Element::from_number(z).unwrap());
        let deuterium = Atom::labelled(Element::HYDROGEN, 2).unwrap();
        let all = [
            Token::Coefficient(Count::known(5, 2)),
            Token::Atom(atom(1), Count::ONE),
            Token::Atom(atom(118), Count::Known(999_999_999, 1)),
            Token::Open(Bracket::Round, Count::Known(2, 1)),
            Token::Open(Bracket::Square, Count::ONE),
            Token::Open(Bracket::Curly, Count::Unknown('n')),
            Token::Atom(deuterium, Count::known(999_999_999, 1_000_000)),
            Token::Close(Bracket::Curly),
            Token::Close(Bracket::Square),
            Token::Close(Bracket::Round),
            Token::Charge(-999),
            Token::Dot,
            Token::Atom(atom(8), Count::Unknown('x')),
            Token::Charge(3),
        ];
        let mut packed = Packed::new();
        all.iter().for_each(|token| packed.push(*token));
        assert_eq!(packed.tokens().collect::<Vec<_>>(), all);
    }

    #[test]
    fn thirty_two_terms_stay_in_line() {
        let mut packed = Packed::new();
        for z in 1..=32 {
            let element = Element::from_number(z).unwrap();
            packed.push(Token::Atom(element.into(), Count::Known(4095, 1)));
        }
        assert!(!packed.0.spilled());
        assert!(core::mem::size_of::<Packed>() <= 128);
    }
}
