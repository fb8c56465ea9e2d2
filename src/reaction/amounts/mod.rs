//! Amounts: from the given amounts of some species to the amounts of all.

// Files in order; each uses only those before it:
//   supply    how much there is of a species
//   yields    percent yield
//   reacted   the amounts of all species before and after
//   question  what is given, and the work to the amounts of all species
//   working   the working of amounts
//   serde     amounts in the shape of the JSON-lines contract

mod question;
mod reacted;
#[cfg(feature = "serde")]
mod serde;
mod supply;
#[cfg(test)]
mod tests;
mod working;
mod yields;

pub use question::Amounts;
pub use reacted::{Extent, Reacted, SpeciesAmount};
pub use supply::Supply;
pub use yields::PercentYield;
