//! The text of a cell as messages show it, and as names are compared.

use alloc::string::String;

use crate::text::one_line;

/// Characters of a cell that a message shows.
const MOST_SHOWN: usize = 60;

/// Returns the text on one line, cut where a message would grow too long.
pub(super) fn shown(text: &str) -> String {
    let mut out = one_line(text);
    if let Some((end, _)) = out.char_indices().nth(MOST_SHOWN) {
        out.truncate(end);
        out.push('…');
    }
    out
}

/// Adds a name in the form in which names are compared: without regard to case. The name is already on
/// one line.
pub(super) fn write_comparable_name(name: &str, out: &mut String) {
    if name.is_ascii() {
        out.extend(name.chars().map(|c| c.to_ascii_lowercase()));
    } else {
        out.push_str(&name.to_lowercase());
    }
}
