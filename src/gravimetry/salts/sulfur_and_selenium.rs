//! The sulfides, sulfites, thiosulfates, selenates and selenites: one fact a row.

use super::fact::Fact::{
    Degree, Hazards, MarkedFrom, MeltsInItsWater, NoPlateau, Residue, SafeUpTo, SchoolCare, Sign,
    Stage, Suited, Taught, WasteRoute,
};
use super::fact::{FactRow, row};
use super::severity::Severity::Forbidden;
use super::source::Source::{
    AnnexSix, Atomistry, Crc, Memory, Practice, SulfideSds, SulfideSheet, SulfiteNote, Thiosulfate,
    ThiosulfateEntry,
};
use super::suitability::Suitability::{Poor, Unfit};
use super::waste::Waste::{Drain, Toxic};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2S2O3", Degree("5"), ThiosulfateEntry),
    row("Na2S2O3", Taught, Practice),
    row("Na2S2O3", NoPlateau, Memory),
    row("Na2S2O3", Stage("5", "0", [48, 100], "it melts, and the melt boils"), ThiosulfateEntry),
    // No mass is lost until the polysulfide gives off sulfur.
    row("Na2S2O3", Residue("3Na2SO4·Na2S5", "1/4", ""), Thiosulfate),
    row("Na2S2O3", MarkedFrom(220), Thiosulfate),
    row("Na2S2O3", Sign("it turns yellow-brown"), Memory),
    row("Na2S2O3", Suited(Poor, "the hydrate melts in its own water and spatters"), ThiosulfateEntry),
    row("Na2S2O3", SafeUpTo(150), Atomistry),
    row("Na2S2O3", MeltsInItsWater("5", Some(48)), ThiosulfateEntry),
    row("Na2S2O3", Hazards(&["H315", "H319", "H335"]), ThiosulfateEntry),
    row("Na2S2O3", WasteRoute(Drain), Practice),
    row("BaS2O3", Degree("1"), Crc),
    row("BeSeO4", Degree("4"), Crc),
    row("CaSeO4", Degree("2"), Crc),
    row("CaS2O3", Degree("6"), Crc),
    row("CoSeO4", Degree("5"), Crc),
    row("CuSeO4", Degree("5"), Crc),
    row("MgSeO4", Degree("6"), Crc),
    row("MgSeO3", Degree("6"), Crc),
    row("MgS2O3", Degree("6"), Crc),
    row("NiSeO4", Degree("6"), Crc),
    row("NiSeO4", Hazards(&["H317", "H334", "H341", "H350i", "H360D", "H372", "H410"]), AnnexSix),
    row("K2Co(SeO4)2", Degree("6"), Crc),
    row("Na2S2O6", Degree("2"), Crc),
    row("Na2SeO4", Degree("10"), Crc),
    row("Na2S", Degree("5"), Crc),
    row("Na2S", Degree("9"), SulfideSheet),
    row("Na2S", Suited(Unfit, "the salt takes up oxygen, and acids set hydrogen sulfide free"), SulfideSds),
    row("Na2S", MeltsInItsWater("9", Some(49)), SulfideSheet),
    row("Na2S", Hazards(&["EUH031", "H302", "H311", "H314", "H318", "H400"]), SulfideSds),
    row("Na2S", SchoolCare(Forbidden), Practice),
    row("Na2S", WasteRoute(Toxic), Practice),
    row("Na2SO3", Degree("7"), Crc),
    row("Na2SO3", Suited(Unfit, "the hydrate takes up oxygen from the air and turns into the sulfate"), SulfiteNote),
    row("Na2SO3", WasteRoute(Drain), Practice),
    row("Na3SbS4", Degree("9"), Crc),
    row("VOSeO3", Degree("1"), Crc),
    row("ZnSeO4", Degree("5"), Crc),
];
