//! The carbonates: one fact a row.

use super::fact::Fact::{Degree, HeatRemark, MeltsInItsWater, Plateau};
use super::fact::{FactRow, row};
use super::source::Source::{CrcMemory, Nbs, Zushi};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2CO3", Degree("1"), Nbs),
    row("Na2CO3", Degree("7"), Nbs),
    row("Na2CO3", Degree("10"), Nbs),
    row("Na2CO3", Plateau("1"), Zushi),
    row("Na2CO3", HeatRemark("does not decompose in a burner's flame; it melts at about 851 °C"), CrcMemory),
    row("Na2CO3", MeltsInItsWater("10", None), Zushi),
    row("K2CO3", Degree("1.5"), Nbs),
];
