//! The word of the tables that is nearest to a misspelt one.

use alloc::vec::Vec;
use core::mem::replace;

use super::ions::{ANIONS, CATIONS, METAL_SYNONYMS, METALS, MOLECULES, Metal};

/// Longer words are not compared.
const LONGEST: usize = 32;

/// The word of the tables that is nearest to this one, if it is near.
pub(super) fn nearest_word(word: &str) -> Option<&'static str> {
    let ions = CATIONS.iter().chain(ANIONS);
    let names = ions.flat_map(|ion| {
        let others = ion.names.iter().map(|(name, _)| *name);
        [ion.name].into_iter().chain(others)
    });
    let metals = METALS.iter().map(Metal::name);
    let synonyms = METAL_SYNONYMS.iter().map(|(name, ..)| *name);
    let molecules = MOLECULES.iter().map(|(name, _)| *name);
    let all = names.chain(metals).chain(synonyms).chain(molecules);
    nearest(word, all.chain(["hydrate", "anhydrous"]))
}

/// The nearest of these names, if at most two letters and a quarter of the letters differ.
pub(super) fn nearest(
    word: &str,
    names: impl Iterator<Item = &'static str>,
) -> Option<&'static str> {
    const MOST_OFF: usize = 2;
    if word.len() > LONGEST {
        return None;
    }
    let letters: Vec<char> = word.chars().collect();
    names
        .map(|name| (distance(&letters, &name.chars().collect::<Vec<_>>()), name))
        .filter(|(distance, name)| *distance <= MOST_OFF.min(name.len().max(4) / 4))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Letters to add, drop, replace or exchange with their neighbour to make one word the other.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    let at = |row: &[usize], place: usize| row.get(place).copied().unwrap_or(usize::MAX / 2);
    let mut last = None;
    for (i, x) in a.iter().enumerate() {
        let mut row: Vec<usize> = [i + 1].into();
        let mut left = None;
        for (j, y) in b.iter().enumerate() {
            let mut least = (at(&above, j) + usize::from(x != y))
                .min(at(&above, j + 1) + 1)
                .min(at(&row, j) + 1);
            if let (Some(up), Some(back)) = (last, left) {
                if (up, back) == (y, x) {
                    least = least.min(at(&before, j - 1) + 1);
                }
            }
            row.push(least);
            left = Some(y);
        }
        before = replace(&mut above, row);
        last = Some(x);
    }
    at(&above, b.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_found() {
        assert_eq!(nearest_word("sulfaet"), Some("sulfate"));
        assert_eq!(nearest_word("cobolt"), Some("cobalt"));
        assert_eq!(nearest_word("magnesum"), Some("magnesium"));
        assert_eq!(nearest_word("alumminium"), Some("aluminium"));
        assert_eq!(nearest_word("table"), None);
        assert_eq!(nearest_word(""), None);
        assert_eq!(nearest_word(&"a".repeat(40)), None);
    }
}
