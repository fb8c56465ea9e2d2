//! Formulas typed in capitals, in which two elements were probably meant to be a metal.

use crate::text::Span;

/// Two capitals that are probably a metal, and where they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct CapitalPair {
    offset: u16,
    pair: &'static (&'static str, &'static str),
}

impl CapitalPair {
    pub(crate) fn span(self) -> Span {
        let start = self.offset.into();
        Span::new(start, start + 2)
    }

    /// The metal's symbol.
    pub(crate) fn symbol(self) -> &'static str {
        self.pair.1
    }
}

/// Pairs of capitals that are nearly always a metal (or silicon) typed without small letters, if more
/// elements follow.
const PAIRS: [(&str, &str); 10] = [
    ("CU", "Cu"),
    ("NI", "Ni"),
    ("SN", "Sn"),
    ("SB", "Sb"),
    ("SI", "Si"),
    ("PB", "Pb"),
    ("BI", "Bi"),
    ("NB", "Nb"),
    ("PU", "Pu"),
    ("YB", "Yb"),
];

/// Whether two neighbouring bytes of a text are such a pair.
#[inline]
pub(crate) fn may_be_in_capitals(text: &str) -> bool {
    let mut pairs = text.as_bytes().windows(2);
    pairs.any(|pair| match pair {
        // Their lowest five bits rule out most bytes.
        [first, second] if SECOND_LETTERS & letter_bit(*second) != 0 => matches!(
            (first, second),
            (b'C' | b'P', b'U')
                | (b'N' | b'S' | b'B', b'I')
                | (b'S' | b'P' | b'N' | b'Y', b'B')
                | (b'S', b'N')
        ),
        _ => false,
    })
}

/// The second letters of the pairs.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
const SECOND_LETTERS: u32 = {
    let (mut letters, mut index) = (0, 0);
    while index < PAIRS.len() {
        letters |= letter_bit(PAIRS[index].0.as_bytes()[1]);
        index += 1;
    }
    letters
};

/// A bit for each letter of the alphabet, which other bytes share.
const fn letter_bit(letter: u8) -> u32 {
    1 << (letter & 0x1F)
}

/// The first of these pairs in a text without small letters.
pub(crate) fn metal_in_capitals(text: &str) -> Option<CapitalPair> {
    if text.chars().any(|c| c.is_ascii_lowercase()) {
        return None;
    }
    PAIRS.iter().find_map(|pair| {
        let (before, after) = text.split_once(pair.0)?;
        let begins = !before.ends_with(|c: char| c.is_ascii_uppercase());
        let more = after.chars().any(|c| c.is_ascii_uppercase());
        (begins && more).then_some(CapitalPair {
            offset: before.len() as u16,
            pair,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::String;
    use alloc::vec::Vec;

    #[test]
    fn the_first_look_is_for_these_pairs_and_nothing_else() {
        let letters = || (b'A'..=b'Z').map(char::from);
        let pairs = letters().flat_map(|a| letters().map(move |b| String::from_iter([a, b])));
        let found: Vec<String> = pairs.filter(|pair| may_be_in_capitals(pair)).collect();
        let mut known = PAIRS.map(|(capitals, _)| capitals);
        known.sort_unstable();
        assert_eq!(found, known);
    }
}
