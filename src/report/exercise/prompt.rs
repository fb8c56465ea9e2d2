//! A prompt as blocks of a paper.

use super::super::block::Block;
use super::super::table::TextTable;
use crate::exercise::{PromptBlock, PromptTable, prompt_blocks};

/// The paragraphs, tables and lists of a prompt.
pub(super) fn blocks(prompt: &str) -> impl Iterator<Item = Block> {
    let blocks = prompt_blocks(prompt).into_iter();
    blocks.map(|block| match block {
        PromptBlock::Paragraph(text) => Block::Paragraph(text),
        PromptBlock::Dashes(texts) => Block::dashes(texts),
        PromptBlock::Table(table) => Block::Table(as_text_table(table)),
    })
}

fn as_text_table(table: PromptTable) -> TextTable {
    let mut text = TextTable::new(PromptTable::CAPTION);
    for column in table.columns {
        let heading = [column.heading];
        text = match column.has_numbers {
            true => text.right(heading),
            false => text.left(heading),
        };
    }
    for row in table.rows {
        text.row(row);
    }
    text
}

#[cfg(test)]
mod tests {
    use alloc::string::String;
    use alloc::vec::Vec;

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
}
