//! Readings of made-up benches, for the benches that weigh.

use crate::lines::Draw;

/// Readings in thousandths of a gram, as a class of magnesium sulfate has them.
pub(crate) fn readings(draw: &mut Draw) -> [u64; 5] {
    let container = 18_000 + draw.below(6_000);
    let hydrate = 2_000 + draw.below(1_500);
    let residue = hydrate * 4_884 / 10_000 + draw.below(15);
    let first = residue + 20 + draw.below(60);
    let second = residue + draw.below(4);
    let all = [0, hydrate, first, second, residue];
    all.map(|above| (container + above) as u64)
}

pub(crate) fn grams(thousandths: u64) -> String {
    format!("{}.{:03}", thousandths / 1000, thousandths % 1000)
}
