//! How different two words are, and the name that was probably meant by a word.

use alloc::vec::Vec;

/// The longest word, in bytes, that is compared with the names.
const LONGEST: usize = 40;

/// The number of letters to add, drop, replace or exchange with their neighbour to make one word the
/// other.
pub(crate) fn edit_distance(a: &[char], b: &[char]) -> usize {
    let at = |row: &[usize], index: usize| row.get(index).copied().unwrap_or(usize::MAX / 2);
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    let mut last = None;
    for (i, x) in a.iter().enumerate() {
        let mut row: Vec<usize> = [i + 1].into();
        let mut left = None;
        for (j, y) in b.iter().enumerate() {
            let mut least = (at(&above, j) + usize::from(x != y))
                .min(at(&above, j + 1) + 1)
                .min(at(&row, j) + 1);
            if last == Some(y) && left == Some(x) {
                least = least.min(at(&before, j - 1) + 1);
            }
            row.push(least);
            left = Some(y);
        }
        before = core::mem::replace(&mut above, row);
        last = Some(x);
    }
    at(&above, b.len())
}

/// Returns the name that differs from the word by a few letters only.
pub(crate) fn likely<'n>(word: &str, names: &[&'n str]) -> Option<&'n str> {
    if word.len() > LONGEST {
        return None;
    }
    let word = plain(word);
    names
        .iter()
        .map(|name| (edit_distance(&word, &plain(name)), *name))
        .filter(|(distance, name)| distance * 3 <= name.len().max(3))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

fn plain(text: &str) -> Vec<char> {
    text.chars()
        .map(|c| match c {
            '-' | ' ' => '_',
            _ => c.to_ascii_lowercase(),
        })
        .collect()
}
