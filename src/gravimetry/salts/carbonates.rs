//! The carbonates: one fact a row.

use super::fact::Fact::{
    Degree, Enthalpy, HeatRemark, MeltsInItsWater, NoHydrate, Plateau, Taught,
};
use super::fact::{FactRow, row};
use super::source::Source::{Crc, CrcMemory, Memory, Nbs, Practice, Zushi};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2CO3", Degree("1"), Nbs),
    row("Na2CO3", Degree("7"), Nbs),
    row("Na2CO3", Degree("10"), Nbs),
    row("Na2CO3", Taught, Practice),
    row("Na2CO3", Enthalpy("0", "-1130.68"), Nbs),
    row("Na2CO3", Enthalpy("1", "-1431.26"), Nbs),
    row("Na2CO3", Enthalpy("7", "-3199.97"), Nbs),
    row("Na2CO3", Enthalpy("10", "-4081.32"), Nbs),
    row("Na2CO3", Plateau("1"), Zushi),
    row("Na2CO3", HeatRemark("does not decompose in a burner's flame; it melts at about 851 °C"), CrcMemory),
    row("Na2CO3", MeltsInItsWater("10", None), Zushi),
    row("K2CO3", Degree("1.5"), Nbs),
    row("K2CO3", Taught, Practice),
    row("K2CO3", Enthalpy("0", "-1151.02"), Nbs),
    row("K2CO3", Enthalpy("1.5", "-1609.2"), Nbs),
    row("MgCO3", Degree("2"), Crc),
    row("MgCO3", Degree("5"), Crc),
    row("Mg2CO3(OH)2", Degree("3"), Crc),
    // Listed without a hydrate.
    row("BaCO3", NoHydrate, Crc),
    row("KHCO3", NoHydrate, Memory),
    row("NaHCO3", NoHydrate, Memory),
];
