//! The thiosulfates, selenates and selenites: one fact a row.

use super::fact::Fact::{Degree, MarkedFrom, MeltsInItsWater, NoPlateau, Residue, Sign, Taught};
use super::fact::{FactRow, row};
use super::source::Source::{Crc, Memory, NbsMemory, Practice, Thiosulfate};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2S2O3", Degree("5"), NbsMemory),
    row("Na2S2O3", Taught, Practice),
    row("Na2S2O3", NoPlateau, Memory),
    // No mass is lost until the polysulfide gives off sulfur.
    row("Na2S2O3", Residue("3Na2SO4·Na2S5", "1/4", ""), Thiosulfate),
    row("Na2S2O3", MarkedFrom(220), Thiosulfate),
    row("Na2S2O3", Sign("it turns yellow-brown"), Memory),
    row("Na2S2O3", MeltsInItsWater("5", None), Practice),
    row("BaS2O3", Degree("1"), Crc),
    row("BeSeO4", Degree("4"), Crc),
    row("CaSeO4", Degree("2"), Crc),
    row("CaS2O3", Degree("6"), Crc),
    row("CoSeO4", Degree("5"), Crc),
    row("CuSeO4", Degree("5"), Crc),
    row("MgSeO4", Degree("6"), Crc),
    row("MgSeO3", Degree("6"), Crc),
    row("MgS2O3", Degree("6"), Crc),
    row("NiSeO4", Degree("6"), Crc),
    row("K2Co(SeO4)2", Degree("6"), Crc),
    row("Na2S2O6", Degree("2"), Crc),
    row("Na2SeO4", Degree("10"), Crc),
    row("Na2S", Degree("5"), Crc),
    row("Na2SO3", Degree("7"), Crc),
    row("Na3SbS4", Degree("9"), Crc),
    row("VOSeO3", Degree("1"), Crc),
    row("ZnSeO4", Degree("5"), Crc),
];
