//! Lower hydrates at which the mass stands still for a while on heating, one row a fact.
//!
//! What is met depends on the water vapour over the solid: `Open`, in an open crucible and
//! moving air; `Vapour`, under the vapour that a heap or a lid keeps. A school's crucible is
//! between the two, so both count. `None`: heating meets no lower hydrate.

use super::source::Source::{
    self, BariumNote, CobaltSheet, CrcMemory, CupricAir, Dictionary, Ding, ElHoute, Emons,
    FerrousAir, GypsumVapour, Habashy, Hu, Huang, ManganeseSheet, Memory, NetsuSokutei,
    NickelIsothermal, Usp, Yang, Zushi,
};

/// The vapour over the solid in which the plateau was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Atmosphere {
    Open,
    Vapour,
}
use Atmosphere::{Open, Vapour};

/// A lower hydrate that is met on heating; no waters: that none is.
pub(super) struct PlateauRow {
    pub(super) salt: &'static str,
    pub(super) waters: Option<&'static str>,
    #[cfg_attr(
        not(test),
        allow(dead_code, reason = "read by the test of the catalogue")
    )]
    pub(super) atmosphere: Atmosphere,
    #[cfg_attr(
        not(test),
        allow(dead_code, reason = "read by the test of the catalogue")
    )]
    pub(super) source: Source,
}

const fn row(
    salt: &'static str,
    waters: Option<&'static str>,
    atmosphere: Atmosphere,
    source: Source,
) -> PlateauRow {
    PlateauRow {
        salt,
        waters,
        atmosphere,
        source,
    }
}

#[rustfmt::skip]
pub(super) const PLATEAUS: &[PlateauRow] = &[
    row("CuSO4", Some("1"), Open, ElHoute),
    row("CuSO4", Some("3"), Open, ElHoute),
    row("MgSO4", Some("1"), Vapour, Emons),
    row("MgSO4", Some("2"), Vapour, Emons),
    row("MgSO4", Some("3"), Vapour, Emons),
    row("MgSO4", Some("6"), Open, NetsuSokutei),
    row("ZnSO4", Some("1"), Open, Yang),
    row("ZnSO4", Some("4"), Open, Ding),
    row("ZnSO4", Some("6"), Open, Yang),
    row("NiSO4", Some("1"), Open, Memory),
    row("NiSO4", Some("6"), Open, Memory),
    row("CoSO4", Some("1"), Open, CobaltSheet),
    row("CoSO4", Some("6"), Open, CobaltSheet),
    row("FeSO4", Some("1"), Open, FerrousAir),
    row("FeSO4", Some("4"), Open, FerrousAir),
    row("MnSO4", Some("1"), Open, ManganeseSheet),
    row("CaSO4", Some("0.5"), Vapour, GypsumVapour),
    row("Na2SO4", None, Open, Usp),
    row("KAl(SO4)2", Some("3"), Open, CrcMemory),
    row("CoCl2", Some("1"), Open, Hu),
    row("CoCl2", Some("2"), Open, Hu),
    row("CuCl2", None, Open, CupricAir),
    row("NiCl2", Some("1"), Open, NickelIsothermal),
    row("MgCl2", Some("2"), Open, Huang),
    row("MgCl2", Some("4"), Open, Huang),
    row("CaCl2", Some("2"), Open, Dictionary),
    row("BaCl2", Some("1"), Open, BariumNote),
    row("Ba(OH)2", Some("1"), Open, Habashy),
    row("Na2CO3", Some("1"), Open, Zushi),
    row("Na2S2O3", None, Open, Memory),
    row("H2C2O4", None, Open, Memory),
];
