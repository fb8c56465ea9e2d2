//! Names that were probably meant by a misspelt one.

/// The library's own file, which is not public.
#[path = "../../src/text/distance.rs"]
mod distance;

use distance::edit_distance;

/// The name that was probably meant by a word.
pub(crate) fn likely_name<'n>(word: &str, names: &[&'n str]) -> Option<&'n str> {
    const LONGEST: usize = 40;
    let plain = |text: &str| -> Vec<char> {
        text.chars()
            .map(|c| match c {
                '-' | ' ' => '_',
                _ => c.to_ascii_lowercase(),
            })
            .collect()
    };
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

/// The help for a word that is not among the names.
pub(crate) fn help(word: &str, names: &[&str], introduction: &str) -> String {
    match likely_name(word, names) {
        Some(name) => format!("did you mean `{name}`?"),
        None => format!("{introduction} {}", quoted(names)),
    }
}

/// The names in a list: `` `a`, `b`, `c` ``.
pub(crate) fn quoted(names: &[&str]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}
