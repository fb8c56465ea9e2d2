//! The hydroxides, the borates and the oxo acids: one fact a row.

use super::fact::Fact::{Degree, Plateau};
use super::fact::{FactRow, row};
use super::source::Source::{Crc, Habashy, Nbs, NbsMemory, Usp};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2B4O7", Degree("5"), Crc),
    row("Na2B4O7", Degree("10"), Usp),
    row("Ba(OH)2", Degree("1"), Crc),
    row("Ba(OH)2", Degree("8"), Nbs),
    row("Ba(OH)2", Plateau("1"), Habashy),
    row("LiOH", Degree("1"), NbsMemory),
];
