//! How a formula is kept: one or two bytes a term, in line up to some 32 terms, so that a formula
//! is read, copied and dropped without the heap.
//!
//! ```text
//! formula  := part (DOT part)*
//! part     := [COEFFICIENT count] term* [CHARGE number]
//! term     := z | 0x80+z count | LABELLED z mass-number count | OPEN | CLOSE count
//! count    := number           the lowest two bits tell its kind:
//!             ..00 whole  ..01 numerator, a second number is the denominator  ..10 open (x, n)
//! number   := seven bits a byte, the lowest first; the top bit says that more follow
//! ```
//!
//! One meaning has one row of bytes: equality and hashing go by them.

use alloc::vec::Vec;

use super::notation::Bracket;
use super::{Count, parse};
use crate::element::{Atom, Element};

/// Room for 32 terms with counts of up to four digits.
pub(super) const IN_LINE: usize = 104;

const LABELLED: u8 = 119;
const OPEN: u8 = 120;
const CLOSE: u8 = 123;
const DOT: u8 = 126;
const COEFFICIENT: u8 = 127;
const CHARGE: u8 = 128;

/// No byte of a text becomes more: T is a labelled atom with its count.
const MOST_PER_BYTE: usize = 4;

const _: () = assert!(parse::MOST_BYTES * MOST_PER_BYTE <= u16::MAX as usize);

/// One piece of a formula, in the order in which it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Token {
    Dot,
    Coefficient(Count),
    Atom(Atom, Count),
    Open(Bracket),
    /// The bracket and the count of the whole group.
    Close(Bracket, Count),
    Charge(i32),
}

/// The bytes: in line as long as there is room, the rest behind. (Unused room is nought, so that
/// what is derived goes by the meaning.)
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Packed {
    in_line: [u8; IN_LINE],
    length: usize,
    rest: Vec<u8>,
}

impl Packed {
    pub(super) const fn new() -> Packed {
        Packed {
            in_line: [0; IN_LINE],
            length: 0,
            rest: Vec::new(),
        }
    }

    #[inline(always)]
    fn byte(&mut self, byte: u8) {
        match self.in_line.get_mut(self.length) {
            Some(room) => {
                *room = byte;
                self.length += 1;
            }
            None => self.rest.push(byte),
        }
    }

    #[inline(always)]
    pub(super) fn push(&mut self, token: Token) {
        match token {
            Token::Dot => self.byte(DOT),
            Token::Coefficient(count) => {
                if !count.is_one() {
                    self.byte(COEFFICIENT);
                    self.count(count);
                }
            }
            Token::Atom(atom, count) => self.atom(atom, count),
            Token::Open(bracket) => self.byte(OPEN + bracket as u8),
            Token::Close(bracket, count) => {
                self.byte(CLOSE + bracket as u8);
                self.count(count);
            }
            Token::Charge(charge) => {
                if charge != 0 {
                    self.byte(CHARGE);
                    self.number(u64::from(charge.unsigned_abs()) << 1 | u64::from(charge < 0));
                }
            }
        }
    }

    #[inline(always)]
    fn atom(&mut self, atom: Atom, count: Count) {
        let z = atom.element().number();
        match atom.mass_number() {
            None if count.is_one() => self.byte(z),
            None => {
                self.byte(0x80 | z);
                self.count(count);
            }
            Some(mass_number) => {
                self.byte(LABELLED);
                self.byte(z);
                self.number(u64::from(mass_number));
                self.count(count);
            }
        }
    }

    #[inline(always)]
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

    #[inline(always)]
    fn number(&mut self, mut number: u64) {
        while number >= 0x80 {
            self.byte(number as u8 | 0x80);
            number >>= 7;
        }
        self.byte(number as u8);
    }

    pub(super) fn is_empty(&self) -> bool {
        self.length == 0
    }

    /// How many bytes there are, while a text is read: few enough for two bytes.
    #[inline]
    pub(super) fn length(&self) -> u16 {
        (self.length + self.rest.len()) as u16
    }

    /// The bytes from one on up to another, where all of them are in line; else none.
    #[inline]
    pub(super) fn between(&self, start: u16, end: u16) -> &[u8] {
        let bytes = self.in_line.get(usize::from(start)..usize::from(end));
        bytes.unwrap_or_default()
    }

    /// Takes away what was pushed after there were so many bytes.
    pub(super) fn truncate(&mut self, length: u16) {
        let length = usize::from(length);
        self.rest.truncate(length.saturating_sub(IN_LINE));
        self.length = self.length.min(length);
        self.in_line
            .get_mut(self.length..)
            .unwrap_or_default()
            .fill(0);
    }

