//! A prompt as blocks. Lines with ` | ` between their cells are a table, and lines after `- ` a list.

use alloc::string::String;
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::table::TextTable;

const BETWEEN_CELLS: &str = " | ";
const DASH: &str = "- ";

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

/// The paragraphs, tables and lists of a prompt.
pub(super) fn blocks(prompt: &str) -> impl Iterator<Item = Block> {
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
        Some(LineKind::Row(_)) if part.len() > 1 => Block::Table(table(part)),
        Some(LineKind::Dash) => {
            Block::dashes(part.iter().map(|line| line.trim_start_matches(DASH)))
        }
        _ => Block::paragraph(part.concat()),
    });
    parts.collect::<Vec<_>>().into_iter()
}

/// A text with the arrows of its equations and the minus signs of its numbers as they are printed.
pub(super) fn as_printed(text: &str) -> String {
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

/// The first line has the headings. A column of numbers is aligned at the right.
fn table(lines: &[&str]) -> TextTable {
    let rows: Vec<Vec<&str>> = lines
        .iter()
        .map(|line| line.split(BETWEEN_CELLS).collect())
        .collect();
    let (head, rows) = rows
        .split_first()
        .map_or((&[][..], &[][..]), |(head, rows)| (head, rows));
    let mut table = TextTable::new("Class sheet");
    for (index, heading) in head.iter().enumerate() {
        let is_number = |cell: &&str| !cell.contains(char::is_alphabetic);
        let cells = rows.iter().filter_map(|row| row.get(index));
        let heading = [String::from(*heading)];
        table = match cells.clone().all(is_number) {
            true => table.right(heading),
            false => table.left(heading),
        };
    }
    for row in rows {
        table.row(row.iter().map(|cell| String::from(*cell)));
    }
    table
}

#[cfg(test)]
mod tests {
    use super::super::super::plain;
    use super::*;

    #[test]
    fn a_bar_in_a_sentence_is_no_table_and_no_cell_is_lost() {
        for prompt in [
            "Give a | b.",
            "a | b\nc\nd | e",
            "a | b\nc | d | e\nf | \ng | h",
        ] {
            let mut out = String::new();
            let blocks: Vec<Block> = blocks(prompt).collect();
            plain::write(&blocks, &mut out).unwrap();
            for letter in prompt.chars().filter(char::is_ascii_lowercase) {
                assert!(out.contains(letter), "{prompt}: {out}");
            }
        }
    }

    #[test]
    fn a_prompt_may_have_a_table_and_a_list() {
        let prompt = "Four benches.\nbench | x\nHazel | 6.99\nRowan | –\nIt is one of these:\n- one\n- two\nName it.";
        let mut out = String::new();
        let blocks: Vec<Block> = blocks(prompt).collect();
        plain::write(&blocks, &mut out).unwrap();
        assert_eq!(
            out,
            "Four benches.\n\nbench     x\n-----  ----\nHazel  6.99\nRowan     –\nIt is one of these:\n  - one\n  - two\n\
             Name it.\n"
        );
    }

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
