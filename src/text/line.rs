//! Text on one line.

use alloc::string::String;

/// The most characters that a message shows of a text.
const MOST_SHOWN: usize = 40;

/// Returns the first characters of a text, so that no message is longer than a line.
pub(crate) fn shorten(text: &str) -> String {
    let mut shown: String = text.chars().take(MOST_SHOWN).collect();
    if text.chars().nth(MOST_SHOWN).is_some() {
        shown.push('…');
    }
    shown
}

/// Returns the text on one line: every run of white space is one space.
#[cfg(feature = "class")]
pub(crate) fn one_line(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    write_one_line(text, &mut out);
    out
}

/// Adds the text on one line.
// In line here, and where a record lends its cells, as benches/class_sheet.rs shows: row by row in 0.92 of
// the time.
#[cfg(feature = "class")]
#[inline]
pub(crate) fn write_one_line(text: &str, out: &mut String) {
    // Most names need nothing done to them.
    if text.bytes().all(|b| b.is_ascii_graphic()) {
        out.push_str(text);
        return;
    }
    let start = out.len();
    for word in text.split(super::chars::is_space) {
        if !word.is_empty() {
            if out.len() > start {
                out.push(' ');
            }
            out.push_str(word);
        }
    }
}

/// Returns the text on one line, with nothing hidden in it.
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) fn visible_line(text: &str) -> String {
    super::visible(&one_line(text)).into_owned()
}
