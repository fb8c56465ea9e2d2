//! The double sulfates and the alums: one fact a row.

use super::fact::Fact::{Degree, MarkedFrom, Plateau, Residue};
use super::fact::{FactRow, row};
use super::source::Source::{Alum, Alunite, CrcMemory, Nbs};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("KAl(SO4)2", Degree("12"), Nbs),
    row("KAl(SO4)2", Plateau("3"), CrcMemory),
    row("KAl(SO4)2", Residue("K2SO4·Al2O3", "1/2", "SO3 + SO2 + O2"), Alum),
    row("KAl(SO4)2", MarkedFrom(800), Alunite),
];
