//! The name that was probably meant.

use alloc::format;
use alloc::string::String;

use super::distance::likely;
use super::list::list;

/// Names that a policy has in one format, and what the same thing is in the other: JSON and TOML.
const OTHER_FORMAT: [(&str, &str); 3] = [
    ("jar", "stock"),
    ("stock", "jar"),
    ("issued_percent_water", "jar.percent_water"),
];

/// Returns what to do about a word that is not one of the names.
pub(crate) fn advice(word: &str, names: &[&str], all: &str) -> String {
    match in_other_format(word, names).or_else(|| likely(word, names)) {
        Some(name) => format!("did you mean `{name}`?"),
        None => all_of(names, all),
    }
}

/// Returns the names, after the words that introduce them.
pub(super) fn all_of(names: &[&str], all: &str) -> String {
    let names = names.iter().map(|name| format!("`{name}`"));
    format!("{all} {}", list(names))
}

fn in_other_format(word: &str, names: &[&str]) -> Option<&'static str> {
    let same = OTHER_FORMAT.into_iter().filter(|(other, _)| *other == word);
    let mut here = same.map(|(_, name)| name);
    here.find(|name| names.contains(&name.split('.').next().unwrap_or_default()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_keys_is_seen_through() {
        let names = ["ratio", "percent_water", "formula"];
        for (word, name) in [
            ("ratoi", Some("ratio")),
            ("Ratio", Some("ratio")),
            ("rati", Some("ratio")),
            ("percent water", Some("percent_water")),
            ("percentwater", Some("percent_water")),
            ("fromula", Some("formula")),
            ("colour", None),
            ("", None),
        ] {
            assert_eq!(likely(word, &names), name, "{word}");
        }
        assert_eq!(likely(&"ratio".repeat(9), &names), None);
    }

    #[test]
    fn where_nothing_is_near_all_are_named() {
        let names = ["absolute", "percent"];
        assert_eq!(
            advice("width", &names, "give one of"),
            "give one of `absolute` and `percent`"
        );
        assert_eq!(
            advice("absolut", &names, "give one of"),
            "did you mean `absolute`?"
        );
    }
}
