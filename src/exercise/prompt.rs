//! The parts of a prompt. Lines with ` | ` between their cells are a table, and lines after `- ` a list.

use alloc::string::String;
use alloc::vec::Vec;

const BETWEEN_CELLS: &str = " | ";
const DASH: &str = "- ";

/// A part of a prompt, with its signs as they are printed.
#[derive(Debug, PartialEq)]
pub(crate) enum PromptBlock {
    Paragraph(String),
    /// The items of a list, without their dashes.
    Dashes(Vec<String>),
    Table(PromptTable),
}

/// A table of a prompt. Every row has a cell in each column.
#[derive(Debug, PartialEq)]
pub(crate) struct PromptTable {
    pub(crate) columns: Vec<PromptColumn>,
    pub(crate) rows: Vec<Vec<String>>,
}

#[derive(Debug, PartialEq)]
pub(crate) struct PromptColumn {
    pub(crate) heading: String,
    /// Whether no cell has a letter.
    pub(crate) has_numbers: bool,
}

/// What a line of a prompt is part of.
#[derive(PartialEq)]
enum LineKind {
    /// A row of a table, with its number of cells.
    Row(usize),
    Dash,
    Words,
}

impl LineKind {
    fn of(line: &str) -> LineKind {
        if line.contains(BETWEEN_CELLS) {
            LineKind::Row(line.split(BETWEEN_CELLS).count())
        } else if line.starts_with(DASH) {
            LineKind::Dash
        } else {
            LineKind::Words
        }
    }
}

/// Returns the paragraphs, tables and lists of a prompt.
pub(crate) fn prompt_blocks(prompt: &str) -> Vec<PromptBlock> {
    let prompt = as_printed(prompt);
    let lines: Vec<&str> = prompt
        .split('\n')
        .filter(|line| !line.trim().is_empty())
        .collect();
    let parts = lines.chunk_by(|one, next| {
        let kind = LineKind::of(one);
        kind != LineKind::Words && kind == LineKind::of(next)
    });
    let parts = parts.map(|part| match part.first().copied().map(LineKind::of) {
        // One line alone is a sentence that an author wrote with a bar in it.
        Some(LineKind::Row(_)) if part.len() > 1 => PromptBlock::Table(PromptTable::of(part)),
        Some(LineKind::Dash) => {
            let items = part.iter().map(|line| line.trim_start_matches(DASH));
            PromptBlock::Dashes(items.map(String::from).collect())
        }
        _ => PromptBlock::Paragraph(part.concat()),
    });
    parts.collect()
}

impl PromptTable {
    /// What the tables of prompts show.
    pub(crate) const CAPTION: &'static str = "Class sheet";

    /// The first line has the headings.
    fn of(lines: &[&str]) -> PromptTable {
        let mut rows = lines.iter().map(|line| {
            let cells = line.split(BETWEEN_CELLS).map(String::from);
            cells.collect::<Vec<String>>()
        });
        let head = rows.next().unwrap_or_default();
        let rows: Vec<Vec<String>> = rows.collect();
        let columns = head.into_iter().enumerate().map(|(index, heading)| {
            let mut cells = rows.iter().filter_map(|row| row.get(index));
            PromptColumn {
                has_numbers: cells.all(|cell| !cell.contains(char::is_alphabetic)),
                heading,
            }
        });
        PromptTable {
            columns: columns.collect(),
            rows,
        }
    }
}

/// A text with the arrows of its equations and the minus signs of its numbers as they are printed.
pub(crate) fn as_printed(text: &str) -> String {
    let text = text.replace(" -> ", " → ").replace(" <=> ", " ⇌ ");
    let mut printed = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    let mut begins = true;
    while let Some(letter) = letters.next() {
        let is_number = letters.peek().is_some_and(char::is_ascii_digit);
        printed.push(match letter {
            '-' if begins && is_number => '−',
            letter => letter,
        });
        begins = letter.is_whitespace() || letter == '(';
    }
    printed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hyphen_before_a_number_is_a_minus_sign() {
        assert_eq!(as_printed("-5.6 kJ"), "−5.6 kJ");
        assert_eq!(
            as_printed("x is (-1.2) or\u{a0}-3; a -> b"),
            "x is (−1.2) or\u{a0}−3; a → b"
        );
        for same in ["- one", "bench-2", "10-20 g", "a-b", "-", "percent-3-4"] {
            assert_eq!(as_printed(same), same);
        }
    }
}
