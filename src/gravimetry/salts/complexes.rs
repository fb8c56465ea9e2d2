//! The salts of complex anions: one fact a row.

use super::fact::Fact::{Degree, NoHydrate};
use super::fact::{FactRow, row};
use super::source::Source::Crc;

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
    // Listed without a hydrate.
    row("K3Fe(CN)6", NoHydrate, Crc),
];
