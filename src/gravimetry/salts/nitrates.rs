//! The nitrates and nitrites: one fact a row.

use super::fact::Fact::Degree;
use super::fact::{FactRow, row};
use super::source::Source::{Nbs, NbsMemory};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Mg(NO3)2", Degree("2"), NbsMemory),
    row("Mg(NO3)2", Degree("6"), NbsMemory),
    row("Ca(NO3)2", Degree("2"), NbsMemory),
    row("Ca(NO3)2", Degree("3"), NbsMemory),
    row("Ca(NO3)2", Degree("4"), NbsMemory),
    row("Zn(NO3)2", Degree("6"), Nbs),
    row("Sr(NO3)2", Degree("4"), Nbs),
    row("Cu(NO3)2", Degree("3"), NbsMemory),
    row("Cu(NO3)2", Degree("6"), NbsMemory),
    row("Co(NO3)2", Degree("6"), NbsMemory),
    row("Ni(NO3)2", Degree("6"), NbsMemory),
];
