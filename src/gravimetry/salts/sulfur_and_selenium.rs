//! The thiosulfates, selenates and selenites: one fact a row.

use super::fact::Fact::{Degree, MarkedFrom, MeltsInItsWater, NoPlateau, Residue, Sign};
use super::fact::{FactRow, row};
use super::source::Source::{Memory, NbsMemory, Practice, Thiosulfate};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2S2O3", Degree("5"), NbsMemory),
    row("Na2S2O3", NoPlateau, Memory),
    // No mass is lost until the polysulfide gives off sulfur.
    row("Na2S2O3", Residue("3Na2SO4·Na2S5", "1/4", ""), Thiosulfate),
    row("Na2S2O3", MarkedFrom(220), Thiosulfate),
    row("Na2S2O3", Sign("it turns yellow-brown"), Memory),
    row("Na2S2O3", MeltsInItsWater("5", None), Practice),
];
