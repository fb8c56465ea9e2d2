//! How a formula is kept: one word of 16 bits a term, in line up to 100 of them, so that a
//! formula is read, copied and dropped without the heap.
//!
//! ```text
//! formula  := [COEFFICIENT+count] part (DOT+count part)*
//! part     := term* [CHARGE+number]
//! term     := z+count | LABELLED+count z+mass-number | OPEN+count | CLOSE+count
//! ```
//!
//! A bracket that opens has the count of its group, too: [`MORE`] where that stands only behind it,
//! and nought as long as it is not closed.
//! A dot has the coefficient of the part behind it; that of the first part, if it is not 1, stands before
//! all.
//!
//! The lowest seven bits of a word tell what it is, the others hold its count, if that is whole and
//! below [`MORE`]. If it is whole and a word holds it, it is the next one; else numerator and
//! denominator follow, each in a word if one holds it, or both in two, the lower half first. A count
//! that is left open has the letter for its numerator and nought for its denominator.
//!
//! One meaning has one row of words: equality and hashing go by them.

use crate::formula::limits::MOST_BYTES;

/// Room for 32 terms of three words and what joins them: an atom in brackets of its own, one with a
/// fraction for its count, a labelled one with a count of many digits.
pub(crate) const IN_LINE: usize = 100;

pub(crate) const CHARGE: u16 = 0;
/// Every sign up to here is nought or an atomic number.
pub(crate) const LAST_ATOM: u16 = 118;
pub(crate) const LABELLED: u16 = LAST_ATOM + 1;
pub(crate) const OPEN: u16 = 120;
pub(crate) const CLOSE: u16 = 123;
pub(crate) const DOT: u16 = 126;
pub(crate) const COEFFICIENT: u16 = 127;

/// Where a word's count begins.
pub(crate) const SHIFT: u32 = 7;
pub(crate) const SIGN: u16 = 0x7F;
/// What stands in a word for a count in the next one; counts below it stand in the word itself.
pub(crate) const MORE: u16 = 509;
/// What stands in a word for a numerator and a denominator in the next two, and in the next four.
pub(crate) const FRACTION: u16 = 510;
pub(crate) const LONG_FRACTION: u16 = 511;

/// No byte of a text becomes more: T is a labelled atom, and a count left open is a fraction.
pub(crate) const MOST_PER_BYTE: usize = 3;

/// No formula has more words.
pub(crate) const MOST_WORDS: u64 = (MOST_BYTES * MOST_PER_BYTE) as u64;

const _: () = assert!(MOST_WORDS <= u16::MAX as u64);

/// The word of an atom with a count below [`MORE`].
#[inline(always)]
pub(crate) const fn plain(z: u8, count: u16) -> u16 {
    z as u16 | count << SHIFT
}

/// A word's sign and its count.
#[inline(always)]
pub(crate) const fn apart(word: u16) -> (u16, u16) {
    (word & SIGN, word >> SHIFT)
}

/// Whether a word holds its count itself.
#[inline(always)]
pub(crate) const fn says_all(word: u16) -> bool {
    word < MORE << SHIFT
}
