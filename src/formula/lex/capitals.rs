//! Two capitals, which were probably meant to be a metal.
//!
//! A formula typed in capitals is doubtful if it has a pair that is nearly always a metal. Any formula is
//! doubtful if it begins with the pair of a metal, and the rest is an anion that balances the metal's
//! charge. Carbonyl has compounds with halogens, so that `CO` also needs water or an oxoanion.

use super::adduct::is_dot;
use crate::formula::repr::State;
use crate::text::{Span, is_space};

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

/// Metals (and silicon) whose symbols are two elements in capitals, with their charges in salts.
const METALS: [((&str, &str), &[usize]); 15] = [
    (("CO", "Co"), &[2, 3]),
    (("CU", "Cu"), &[1, 2]),
    (("CS", "Cs"), &[1]),
    (("NI", "Ni"), &[2]),
    (("NB", "Nb"), &[5]),
    (("SN", "Sn"), &[2, 4]),
    (("SB", "Sb"), &[3, 5]),
    (("SI", "Si"), &[4]),
    (("SC", "Sc"), &[3]),
    (("PB", "Pb"), &[2, 4]),
    (("PU", "Pu"), &[3, 4]),
    (("BI", "Bi"), &[3]),
    (("YB", "Yb"), &[3]),
    (("HO", "Ho"), &[3]),
    (("IN", "In"), &[3]),
];

/// Anions of salts, with their charges.
const ANIONS: [(&str, usize); 13] = [
    ("F", 1),
    ("Cl", 1),
    ("Br", 1),
    ("I", 1),
    ("CH3COO", 1),
    ("CH3CO2", 1),
    ("C2H3O2", 1),
    ("C2O4", 2),
    ("NO3", 1),
    ("ClO4", 1),
    ("SO4", 2),
    ("CO3", 2),
    ("PO4", 3),
];

/// The anions from here on are oxoanions without other compounds of carbonyl.
const FIRST_OXOANION: usize = 8;

/// Whether a text begins with two capitals that are the symbol of a metal, and an anion may follow.
#[inline]
pub(crate) fn may_begin_with_metal(text: &str) -> bool {
    // The second letter is small in most formulas, or there is a digit.
    match text.as_bytes() {
        [first, second @ b'A'..=b'Z', third, ..] => matches!(
            (first, second, third),
            (
                b'C' | b'H' | b'N' | b'S' | b'P' | b'B' | b'Y' | b'I',
                b'O' | b'U' | b'S' | b'I' | b'B' | b'N' | b'C',
                b'F' | b'C' | b'B' | b'I' | b'N' | b'S' | b'P' | b'('
            )
        ),
        _ => false,
    }
}

/// The metal at the start of a text in capitals, if the rest is an anion that balances its charge:
/// `SNCl2·2H2O`, `COSO4·7H2O`.
pub(crate) fn metal_of_salt(text: &str) -> Option<CapitalPair> {
    let (pair, charges) = METALS.iter().find(|(pair, _)| text.starts_with(pair.0))?;
    let mut parts = text.get(pair.0.len()..)?.split(is_dot);
    let salt = parts.next()?.trim_end_matches(is_space);
    let (salt, _) = State::split_label(salt);
    let group = salt.rfind('(').and_then(|at| salt.split_at_checked(at));
    let (salt, has_water) = match group {
        Some((salt, group)) if group.starts_with("(H2O)") => (salt, true),
        _ => (salt, parts.any(ends_with_water)),
    };
    let (anion, charge) = anions(salt)?;
    let is_carbonyl = pair.0 == "CO" && anion < FIRST_OXOANION && !has_water;
    let is_salt = charges.contains(&charge) && !is_carbonyl;
    is_salt.then_some(CapitalPair { offset: 0, pair })
}

/// The index of the anion that is the whole text, and the charge of all of them without its sign.
fn anions(text: &str) -> Option<(usize, usize)> {
    let group = text.strip_prefix('(').and_then(|text| text.split_once(')'));
    ANIONS
        .iter()
        .enumerate()
        .find_map(|(index, (anion, charge))| {
            let count = match group {
                Some((inside, count)) => Some(count).filter(|_| inside == *anion)?,
                None => text.strip_prefix(anion)?,
            };
            let may_count = group.is_some() || anion.ends_with(|c: char| c.is_ascii_alphabetic());
            let count = match count.as_bytes() {
                [] => 1,
                [digit @ b'1'..=b'9'] if may_count => usize::from(digit - b'0'),
                _ => return None,
            };
            Some((index, charge * count))
        })
}

/// Whether a part is a number of waters.
fn ends_with_water(part: &str) -> bool {
    part.trim_matches(is_space)
        .trim_end_matches("(s)")
        .ends_with("H2O")
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::format;
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

    #[test]
    fn the_first_look_is_for_the_metals_of_salts() {
        for ((capitals, _), _) in METALS {
            for (anion, _) in ANIONS {
                for text in [
                    format!("{capitals}{anion}"),
                    format!("{capitals}({anion})2"),
                ] {
                    assert!(may_begin_with_metal(&text), "{text}");
                }
            }
        }
    }
}
