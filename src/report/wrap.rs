//! Texts on one line, and paragraphs broken at spaces.

use alloc::string::String;
use core::fmt::{self, Write};

use crate::text::{visible, with_no_break_spaces};

/// Writes a paragraph broken at spaces within a width in columns, each line indented, the first one
/// hanging out by `lead`. A word longer than a line is broken.
pub(super) fn paragraph_within(
    width: usize,
    out: &mut impl Write,
    lead: &str,
    text: &str,
) -> fmt::Result {
    let mut line = visible(lead).into_owned();
    let indent = line.chars().count();
    let room = width.saturating_sub(indent).max(1);
    // The number of characters of the line after its lead.
    let mut length = 0;
    let mut next = |line: &mut String, length: &mut usize| {
        let written = writeln!(out, "{}", line.trim_end());
        *line = " ".repeat(indent);
        *length = 0;
        written
    };
    for word in with_no_break_spaces(text).split(' ') {
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
            line.push(if c == '\u{A0}' { ' ' } else { c });
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
    fn paragraphs_hang_and_break_at_spaces() {
        drawn(10, "- ", "one two three", "- one two\n  three\n");
        drawn(10, "- ", "one two\t\n  t", "- one two\n  t\n");
        drawn(
            20,
            "\u{7} ",
            "o\u{1b}\n\u{202e}t",
            "\\u{7} o\\u{1b}\n      \\u{202e}t\n",
        );
        drawn(10, "", "", "\n");
        drawn(10, "> ", "", ">\n");
    }

    #[test]
    fn numbers_keep_their_units_and_their_ratios() {
        drawn(9, "", "is 1.363 g.", "is\n1.363 g.\n");
        drawn(9, "", "(x is 5 %)", "(x is\n5 %)\n");
        drawn(9, "", "ab 1 : 6.99 cd", "ab\n1 : 6.99\ncd\n");
        drawn(9, "", "a note: 7 good", "a note: 7\ngood\n");
        drawn(9, "", ": a", ": a\n");
        drawn(9, "", "of it 1.5\u{A0}kJ  now", "of it\n1.5 kJ\nnow\n");
    }

    #[test]
    fn a_word_longer_than_a_line_is_broken() {
        drawn(6, "- ", "abcdefghij kl", "- abcd\n  efgh\n  ij\n  kl\n");
        drawn(2, "- ", "ab c", "- a\n  b\n  c\n");
    }
}
