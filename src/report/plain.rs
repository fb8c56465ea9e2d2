//! Blocks as plain text.

use alloc::format;
use alloc::string::String;
use core::fmt::{self, Write};

use super::block::{Block, Item, Lead};
use super::working::lines;
use super::wrap::{one_line, paragraph_within};

/// The width of a key's paragraphs, in characters.
const WIDTH: usize = 96;
/// The indent of the contents of a section.
const INDENT: &str = "  ";

/// Draws the blocks. The contents of a section are indented.
pub(super) fn write(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    write_within(blocks, "", None, out)
}

/// Draws the blocks after one that is drawn already.
fn write_within<'a>(
    blocks: &'a [Block],
    mut indent: &'static str,
    mut before: Option<&'a Block>,
    out: &mut impl Write,
) -> fmt::Result {
    for block in blocks {
        match block {
            Block::Title(title) => writeln!(out, "{}", one_line(title))?,
            Block::Section(title) => {
                section(title, out)?;
                indent = INDENT;
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
                if !matches!(before, None | Some(Block::Section(_) | Block::Bench(..))) {
                    writeln!(out)?;
                }
                table.write(indent, out)?;
            }
            Block::Working(working) => {
                for line in lines(working) {
                    writeln!(out, "  {line}")?;
                }
            }
            Block::Command(command) => writeln!(out, "{indent}{}", one_line(command))?,
            Block::Bench(title, blocks) => {
                section(title, out)?;
                write_within(blocks, INDENT, Some(block), out)?;
            }
            Block::Card(title, blocks) => {
                writeln!(out, "\n{}", one_line(title))?;
                write(blocks, out)?;
            }
            Block::Picture(picture) => paragraph(out, indent, &picture.words)?,
        }
        before = Some(block);
    }
    Ok(())
}

fn section(title: &str, out: &mut impl Write) -> fmt::Result {
    let title = one_line(title);
    writeln!(out, "\n{title}\n{}", "=".repeat(title.chars().count()))
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

/// Writes a paragraph of a key, each line indented, the first one hanging out by `lead`.
pub(super) fn paragraph(out: &mut impl Write, lead: &str, text: &str) -> fmt::Result {
    paragraph_within(WIDTH, out, lead, text)
}
