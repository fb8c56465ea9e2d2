//! The chlorates, bromates, iodates, perchlorates and hypochlorites: one fact a row.

use super::fact::Fact::{Degree, Hazards, NoHydrate};
use super::fact::{FactRow, row};
use super::source::Source::{AnnexSix, Crc};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Ba(BrO3)2", Degree("1"), Crc),
    row("Ba(ClO3)2", Degree("1"), Crc),
    row("Ba(IO3)2", Degree("1"), Crc),
    row("Ba(ClO4)2", Degree("3"), Crc),
    row("Cd(ClO3)2", Degree("2"), Crc),
    row("Co(BrO3)2", Degree("6"), Crc),
    row("Cu(ClO4)2", Degree("6"), Crc),
    row("N2H4·HClO4", Degree("0.5"), Crc),
    row("Pb(BrO3)2", Degree("1"), Crc),
    row("LiClO4", Degree("3"), Crc),
    row("Mg(IO3)2", Degree("4"), Crc),
    row("Mg(ClO4)2", Degree("6"), Crc),
    row("Mn(ClO4)2", Degree("6"), Crc),
    row("Ni(ClO3)2", Degree("6"), Crc),
    row("Ni(ClO3)2", Hazards(&["H317", "H334", "H341", "H350i", "H360D", "H372", "H410"]), AnnexSix),
    row("NaClO", Degree("5"), Crc),
    row("NaClO4", Degree("1"), Crc),
    row("Sr(BrO3)2", Degree("1"), Crc),
    // Listed without a hydrate.
    row("KClO3", NoHydrate, Crc),
    row("NaClO3", NoHydrate, Crc),
    row("KClO4", NoHydrate, Crc),
    row("KIO3", NoHydrate, Crc),
    row("NaBrO3", NoHydrate, Crc),
];
