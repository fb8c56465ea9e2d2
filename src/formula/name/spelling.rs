//! The word of the tables that is nearest to a misspelt one.

use alloc::vec::Vec;

use crate::formula::ions::{ANIONS, CATIONS, METAL_SYNONYMS, METALS, MOLECULES, Metal};
use crate::text::edit_distance;

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
        .map(|name| {
            (
                edit_distance(&letters, &name.chars().collect::<Vec<_>>()),
                name,
            )
        })
        .filter(|(distance, name)| *distance <= MOST_OFF.min(name.len().max(4) / 4))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
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
