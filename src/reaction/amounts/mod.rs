//! Amounts: what is given of some species, and what follows for all of them.

mod question;
mod reacted;
mod supply;
#[cfg(test)]
mod tests;
#[cfg(feature = "serde")]
mod wire;
mod worked;
mod yields;

pub use question::Amounts;
pub use reacted::{Extent, Reacted, SpeciesAmount};
pub use supply::Supply;
pub use yields::PercentYield;
