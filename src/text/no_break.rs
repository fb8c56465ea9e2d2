//! Spaces at which a line of text is not broken.

use alloc::string::String;
use alloc::vec::Vec;

use super::line::visible_line;

/// Units that are written after a number.
const UNITS: [&str; 7] = ["%", "g", "mg", "mol", "g/mol", "H2O", "°C"];

/// Returns the text on one line. A no-break space stays, and is put between a number and its unit and on both sides of
/// a ratio's colon.
pub(crate) fn with_no_break_spaces(text: &str) -> String {
    let parts: Vec<String> = text.split('\u{A0}').map(visible_line).collect();
    let line = parts.join("\u{A0}");
    let mut out = String::with_capacity(line.len());
    let mut last = "";
    for word in line.split(' ') {
        let unit = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let measured = last.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&unit);
        let together = measured || word == ":" || last == ":";
        if !out.is_empty() {
            out.push(if together { '\u{A0}' } else { ' ' });
        }
        out.push_str(word);
        last = word;
    }
    out
}
