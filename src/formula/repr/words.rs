//! The words in which a formula is kept: one of 16 bits a term. Up to 100 of them lie in the formula
//! itself, so that it is read, copied and dropped without the heap.
//!
//! ```text
//! formula  := [COEFFICIENT+count] part (DOT+count part)*
//! part     := term* [CHARGE+number]
//! term     := z+count | LABELLED+count z+mass-number | OPEN+count | CLOSE+count
//! ```
//!
//! A bracket that opens has the count of its group, too: [`COUNT_FOLLOWS`] if only the closing bracket
//! holds it, and zero as long as the group is not closed.
//! A dot has the coefficient of the part after it. The coefficient of the first part comes before all
//! words, if it is not 1.
//!
//! The lowest seven bits of a word are its tag, which says what it is. The others hold its count, if that
//! is whole and below [`LEAST_LONG_COUNT`]. A larger whole count of 16 bits is the next word. Otherwise
//! numerator and denominator follow, in a word each, or in two words each with the lower half first. An
//! unknown count has its letter for a numerator and zero for a denominator.
//!
//! One meaning has one row of words: equality and hashing go by them.

use crate::formula::limits::MOST_BYTES;

/// The number of words that lie in the formula itself: 32 terms of three words and what joins them. An
/// atom in brackets has three words, and so has one with a fraction for its count.
pub(crate) const INLINE: usize = 100;

pub(crate) const CHARGE: u16 = 0;
/// The largest atomic number. Every smaller tag but [`CHARGE`] is one, too.
pub(crate) const LAST_ATOM: u16 = 118;
pub(crate) const LABELLED: u16 = LAST_ATOM + 1;
pub(crate) const OPEN: u16 = 120;
pub(crate) const CLOSE: u16 = 123;
pub(crate) const DOT: u16 = 126;
pub(crate) const COEFFICIENT: u16 = 127;

/// The bit at which a word's count begins.
pub(crate) const SHIFT: u32 = 7;
/// The bits of a word that hold its tag.
pub(crate) const TAG: u16 = 0x7F;
/// Says that the count is the next word, or that only the closing bracket has it.
pub(crate) const COUNT_FOLLOWS: u16 = 509;
/// The least whole count that its word does not hold itself.
pub(crate) const LEAST_LONG_COUNT: u16 = COUNT_FOLLOWS;
/// Says that numerator and denominator are in the next two words, and in the next four.
pub(crate) const FRACTION: u16 = 510;
pub(crate) const LONG_FRACTION: u16 = 511;

/// No byte of a text becomes more words: T is a labelled atom, and an unknown count is a fraction.
pub(crate) const MOST_PER_BYTE: usize = 3;

/// No formula has more words.
pub(crate) const MOST_WORDS: u64 = (MOST_BYTES * MOST_PER_BYTE) as u64;

const _: () = assert!(MOST_WORDS <= u16::MAX as u64);

/// The word of an atom with a count below [`LEAST_LONG_COUNT`].
pub(crate) const fn atom_word(z: u8, count: u16) -> u16 {
    z as u16 | count << SHIFT
}

/// A word's tag and its count.
pub(crate) const fn split(word: u16) -> (u16, u16) {
    (word & TAG, word >> SHIFT)
}

/// Whether a word holds its count itself.
pub(crate) const fn holds_its_count(word: u16) -> bool {
    word < COUNT_FOLLOWS << SHIFT
}
