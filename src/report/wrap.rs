//! Texts on one line, and paragraphs broken at spaces.

use alloc::string::String;
use core::fmt::{self, Write};

/// The words of a text with one blank between them: a cell of a sheet may hold line breaks and
/// other control characters, which would break a table or a heading.
pub(super) fn one_line(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    let words = text.split(|c: char| c.is_whitespace() || c.is_control());
    for word in words.filter(|word| !word.is_empty()) {
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    line
}

/// Writes a paragraph broken at spaces within a width in columns, each line indented, the first one
/// hanging out by `lead`. A word longer than a line is broken.
pub(super) fn paragraph_within(
    width: usize,
    out: &mut impl Write,
    lead: &str,
    text: &str,
) -> fmt::Result {
    let indent = lead.chars().count();
    let room = width.saturating_sub(indent).max(1);
    let mut line = String::from(lead);
    // What the line holds beside its lead.
    let mut length = 0;
    let mut next = |line: &mut String, length: &mut usize| {
        let written = writeln!(out, "{}", line.trim_end());
        *line = " ".repeat(indent);
        *length = 0;
        written
    };
    for word in one_line(text).split(' ') {
        let word_length = word.chars().count();
        if length > 0 && length + 1 + word_length > room {
            next(&mut line, &mut length)?;
        }
        if length > 0 {
            line.push(' ');
            length += 1;
        }
        for c in word.chars() {
            if length == room {
                next(&mut line, &mut length)?;
            }
            line.push(c);
            length += 1;
        }
    }
    next(&mut line, &mut length)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn drawn(width: usize, lead: &str, text: &str, expected: &str) {
        let mut out = String::new();
        paragraph_within(width, &mut out, lead, text).unwrap();
        assert_eq!(out, expected);
    }

    #[test]
    fn paragraphs_hang_and_break_at_blanks() {
        drawn(10, "- ", "one two three", "- one two\n  three\n");
        drawn(10, "- ", "one two\u{1b}\n  t", "- one two\n  t\n");
        drawn(10, "", "", "\n");
        drawn(10, "> ", "", ">\n");
    }

    #[test]
    fn a_word_longer_than_a_line_is_broken() {
        drawn(6, "- ", "abcdefghij kl", "- abcd\n  efgh\n  ij\n  kl\n");
        drawn(2, "- ", "ab c", "- a\n  b\n  c\n");
    }
}
