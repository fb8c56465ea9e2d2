//! What a set says as well as its problems, in a frame.

use alloc::vec::Vec;

use super::super::block::Block;
use crate::exercise::SetNote;

pub(super) fn framed(note: SetNote) -> Block {
    let paragraphs = note.paragraphs.into_iter().map(Block::Paragraph);
    let mut blocks: Vec<Block> = paragraphs.collect();
    if !note.items.is_empty() {
        blocks.push(Block::dashes(note.items));
    }
    Block::Framed(note.heading.into(), blocks)
}
