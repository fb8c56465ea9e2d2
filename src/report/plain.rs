//! Blocks as plain text.

use alloc::format;
use alloc::string::String;
use core::fmt::{self, Write};

use super::block::{Block, Item, Lead, one_line};
use super::working::lines;

/// So wide are paragraphs of a key.
pub(super) const WIDTH: usize = 96;

/// Draws the blocks. What stands in a section is indented.
pub(super) fn write(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    let mut indent = "";
    let mut before: Option<&Block> = None;
    for block in blocks {
        match block {
            Block::Title(title) => writeln!(out, "{}", one_line(title))?,
            Block::Section(title) => {
                let title = one_line(title);
                writeln!(out, "\n{title}\n{}", "=".repeat(title.chars().count()))?;
                indent = "  ";
            }
            Block::Paragraph(text) => paragraph(out, indent, text)?,
            Block::List(items) => {
                if matches!(before, Some(Block::Table(_))) {
                    writeln!(out)?;
                }
                let width = items.iter().map(Item::mark_width).max().unwrap_or(0);
                for item in items {
                    self::item(item, width, out)?;
                }
            }
            Block::Table(table) => {
                if !matches!(before, None | Some(Block::Section(_))) {
                    writeln!(out)?;
                }
                table.write(indent, out)?;
            }
            Block::Working(working) => {
                for line in lines(working) {
                    writeln!(out, "  {line}")?;
                }
            }
        }
        before = Some(block);
    }
    Ok(())
}

fn item(item: &Item, width: usize, out: &mut impl Write) -> fmt::Result {
    match &item.lead {
        Lead::Dash => paragraph(out, "  - ", &item.text),
        Lead::Warning => paragraph(out, "  ! ", &item.text),
        Lead::Marks(marks) => paragraph(out, &bracketed("    ", marks, width), &item.text),
    }
}

/// Marks in brackets, as wide as the widest of their list.
pub(super) fn bracketed(indent: &str, marks: &str, width: usize) -> String {
    let padding = " ".repeat(width.saturating_sub(marks.chars().count()));
    format!("{indent}[{marks}]{padding} ")
}

/// Writes a paragraph broken at spaces, each line indented, the first one hanging out by `lead`.
pub(super) fn paragraph(out: &mut impl Write, lead: &str, text: &str) -> fmt::Result {
    paragraph_within(WIDTH, out, lead, text)
}

/// The same within so many columns. A word longer than a line is broken.
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
