//! The pictures of a class, as blocks.

use alloc::vec::Vec;

use super::bench_names::BenchNames;
use super::block::Block;
#[cfg(not(target_family = "wasm"))]
use super::picture::{dot_plots, weighing_series};
use crate::class::Marked;

/// The dot plots and the weighing series of the class, if they can be drawn.
#[cfg(not(target_family = "wasm"))]
pub(super) fn class_pictures(marked: &Marked, names: &BenchNames<'_>) -> [Vec<Block>; 2] {
    let pictures = [dot_plots(marked, names), weighing_series(marked, names)];
    pictures.map(|pictures| pictures.into_iter().map(Block::Picture).collect())
}

#[cfg(target_family = "wasm")]
pub(super) fn class_pictures(_: &Marked, _: &BenchNames<'_>) -> [Vec<Block>; 2] {
    Default::default()
}
