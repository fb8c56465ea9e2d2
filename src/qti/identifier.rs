//! Lawful and unique identifiers from any text.

use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::String;

/// The longest identifier that is made from a text, without the number that makes it unique.
const LONGEST: usize = 80;

/// The identifiers of a package. No two differ by case alone, because they are also names of files.
#[derive(Default)]
pub(super) struct Identifiers {
    /// All identifiers, in lower case.
    taken: BTreeSet<String>,
    /// The last number that made an identifier unique.
    numbers: BTreeMap<String, usize>,
}

impl Identifiers {
    /// Returns an identifier for a text. The same texts in the same order give the same identifiers.
    pub(super) fn unique(&mut self, text: &str) -> String {
        let name = lawful(text);
        let folded = name.to_ascii_lowercase();
        if self.taken.insert(folded.clone()) {
            return name;
        }
        let number = self.numbers.entry(folded.clone()).or_insert(1);
        loop {
            *number += 1;
            if self.taken.insert(format!("{folded}-{number}")) {
                return format!("{name}-{number}");
            }
        }
    }
}

/// A name that XML allows: a letter first, then letters, digits, hyphens and underscores. One without a hyphen gets
/// one, because some file systems reserve words such as `con`.
fn lawful(text: &str) -> String {
    let letters = text.chars().take(LONGEST).map(|letter| match letter {
        '-' => '-',
        letter if letter.is_ascii_alphanumeric() => letter,
        _ => '_',
    });
    let name: String = letters.collect();
    match name.starts_with(|first: char| first.is_ascii_alphabetic()) && name.contains('-') {
        true => name,
        false => format!("item-{name}"),
    }
}

/// Returns whether a text is an identifier as they are made here. So it is also the name of a file in its folder.
pub(super) fn is_lawful(text: &str) -> bool {
    let is_allowed = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_');
    text.starts_with(|first: char| first.is_ascii_alphabetic()) && text.bytes().all(is_allowed)
}

#[cfg(test)]
mod tests {
    use alloc::vec::Vec;

    use super::*;

    #[test]
    fn identifiers_are_lawful_and_unique() {
        let long = "x-".repeat(5_000);
        let texts = [
            "percent_water-7-3-B",
            "percent_water-7-3-B",
            "PERCENT_water-7-3-b",
            "percent_water-7-3-B-2",
            "",
            "",
            "7-3",
            "con",
            "../a",
            "<script>\"]]>&",
            "\u{202e}塩-1",
            &long,
            &long,
        ];
        let mut identifiers = Identifiers::default();
        let made: Vec<String> = texts.iter().map(|text| identifiers.unique(text)).collect();
        assert_eq!(made[0], "percent_water-7-3-B");
        assert_eq!(made[1], "percent_water-7-3-B-2");
        assert_eq!(made[3], "percent_water-7-3-B-2-2");
        assert_eq!(made[6], "item-7-3");
        assert_eq!(made[7], "item-con");
        let folded: BTreeSet<String> = made.iter().map(|name| name.to_ascii_lowercase()).collect();
        assert_eq!(folded.len(), made.len(), "{made:?}");
        for name in &made {
            assert!(is_lawful(name) && name.len() <= LONGEST + 8, "{name}");
        }
        let mut again = Identifiers::default();
        assert!(texts.iter().map(|text| again.unique(text)).eq(made));
    }
}
