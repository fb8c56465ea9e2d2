//! Text of a sheet on one line: as names are kept, shown and compared.

use alloc::string::String;

use crate::text::is_space;

/// Characters of a cell that a message shows.
const MOST_SHOWN: usize = 60;

/// Returns the text on one line: every run of white space or control characters is one blank.
pub(super) fn flat(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    write_flat(text, &mut out);
    out
}

/// Writes the text on one line, into an empty string.
pub(super) fn write_flat(text: &str, out: &mut String) {
    // Most names need nothing done to them.
    if text.bytes().all(|b| b.is_ascii_graphic()) {
        out.push_str(text);
        return;
    }
    for word in text.split(|c: char| is_space(c) || c.is_control()) {
        if !word.is_empty() {
            if !out.is_empty() {
                out.push(' ');
            }
            out.push_str(word);
        }
    }
}

/// Returns the text on one line, cut where a message would grow too long.
pub(super) fn shown(text: &str) -> String {
    let mut out = flat(text);
    if let Some((end, _)) = out.char_indices().nth(MOST_SHOWN) {
        out.truncate(end);
        out.push('…');
    }
    out
}

/// Adds a name in the form in which names are compared: without regard to case or to blanks.
pub(super) fn write_name_key(name: &str, key: &mut String) {
    if name.is_ascii() {
        key.extend(name.chars().map(|c| c.to_ascii_lowercase()));
    } else {
        key.push_str(&name.to_lowercase());
    }
}
