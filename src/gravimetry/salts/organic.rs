//! The organic acids and their salts: one fact a row.

use super::fact::Fact::{Degree, HeatRemark, NoPlateau, Suited};
use super::fact::{FactRow, row};
use super::source::Source::{Memory, NbsMemory, Practice, Usp};
use super::suitability::Suitability::Unfit;

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("NaC2H3O2", Degree("3"), Usp),
    row("H2C2O4", Degree("2"), NbsMemory),
    row("H2C2O4", NoPlateau, Memory),
    row("H2C2O4", HeatRemark("leaves nothing: it sublimes, and decomposes into CO2, CO and water"), Memory),
    row("H2C2O4", Suited(Unfit, "the acid sublimes, and its vapour is harmful"), Practice),
];
