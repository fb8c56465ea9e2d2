//! The phosphates and arsenates: one fact a row.

use super::fact::Fact::{
    Degree, Enthalpy, Hazards, MarkedFrom, MeltsInItsWater, NoHydrate, Plateau, Residue, SafeUpTo,
    SchoolCare, Stage, Suited, Taught, WasteRoute,
};
use super::fact::{FactRow, row};
use super::severity::Severity::FumeCupboard;
use super::source::Source::{
    Brushite, Crc, DisodiumSheet, Ghule, Memory, MerckPhosphate, Nbs, Practice, Ramlogan,
    TrisodiumEntry, Usp, Yasue,
};
use super::suitability::Suitability::{Poor, Unfit};
use super::waste::Waste::{Drain, Neutralise, Solid};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2HPO4", Degree("2"), Ghule),
    row("Na2HPO4", Degree("7"), Usp),
    row("Na2HPO4", Degree("12"), Crc),
    row("Na2HPO4", Taught, Practice),
    row("Na2HPO4", Plateau("2"), Ghule),
    row("Na2HPO4", Plateau("7"), Ghule),
    row("Na2HPO4", Stage("12", "7", [35, 35], "it melts"), DisodiumSheet),
    row("Na2HPO4", Stage("12", "0", [35, 100], "heated in air"), DisodiumSheet),
    row("Na2HPO4", Stage("0", "Na4P2O7", [250, 250], "heated in air"), DisodiumSheet),
    row("Na2HPO4", Residue("Na4P2O7", "1/2", ""), Ghule),
    row("Na2HPO4", MarkedFrom(250), DisodiumSheet),
    row("Na2HPO4", Suited(Poor, "the dodecahydrate melts at 35 °C and spits, and near 250 °C the salt itself loses water"), DisodiumSheet),
    row("Na2HPO4", SafeUpTo(100), DisodiumSheet),
    row("Na2HPO4", MeltsInItsWater("12", Some(35)), DisodiumSheet),
    row("Na2HPO4", WasteRoute(Drain), Practice),
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
    row("NaH2PO4", Degree("1"), MerckPhosphate),
    row("NaH2PO4", Degree("2"), Crc),
    row("NaH2PO4", Stage("1", "0", [100, 100], "handbook figure"), MerckPhosphate),
    row("NaH2PO4", Residue("NaPO3", "1", ""), MerckPhosphate),
    row("NaH2PO4", Suited(Poor, "the dihydrate melts at 60 °C and spits, and further heat takes the salt's own water"), MerckPhosphate),
    row("NaH2PO4", SafeUpTo(100), MerckPhosphate),
    row("NaH2PO4", MeltsInItsWater("2", Some(60)), MerckPhosphate),
    row("NaH2PO4", WasteRoute(Drain), Practice),
    row("Na2HAsO4", Degree("7"), Crc),
    row("Na3PO4", Degree("12"), Crc),
    row("Na3PO4", Suited(Poor, "the dodecahydrate melts at 73 °C and spits, and the melt harms the eyes"), TrisodiumEntry),
    row("Na3PO4", MeltsInItsWater("12", Some(73)), TrisodiumEntry),
    row("Na3PO4", Hazards(&["H315", "H318", "H335"]), TrisodiumEntry),
    row("Na3PO4", WasteRoute(Neutralise), Practice),
    row("Zn3(AsO4)2", Degree("8"), Crc),
    row("CaHPO4", Degree("2"), Yasue),
    row("CaHPO4", Stage("2", "0", [140, 185], "thermogravimetry, 5 °C/min to 10 °C/min, losses at 140 °C, 160 °C and 185 °C"), Yasue),
    row("CaHPO4", Stage("2", "0", [136, 264], "studied between 409 K and 537 K"), Brushite),
    row("CaHPO4", Residue("Ca2P2O7", "1/2", ""), Yasue),
    row("CaHPO4", MarkedFrom(180), Yasue),
    row("CaHPO4", Suited(Unfit, "the salt itself loses water before the last water of crystallization has left"), Yasue),
    row("CaHPO4", WasteRoute(Solid), Practice),
    row("NH4MgPO4", Degree("1"), Ramlogan),
    row("NH4MgPO4", Degree("6"), Ramlogan),
    row("NH4MgPO4", Plateau("1"), Ramlogan),
    row("NH4MgPO4", Stage("6", "1", [100, 200], "heated in air, in part"), Ramlogan),
    row("NH4MgPO4", Residue("Mg2P2O7", "1/2", "NH3"), Ramlogan),
    row("NH4MgPO4", MarkedFrom(250), Ramlogan),
    row("NH4MgPO4", Suited(Unfit, "ammonia leaves with the water"), Ramlogan),
    row("NH4MgPO4", SchoolCare(FumeCupboard), Ramlogan),
    row("NH4MgPO4", WasteRoute(Solid), Practice),
    // Listed without a hydrate.
    row("NH4H2PO4", NoHydrate, Crc),
    row("(NH4)2HPO4", NoHydrate, Crc),
    row("KH2PO4", NoHydrate, Memory),
];
