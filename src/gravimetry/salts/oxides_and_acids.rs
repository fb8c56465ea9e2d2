//! The hydroxides, the borates and the oxo acids: one fact a row.

use super::fact::Fact::{Degree, Enthalpy, NoHydrate, Plateau, Taught};
use super::fact::{FactRow, row};
use super::source::Source::{Crc, Habashy, Memory, Nbs, Practice, Usp};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2B4O7", Degree("5"), Crc),
    row("Na2B4O7", Degree("10"), Usp),
    row("Na2B4O7", Taught, Practice),
    row("Na2B4O7", Enthalpy("0", "-3291.1"), Nbs),
    row("Ba(OH)2", Degree("1"), Crc),
    row("Ba(OH)2", Degree("8"), Nbs),
    row("Ba(OH)2", Taught, Practice),
    row("Ba(OH)2", Enthalpy("0", "-944.7"), Nbs),
    row("Ba(OH)2", Enthalpy("8", "-3342.2"), Nbs),
    row("Ba(OH)2", Plateau("1"), Habashy),
    row("LiOH", Degree("1"), Crc),
    row("LiOH", Taught, Practice),
    row("(NH4)6Mo7O24", Degree("4"), Crc),
    row("(NH4)10W12O41", Degree("5"), Crc),
    row("CaCrO4", Degree("2"), Crc),
    row("Ca2B6O11", Degree("5"), Crc),
    row("CuCr2O7", Degree("2"), Crc),
    row("Pb(BO2)2", Degree("1"), Crc),
    row("Li2CrO4", Degree("2"), Crc),
    row("LiBO2", Degree("2"), Crc),
    row("H2MoO4", Degree("1"), Crc),
    row("Na2MoO4", Degree("2"), Crc),
    row("Sr(MnO4)2", Degree("3"), Crc),
    row("2ZnO·3B2O3", Degree("5"), Crc),
    // Listed without a hydrate.
    row("KMnO4", NoHydrate, Memory),
    row("K2CrO4", NoHydrate, Memory),
    row("K2Cr2O7", NoHydrate, Memory),
];
