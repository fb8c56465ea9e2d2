//! The phosphates and arsenates: one fact a row.

use super::fact::Fact::Degree;
use super::fact::{FactRow, row};
use super::source::Source::{NbsMemory, Usp};

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("Na2HPO4", Degree("2"), NbsMemory),
    row("Na2HPO4", Degree("7"), Usp),
    row("Na2HPO4", Degree("12"), NbsMemory),
];
