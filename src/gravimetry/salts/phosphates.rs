//! The phosphates and arsenates: one fact a row.

use super::fact::Fact::{Degree, Enthalpy, NoHydrate, Taught};
use super::fact::{FactRow, row};
use super::source::Source::{Crc, Memory, Nbs, NbsMemory, Practice, Usp};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2HPO4", Degree("2"), NbsMemory),
    row("Na2HPO4", Degree("7"), Usp),
    row("Na2HPO4", Degree("12"), Crc),
    row("Na2HPO4", Taught, Practice),
    row("Na2HPO4", Enthalpy("0", "-1748.1"), Nbs),
    row("H3AsO4", Degree("0.5"), Crc),
    row("Ba(H2PO2)2", Degree("1"), Crc),
    row("Ca(H2PO4)2", Degree("1"), Crc),
    row("Fe3(PO4)2", Degree("8"), Crc),
    row("FePO4", Degree("2"), Crc),
    row("MgHPO4", Degree("3"), Crc),
    row("Mg3(PO4)2", Degree("8"), Crc),
    row("Mg2P2O7", Degree("3"), Crc),
    row("K4P2O7", Degree("3"), Crc),
    row("NaNH4HPO4", Degree("4"), Crc),
    row("NaH2PO4", Degree("2"), Crc),
    row("Na2HAsO4", Degree("7"), Crc),
    row("Na3PO4", Degree("12"), Crc),
    row("Zn3(AsO4)2", Degree("8"), Crc),
    // Listed without a hydrate.
    row("NH4H2PO4", NoHydrate, Crc),
    row("(NH4)2HPO4", NoHydrate, Crc),
    row("KH2PO4", NoHydrate, Memory),
];
