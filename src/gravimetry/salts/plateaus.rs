//! Lower hydrates at which the mass stands still for a while on heating, one fact a row.
//!
//! They depend on the water vapour over the solid: `Open` in an open crucible and moving air, `Vapour`
//! under the vapour that a heap or a lid keeps. A school's crucible is between the two, so both count.
//! `None` says that heating reaches no lower hydrate.

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

/// Salt, degree of the lower hydrate if heating reaches one, atmosphere, source.
#[rustfmt::skip]
pub(super) const PLATEAUS: &[(&str, Option<&str>, Atmosphere, Source)] = &[
    ("CuSO4", Some("1"), Open, ElHoute),
    ("CuSO4", Some("3"), Open, ElHoute),
    ("MgSO4", Some("1"), Vapour, Emons),
    ("MgSO4", Some("2"), Vapour, Emons),
    ("MgSO4", Some("3"), Vapour, Emons),
    ("MgSO4", Some("6"), Open, NetsuSokutei),
    ("ZnSO4", Some("1"), Open, Yang),
    ("ZnSO4", Some("4"), Open, Ding),
    ("ZnSO4", Some("6"), Open, Yang),
    ("NiSO4", Some("1"), Open, Memory),
    ("NiSO4", Some("6"), Open, Memory),
    ("CoSO4", Some("1"), Open, CobaltSheet),
    ("CoSO4", Some("6"), Open, CobaltSheet),
    ("FeSO4", Some("1"), Open, FerrousAir),
    ("FeSO4", Some("4"), Open, FerrousAir),
    ("MnSO4", Some("1"), Open, ManganeseSheet),
    ("CaSO4", Some("0.5"), Vapour, GypsumVapour),
    ("Na2SO4", None, Open, Usp),
    ("KAl(SO4)2", Some("3"), Open, CrcMemory),
    ("CoCl2", Some("1"), Open, Hu),
    ("CoCl2", Some("2"), Open, Hu),
    ("CuCl2", None, Open, CupricAir),
    ("NiCl2", Some("1"), Open, NickelIsothermal),
    ("MgCl2", Some("2"), Open, Huang),
    ("MgCl2", Some("4"), Open, Huang),
    ("CaCl2", Some("2"), Open, Dictionary),
    ("BaCl2", Some("1"), Open, BariumNote),
    ("Ba(OH)2", Some("1"), Open, Habashy),
    ("Na2CO3", Some("1"), Open, Zushi),
    ("Na2S2O3", None, Open, Memory),
    ("H2C2O4", None, Open, Memory),
];
