//! Degrees of hydration that are known as solid hydrates, one row a fact.
//!
//! A row says that the solid has been described, not that heating stops there (for that see
//! `plateaus.rs`). Left out: hydrates that no jar holds at room temperature (MgSO4·11H2O, the
//! metastable Na2SO4·7H2O) and MgSO4·1.25H2O.
//!
//! The hydrate of an `Nbs` row is in another thermochemical table as well; an `NbsMemory` row rests
//! on recollection alone.

use super::source::Source::{
    self, CobaltSheet, Crc, CupricAir, Ding, ElHoute, Emons, FerrousAir, Hu, Jokokuite,
    ManganeseSheet, Nbs, NbsMemory, Usp,
};

/// A hydrate that is known, as a row of the catalogue.
pub(super) struct KnownHydrate {
    pub(super) salt: &'static str,
    pub(super) waters: &'static str,
    /// Kept beside the fact that it vouches for.
    #[cfg_attr(
        not(test),
        allow(dead_code, reason = "read by the test of the catalogue")
    )]
    pub(super) source: Source,
}

const fn row(salt: &'static str, waters: &'static str, source: Source) -> KnownHydrate {
    KnownHydrate {
        salt,
        waters,
        source,
    }
}

#[rustfmt::skip]
pub(super) const KNOWN: &[KnownHydrate] = &[
    row("CuSO4", "1", ElHoute),
    row("CuSO4", "3", ElHoute),
    row("CuSO4", "5", Nbs),
    row("MgSO4", "1", Nbs),
    row("MgSO4", "2", Emons),
    row("MgSO4", "3", Emons),
    row("MgSO4", "4", Nbs),
    row("MgSO4", "6", Nbs),
    row("MgSO4", "7", Nbs),
    row("Na2CO3", "1", Nbs),
    row("Na2CO3", "7", Nbs),
    row("Na2CO3", "10", Nbs),
    row("CaCl2", "1", Nbs),
    row("CaCl2", "2", Nbs),
    row("CaCl2", "4", Nbs),
    row("CaCl2", "6", Nbs),
    row("Na2SO4", "10", Nbs),
    row("BaCl2", "1", Nbs),
    row("BaCl2", "2", Nbs),
    row("CoCl2", "1", Hu),
    row("CoCl2", "2", Nbs),
    row("CoCl2", "6", Nbs),
    row("ZnSO4", "1", Nbs),
    row("ZnSO4", "4", Ding),
    row("ZnSO4", "6", Nbs),
    row("ZnSO4", "7", Nbs),
    row("NiSO4", "6", Nbs),
    row("NiSO4", "7", Nbs),
    row("CaSO4", "0.5", Nbs),
    row("CaSO4", "2", Nbs),
    row("FeSO4", "1", Nbs),
    row("FeSO4", "4", FerrousAir),
    row("FeSO4", "7", Nbs),
    row("CoSO4", "1", CobaltSheet),
    row("CoSO4", "6", Nbs),
    row("CoSO4", "7", Nbs),
    row("MnSO4", "1", Usp),
    row("MnSO4", "4", ManganeseSheet),
    row("MnSO4", "5", Jokokuite),
    row("MnSO4", "7", ManganeseSheet),
    row("CdSO4", "1", Nbs),
    row("CdSO4", "8/3", Nbs),
    row("MgCl2", "1", Nbs),
    row("MgCl2", "2", Nbs),
    row("MgCl2", "4", Nbs),
    row("MgCl2", "6", Nbs),
    row("SrCl2", "1", Nbs),
    row("SrCl2", "2", Nbs),
    row("SrCl2", "6", Nbs),
    row("MnCl2", "1", Nbs),
    row("MnCl2", "2", Nbs),
    row("MnCl2", "4", Nbs),
    row("NiCl2", "2", Nbs),
    row("NiCl2", "4", Nbs),
    row("NiCl2", "6", Nbs),
    row("CuCl2", "2", CupricAir),
    row("FeCl3", "6", NbsMemory),
    row("FeCl2", "2", Nbs),
    row("FeCl2", "4", Nbs),
    row("AlCl3", "6", Nbs),
    row("Na2S2O3", "5", NbsMemory),
    row("Na2B4O7", "5", Crc),
    row("Na2B4O7", "10", Usp),
    row("NaC2H3O2", "3", Usp),
    row("K2CO3", "1.5", Nbs),
    row("KAl(SO4)2", "12", Nbs),
    row("Ba(OH)2", "1", Crc),
    row("Ba(OH)2", "8", Nbs),
    row("BaBr2", "2", Nbs),
    row("MgBr2", "6", Nbs),
    row("NaBr", "2", Nbs),
    row("LiOH", "1", NbsMemory),
    row("LiCl", "1", NbsMemory),
    row("Li2SO4", "1", NbsMemory),
    row("Mg(NO3)2", "2", NbsMemory),
    row("Mg(NO3)2", "6", NbsMemory),
    row("Ca(NO3)2", "2", NbsMemory),
    row("Ca(NO3)2", "3", NbsMemory),
    row("Ca(NO3)2", "4", NbsMemory),
    row("Zn(NO3)2", "6", Nbs),
    row("Sr(NO3)2", "4", Nbs),
    row("Cu(NO3)2", "3", NbsMemory),
    row("Cu(NO3)2", "6", NbsMemory),
    row("Co(NO3)2", "6", NbsMemory),
    row("Ni(NO3)2", "6", NbsMemory),
    row("Na2HPO4", "2", NbsMemory),
    row("Na2HPO4", "7", Usp),
    row("Na2HPO4", "12", NbsMemory),
    row("H2C2O4", "2", NbsMemory),
];
