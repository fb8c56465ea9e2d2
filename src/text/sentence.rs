//! Words made a sentence.

use alloc::string::String;

/// Returns words with a capital at the beginning and a full stop at the end. A first word of one
/// letter is a symbol, such as x, and stays as it is, unless it is the article.
pub(crate) fn sentence(words: &str) -> String {
    let mut out = String::with_capacity(words.len() + 1);
    let mut letters = words.chars();
    match letters.next() {
        Some(first)
            if words.starts_with("a ") || letters.as_str().starts_with(char::is_alphabetic) =>
        {
            out.extend(first.to_uppercase());
            out.push_str(letters.as_str());
        }
        _ => out.push_str(words),
    }
    if !words.ends_with(['.', '?', '!']) {
        out.push('.');
    }
    out
}
