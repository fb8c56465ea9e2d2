//! The double sulfates and the alums: one fact a row.

use super::fact::Fact::{Degree, Enthalpy, MarkedFrom, Plateau, Residue, Taught};
use super::fact::{FactRow, row};
use super::source::Source::{Alum, Alunite, Crc, CrcMemory, Nbs, Practice};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("KAl(SO4)2", Degree("12"), Nbs),
    row("KAl(SO4)2", Taught, Practice),
    row("KAl(SO4)2", Enthalpy("0", "-2470.2"), Nbs),
    row("KAl(SO4)2", Plateau("3"), CrcMemory),
    row("KAl(SO4)2", Residue("K2SO4·Al2O3", "1/2", "SO3 + SO2 + O2"), Alum),
    row("KAl(SO4)2", MarkedFrom(800), Alunite),
    row("NH4Cr(SO4)2", Degree("12"), Crc),
    row("NH4Fe(SO4)2", Degree("12"), Crc),
    row("CsAl(SO4)2", Degree("12"), Crc),
    row("K2Co(SO4)2", Degree("6"), Crc),
];
