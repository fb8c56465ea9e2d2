//! Reactions: how much of each species goes in, is used up, is formed and is left.

mod amounts;
mod error;
mod stoichiometry;

pub use amounts::{Amounts, Extent, PercentYield, Reacted, SpeciesAmount, Supply};
pub use error::{Error, ErrorKind};
pub use stoichiometry::{Role, Stoichiometry};
