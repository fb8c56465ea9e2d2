//! The nitrates and nitrites: one fact a row.

use super::fact::Fact::{Degree, Enthalpy, NoHydrate, Taught};
use super::fact::{FactRow, row};
use super::source::Source::{Crc, Memory, Nbs, NbsMemory, Practice};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Mg(NO3)2", Degree("2"), NbsMemory),
    row("Mg(NO3)2", Degree("6"), Crc),
    row("Mg(NO3)2", Taught, Practice),
    row("Mg(NO3)2", Enthalpy("0", "-790.65"), Nbs),
    row("Ca(NO3)2", Degree("2"), NbsMemory),
    row("Ca(NO3)2", Degree("3"), NbsMemory),
    row("Ca(NO3)2", Degree("4"), Crc),
    row("Ca(NO3)2", Taught, Practice),
    row("Ca(NO3)2", Enthalpy("0", "-938.39"), Nbs),
    row("Zn(NO3)2", Degree("6"), Nbs),
    row("Zn(NO3)2", Taught, Practice),
    row("Zn(NO3)2", Enthalpy("0", "-483.7"), Nbs),
    row("Zn(NO3)2", Enthalpy("6", "-2306.64"), Nbs),
    row("Sr(NO3)2", Degree("4"), Nbs),
    row("Sr(NO3)2", Taught, Practice),
    row("Sr(NO3)2", Enthalpy("0", "-978.22"), Nbs),
    row("Cu(NO3)2", Degree("3"), NbsMemory),
    row("Cu(NO3)2", Degree("6"), NbsMemory),
    row("Cu(NO3)2", Taught, Practice),
    row("Cu(NO3)2", Enthalpy("0", "-302.9"), Nbs),
    row("Co(NO3)2", Degree("6"), Crc),
    row("Co(NO3)2", Taught, Practice),
    row("Co(NO3)2", Enthalpy("0", "-420.5"), Nbs),
    row("Ni(NO3)2", Degree("6"), NbsMemory),
    row("Ni(NO3)2", Taught, Practice),
    row("Ba(NO2)2", Degree("1"), Crc),
    row("Cd(NO3)2", Degree("4"), Crc),
    row("Gd(NO3)3", Degree("6"), Crc),
    row("Hg(NO3)2", Degree("1"), Crc),
    row("Hg(NO3)2", Degree("2"), Crc),
    // Listed without a hydrate.
    row("KNO3", NoHydrate, Crc),
    row("NaNO3", NoHydrate, Crc),
    row("AgNO3", NoHydrate, Memory),
    row("NH4NO3", NoHydrate, Memory),
    row("Ba(NO3)2", NoHydrate, Memory),
    row("Pb(NO3)2", NoHydrate, Memory),
];
