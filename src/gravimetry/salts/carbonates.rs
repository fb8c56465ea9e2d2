//! The carbonates: one fact a row.

use super::fact::Fact::{
    Degree, Enthalpy, Hazards, HeatRemark, MarkedFrom, MeltsInItsWater, NoHydrate, NoPlateau,
    NoSafeStage, NoSign, NotClassified, Plateau, Residue, SafeUpTo, Stage, Suited, Taught,
    WasteRoute,
};
use super::fact::{FactRow, row};
use super::source::Source::{
    Aarts, BallCarbonate, Crc, CrcMemory, Icsc1135, Jauffret, MagnesiaPage, MagnesiumCarbonateSds,
    Memory, Nbs, PotashEntry, PotashSds, PotashSheet, Practice, Zushi,
};
use super::suitability::Suitability::{Poor, Unfit};
use super::waste::Waste::{Drain, Solid};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2CO3", Degree("1"), Nbs),
    row("Na2CO3", Degree("7"), Nbs),
    row("Na2CO3", Degree("10"), Nbs),
    row("Na2CO3", Taught, Practice),
    row("Na2CO3", Plateau("1"), Zushi),
    row("Na2CO3", Stage("1", "0", [63, 127], "studied between 336 K and 400 K"), BallCarbonate),
    row("Na2CO3", HeatRemark("does not decompose in a burner's flame; it melts at about 851 °C"), CrcMemory),
    row("Na2CO3", Suited(Poor, "the decahydrate melts in its own water and spatters"), Zushi),
    row("Na2CO3", MeltsInItsWater("10", None), Zushi),
    row("Na2CO3", WasteRoute(Drain), Practice),
    row("Na2CO3", Enthalpy("0", "-1130.68"), Nbs),
    row("Na2CO3", Enthalpy("1", "-1431.26"), Nbs),
    row("Na2CO3", Enthalpy("7", "-3199.97"), Nbs),
    row("Na2CO3", Enthalpy("10", "-4081.32"), Nbs),
    row("Na2CO3", SafeUpTo(300), Practice),
    row("Na2CO3", Hazards(&["H319"]), Icsc1135),
    row("K2CO3", Degree("1.5"), Nbs),
    row("K2CO3", Taught, Practice),
    row("K2CO3", NoPlateau, Aarts),
    row("K2CO3", Stage("1.5", "1", [100, 100], "heated in air"), PotashSheet),
    row("K2CO3", Stage("1", "0", [130, 130], "heated in air"), PotashSheet),
    row("K2CO3", HeatRemark("does not decompose in a burner's flame; it melts at about 891 °C"), PotashEntry),
    row("K2CO3", Suited(Poor, "the dry salt takes up water from the air while it cools"), PotashSds),
    row("K2CO3", SafeUpTo(130), PotashSheet),
    row("K2CO3", Hazards(&["H315", "H319", "H335"]), PotashEntry),
    row("K2CO3", WasteRoute(Drain), Practice),
    row("K2CO3", Enthalpy("0", "-1151.02"), Nbs),
    row("K2CO3", Enthalpy("1.5", "-1609.2"), Nbs),
    row("MgCO3", Degree("2"), Crc),
    row("MgCO3", Degree("3"), Jauffret),
    row("MgCO3", Degree("5"), Crc),
    row("MgCO3", Plateau("2"), Jauffret),
    row("MgCO3", Stage("3", "2", [55, 135], "thermogravimetry"), Jauffret),
    row("MgCO3", Stage("2", "0", [135, 350], "thermogravimetry"), Jauffret),
    row("MgCO3", Residue("MgO", "1", "CO2"), Jauffret),
    row("MgCO3", MarkedFrom(350), Jauffret),
    row("MgCO3", Suited(Unfit, "carbon dioxide leaves as soon as the last water has left"), Jauffret),
    row("MgCO3", NoSafeStage("carbon dioxide leaves as soon as the last water has left"), Jauffret),
    row("MgCO3", WasteRoute(Solid), Practice),
    row("MgCO3", NoSign("the carbonate and the oxide are both white"), MagnesiaPage),
    row("MgCO3", NotClassified, MagnesiumCarbonateSds),
    row("Mg2CO3(OH)2", Degree("3"), Crc),
    // Listed without a hydrate.
    row("BaCO3", NoHydrate, Crc),
    row("KHCO3", NoHydrate, Memory),
    row("NaHCO3", NoHydrate, Memory),
];