    /// The tokens pushed after there were so many bytes.
    pub(super) fn tokens_from(&self, start: u16) -> Tokens<'_> {
        let start = usize::from(start);
        let in_line = self.in_line.get(..self.length).unwrap_or_default();
        let (bytes, rest) = match in_line.get(start..) {
            Some(bytes) => (bytes, self.rest.as_slice()),
            None => {
                let start = start.saturating_sub(IN_LINE);
                (self.rest.get(start..).unwrap_or_default(), [].as_slice())
            }
        };
        Tokens { bytes, rest }
    }

    #[inline]
    pub(super) fn tokens(&self) -> Tokens<'_> {
        Tokens {
            bytes: self.in_line.get(..self.length).unwrap_or_default(),
            rest: &self.rest,
        }
    }
}

/// The tokens of a formula, in order.
#[derive(Debug, Clone)]
pub(super) struct Tokens<'a> {
    bytes: &'a [u8],
    rest: &'a [u8],
}

impl Tokens<'_> {
    #[inline(always)]
    fn byte(&mut self) -> Option<u8> {
        match self.bytes.split_first() {
            Some((first, rest)) => {
                self.bytes = rest;
                Some(*first)
            }
            None => self.byte_of_rest(),
        }
    }

    #[cold]
    fn byte_of_rest(&mut self) -> Option<u8> {
        self.bytes = core::mem::take(&mut self.rest);
        let (first, rest) = self.bytes.split_first()?;
        self.bytes = rest;
        Some(*first)
    }

    #[inline(always)]
    fn number(&mut self) -> Option<u64> {
        let first = self.byte()?;
        if first < 0x80 {
            return Some(u64::from(first));
        }
        self.long_number(first)
    }

    fn long_number(&mut self, first: u8) -> Option<u64> {
        let mut number = u64::from(first & 0x7F);
        let mut shift = 7;
        loop {
            let byte = self.byte()?;
            number |= u64::from(byte & 0x7F) << shift;
            if byte < 0x80 {
                return Some(number);
            }
            shift += 7;
        }
    }

    #[inline(always)]
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

    #[inline(always)]
    fn next(&mut self) -> Option<Token> {
        let byte = self.byte()?;
        Some(match byte {
            1..LABELLED => Token::Atom(Element::from_number(byte)?.into(), Count::ONE),
            LABELLED => {
                let element = Element::from_number(self.byte()?)?;
                let mass_number = u16::try_from(self.number()?).ok()?;
                Token::Atom(Atom::known(element, mass_number), self.count()?)
            }
            OPEN..CLOSE => Token::Open(*Bracket::ALL.get(usize::from(byte - OPEN))?),
            CLOSE..DOT => {
                let bracket = *Bracket::ALL.get(usize::from(byte - CLOSE))?;
                Token::Close(bracket, self.count()?)
            }
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
    use super::super::resolve::Reading;
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
            Token::Open(Bracket::Round),
            Token::Open(Bracket::Square),
            Token::Open(Bracket::Curly),
            Token::Atom(deuterium, Count::known(999_999_999, 1_000_000)),
            Token::Close(Bracket::Curly, Count::Known(2, 1)),
            Token::Close(Bracket::Square, Count::ONE),
            Token::Close(Bracket::Round, Count::Unknown('n')),
            Token::Charge(-999),
            Token::Dot,
            Token::Atom(atom(8), Count::Unknown('x')),
            Token::Charge(3),
        ];
        let mut packed = Packed::new();
        all.iter().for_each(|token| packed.push(*token));
        assert_eq!(packed.tokens().collect::<Vec<_>>(), all);
    }

    /// What is read of a text, refused or not.
    fn length_of(text: &str) -> usize {
        let mut reading = Reading::new(text);
        let _ = reading.read();
        usize::from(reading.formula.packed.length())
    }

    #[test]
    fn a_byte_of_a_text_becomes_four_at_most() {
        assert_eq!(length_of("T"), MOST_PER_BYTE);
        let longest = "T".repeat(parse::MOST_BYTES);
        assert_eq!(length_of(&longest), MOST_PER_BYTE * parse::MOST_BYTES);
        for text in [
            "Tx",
            "xT",
            "T2",
            "T+",
            "T·T",
            "T½",
            "½T",
            "Ox",
            "T0.12345678",
            "O1/999999999",
            "[238U]x",
            "(T)x",
            "T(OH2)",
            "T(HOH)x",
            "9(T)9",
            "[[T]x]x",
            "T*T*T",
            "Og999999999",
        ] {
            let length = length_of(text);
            assert!((1..=MOST_PER_BYTE * text.len()).contains(&length), "{text}");
        }
    }

    #[test]
    fn thirty_two_terms_stay_in_line() {
        let mut packed = Packed::new();
        for z in 1..=32 {
            let element = Element::from_number(z).unwrap();
            packed.push(Token::Atom(element.into(), Count::Known(4095, 1)));
        }
        assert!(packed.rest.is_empty());
        assert!(core::mem::size_of::<Packed>() <= 136);
    }
}
