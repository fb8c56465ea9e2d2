//! What is water: the one place that knows its spellings.

use super::words::{CLOSE, atom_word, split};

const H: u16 = atom_word(1, 1);
const H2: u16 = atom_word(1, 2);
const H20: u16 = atom_word(1, 20);
const O: u16 = atom_word(8, 1);

/// How water is spelled, or what looks like it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WaterSpelling {
    /// H2O
    Usual,
    /// OH2, HOH and their like
    Rare,
    /// H20: twenty hydrogens
    ZeroForO,
}

impl WaterSpelling {
    /// The spelling of water in the words of uncharged terms.
    pub(crate) const fn of(words: &[u16]) -> Option<WaterSpelling> {
        match words {
            [H2, O] => Some(WaterSpelling::Usual),
            [O, H2] | [H, H, O] | [H, O, H] | [O, H, H] => Some(WaterSpelling::Rare),
            [H20] => Some(WaterSpelling::ZeroForO),
            _ => None,
        }
    }

    pub(crate) const fn is_water(words: &[u16]) -> bool {
        matches!(
            WaterSpelling::of(words),
            Some(WaterSpelling::Usual | WaterSpelling::Rare)
        )
    }

    /// Whether words are water, but not in its usual spelling.
    #[inline]
    pub(crate) const fn is_rare(words: &[u16]) -> bool {
        matches!(
            WaterSpelling::of(words),
            Some(WaterSpelling::Rare | WaterSpelling::ZeroForO)
        )
    }

    /// Whether water in its usual spelling may begin with a word, which is zero if the words are on the
    /// heap.
    #[inline(always)]
    pub(crate) const fn may_be_usual(first: u16) -> bool {
        matches!(first, H2 | 0)
    }

    /// Whether words may be rare, by the first word, which is zero if the words are on the heap.
    #[inline(always)]
    pub(crate) const fn may_be_rare(first: u16) -> bool {
        matches!(first, O | H | H20 | 0)
    }
}

/// Whether a bracket has nothing but water in it, or what looks like water. Its inside begins with these words.
#[inline(always)]
pub(crate) fn begins_with_group_of_water(inside: &[u16]) -> bool {
    let closes = |word: u16| split(word).0 >= CLOSE;
    match inside {
        [H20, end, ..] if closes(*end) => true,
        [a, b, end, ..] if closes(*end) => WaterSpelling::is_water(&[*a, *b]),
        [a, b, c, end, ..] if closes(*end) => WaterSpelling::is_water(&[*a, *b, *c]),
        _ => false,
    }
}
