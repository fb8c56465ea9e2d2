//! The organic acids and their salts: one fact a row.

use super::fact::Fact::{Degree, Enthalpy, HeatRemark, NoHydrate, NoPlateau, Suited, Taught};
use super::fact::{FactRow, row};
use super::source::Source::{Crc, Memory, Nbs, NbsMemory, Practice, Usp};
use super::suitability::Suitability::Unfit;

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("NaC2H3O2", Degree("3"), Usp),
    row("NaC2H3O2", Taught, Practice),
    row("NaC2H3O2", Enthalpy("0", "-708.81"), Nbs),
    row("H2C2O4", Degree("2"), NbsMemory),
    row("H2C2O4", Taught, Practice),
    row("H2C2O4", NoPlateau, Memory),
    row("H2C2O4", HeatRemark("leaves nothing: it sublimes, and decomposes into CO2, CO and water"), Memory),
    row("H2C2O4", Suited(Unfit, "the acid sublimes, and its vapour is harmful"), Practice),
    row("(NH4)2C2O4", Degree("1"), Crc),
    row("BaC2O4", Degree("1"), Crc),
    row("Cd(C2H3O2)2", Degree("2"), Crc),
    row("Cr(C2H3O2)2", Degree("1"), Crc),
    row("CrC2O4", Degree("1"), Crc),
    row("Co(C2H3O2)2", Degree("4"), Crc),
    row("Pb(C2H3O2)2", Degree("3"), Crc),
    row("LiC2H3O2", Degree("2"), Crc),
    row("Mg(C2H3O2)2", Degree("1"), Crc),
    row("Mg(C2H3O2)2", Degree("4"), Crc),
    row("MnC2O4", Degree("2"), Crc),
    row("Ni(C2H3O2)2", Degree("4"), Crc),
    row("K3C6H5O7", Degree("1"), Crc),
    row("KHC2O4", Degree("0.5"), Crc),
    row("Na3C6H5O7", Degree("5"), Crc),
    row("Yb(C2H3O2)3", Degree("4"), Crc),
    row("Zn(CHO2)2", Degree("2"), Crc),
    row("ZnC2O4", Degree("2"), Crc),
    // Listed without a hydrate.
    row("KHC4H4O6", NoHydrate, Crc),
    row("KHC8H4O4", NoHydrate, Memory),
];
