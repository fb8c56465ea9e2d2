//! The salts of complex anions: one fact a row.

use super::fact::Fact::{
    Degree, Hazards, NoHydrate, NoPlateau, SafeUpTo, SchoolCare, Stage, Suited, WasteRoute,
};
use super::fact::{FactRow, row};
use super::severity::Severity::FumeCupboard;
use super::source::Source::{
    Crc, FerrocyanideEntry, FerrocyanideOxygen, FerrocyanideSheet, Practice,
};
use super::suitability::Suitability::Unfit;
use super::waste::Waste::Toxic;

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Ba[Pt(CN)4]", Degree("4"), Crc),
    row("HAuCl4", Degree("4"), Crc),
    row("K3[Co(NO2)6]", Degree("1.5"), Crc),
    row("CuSiF6", Degree("4"), Crc),
    row("MgSiF6", Degree("6"), Crc),
    row("K2Al2O4", Degree("3"), Crc),
    row("K2SnO3", Degree("3"), Crc),
    row("Na2PtCl6", Degree("6"), Crc),
    row("K4[Fe(CN)6]", Degree("3"), FerrocyanideOxygen),
    row("K4[Fe(CN)6]", NoPlateau, FerrocyanideSheet),
    row("K4[Fe(CN)6]", Stage("3", "0", [60, 100], "heated in air"), FerrocyanideSheet),
    row("K4[Fe(CN)6]", Suited(Unfit, "if it is overheated, potassium cyanide is left"), FerrocyanideOxygen),
    row("K4[Fe(CN)6]", SafeUpTo(100), FerrocyanideSheet),
    row("K4[Fe(CN)6]", Hazards(&["H411"]), FerrocyanideEntry),
    row("K4[Fe(CN)6]", SchoolCare(FumeCupboard), FerrocyanideOxygen),
    row("K4[Fe(CN)6]", WasteRoute(Toxic), Practice),
    // Listed without a hydrate.
    row("K3Fe(CN)6", NoHydrate, Crc),
];
