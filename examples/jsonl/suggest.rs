//! Names that were probably meant by a misspelt one.

/// The library's own file, which is not public.
#[path = "../../src/text/distance.rs"]
mod distance;

pub(crate) use distance::likely;

/// The help for a word that is not among the names.
pub(crate) fn help(word: &str, names: &[&str], introduction: &str) -> String {
    match likely(word, names) {
        Some(name) => format!("did you mean `{name}`?"),
        None => format!("{introduction} {}", quoted(names)),
    }
}

/// The names in a list: `` `a`, `b`, `c` ``.
pub(crate) fn quoted(names: &[&str]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}
