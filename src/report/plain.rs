//! Blocks as plain text.

use alloc::format;
use alloc::string::String;
use core::fmt::{self, Write};

use super::block::{AnswerPlace, Block, Item, LETTERS, Lead};
use super::working::lines;
use super::wrap::paragraph_within;
use crate::text::visible_line;

/// The width of a key's paragraphs, in characters.
const WIDTH: usize = 96;
/// A line to write on.
const WRITE_LINE: &str = "______________________________";
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
        if is_apart(before, block) {
            writeln!(out)?;
        }
        match block {
            Block::Title(title) => writeln!(out, "{}", visible_line(title))?,
            Block::Section(title) => {
                section(title, out)?;
                indent = INDENT;
            }
            Block::Paragraph(text) => paragraph(out, indent, text)?,
            Block::List(items) => list(items, out)?,
            Block::Table(table) => table.write(indent, out)?,
            Block::Working(working) => {
                for line in lines(working) {
                    step(&line, out)?;
                }
            }
            Block::Command(command) => writeln!(out, "{indent}{}", visible_line(command))?,
            Block::Bench(title, blocks) => {
                section(title, out)?;
                write_within(blocks, INDENT, Some(block), out)?;
            }
            Block::Card(title, blocks) => {
                writeln!(out, "\n{}", visible_line(title))?;
                write(blocks, out)?;
            }
            Block::Picture(picture) => paragraph(out, indent, &picture.words)?,
            Block::Problem(title, blocks) | Block::Framed(title, blocks) => {
                writeln!(out, "\n{}", visible_line(title))?;
                write_within(blocks, INDENT, None, out)?;
            }
            Block::Options(options) => self::options(options, indent, out)?,
            Block::WriteLine(name, unit) => {
                writeln!(out)?;
                paragraph(out, indent, &format!("{name}: {WRITE_LINE} {unit}"))?;
            }
            Block::AnswerGrid(places) => grid(places, indent, out)?,
            Block::NewPage => writeln!(out)?,
        }
        before = Some(block);
    }
    Ok(())
}

/// Whether an empty line is between two blocks, of which the second writes none itself.
fn is_apart(before: Option<&Block>, block: &Block) -> bool {
    match block {
        Block::Paragraph(_) => matches!(
            before,
            Some(Block::Problem(..) | Block::Framed(..) | Block::AnswerGrid(_))
        ),
        Block::List(_) => matches!(before, Some(Block::Table(_))),
        Block::Table(_) => !matches!(before, None | Some(Block::Section(_) | Block::Bench(..))),
        _ => false,
    }
}

/// Writes a step. One that is wider than a paragraph is broken at spaces.
fn step(line: &str, out: &mut impl Write) -> fmt::Result {
    if line.chars().count() + INDENT.len() <= WIDTH {
        return writeln!(out, "{INDENT}{line}");
    }
    let (what, rest) = line.split_once("  ").unwrap_or(("", line));
    writeln!(out, "{INDENT}{}", visible_line(what))?;
    paragraph(out, "      ", rest)
}

fn list(items: &[Item], out: &mut impl Write) -> fmt::Result {
    let width = items.iter().map(Item::mark_width).max().unwrap_or(0);
    for item in items {
        self::item(item, width, out)?;
    }
    Ok(())
}

fn options(options: &[String], indent: &str, out: &mut impl Write) -> fmt::Result {
    for (letter, option) in LETTERS.zip(options) {
        paragraph(out, &format!("{indent}  {letter}  "), option)?;
    }
    Ok(())
}

fn grid(places: &[AnswerPlace], indent: &str, out: &mut impl Write) -> fmt::Result {
    let names = places.iter().map(|place| place.name.chars().count());
    let width = names.max().unwrap_or(0);
    writeln!(out, "\n{}", AnswerPlace::CAPTION)?;
    for place in places {
        let boxes = place.letters().map(|letter| format!("[ ] {letter}   "));
        let answer = match place.options {
            0 => format!("{WRITE_LINE} {}", visible_line(&place.unit)),
            _ => boxes.collect(),
        };
        let name = visible_line(&place.name);
        writeln!(out, "{indent}{name:width$}  {}", answer.trim_end())?;
    }
    Ok(())
}

fn section(title: &str, out: &mut impl Write) -> fmt::Result {
    let title = visible_line(title);
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn problems_have_places_for_answers() {
        let mut out = String::new();
        write(&Block::problems(), &mut out).unwrap();
        let expected = [
            "\nWeights\n  H 1.008\n\nProblem 1\n  How much H2O?\n    A  1 g\n    B  2 g\n\nProblem 2\n\n  Answer: ",
            WRITE_LINE,
            " g\n\nYour answers\n1  [ ] A   [ ] B\n2  ",
            WRITE_LINE,
            " g\n",
        ];
        assert_eq!(out, expected.concat());
    }
}
