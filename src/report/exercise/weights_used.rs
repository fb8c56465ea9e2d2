//! The atomic weights that a set uses.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::block::Block;
use crate::exercise::ExerciseSet;

/// The elements whose weights the problems use, in a frame. `None` if they use none.
pub(super) fn block(set: &ExerciseSet) -> Option<Block> {
    let weights = set.problems().first()?.request().weights();
    let used = set.weights_used();
    let weights = weights.with_overrides_of(|element| used.iter().any(|(one, _)| *one == element));
    let written = used
        .iter()
        .map(|(element, weight)| format!("{element}\u{A0}{weight}"));
    let written: Vec<String> = written.collect();
    (!written.is_empty()).then(|| {
        Block::Framed(
            "Atomic weights".into(),
            Vec::from([
                Block::Paragraph(set.exercises().with_decimal_mark(&written.join("; "))),
                Block::paragraph(format!("Source: {weights}.")),
            ]),
        )
    })
}
