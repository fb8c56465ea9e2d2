//! Reactions: an [`Equation`] as it is written, balanced exactly or refused with its reasons.

// Files in order; each uses only those before it:
//   error          what can be wrong with an equation
//   conserved      the quantities that a reaction conserves
//   equation       an equation as it was written
//   write          an equation as text, in every notation
//   plus           a `+` that joins, or one that charges
//   coefficient    the number before a species
//   parse          text to an equation
//   check          whether an equation balances as it is written
//   eliminate      fraction-free elimination in whole numbers of any size
//   positive       whether a system has a solution with every number positive
//   system         an equation as linear equations
//   reasons        why an equation has no balance, and what would balance it
//   balance        the smallest whole coefficients
//   stoichiometry  species with coefficients that conserve atoms and charge
//   amounts        from given amounts to the amounts of all species

// A text is cut by `get` and its like: no cut can fail.
#![cfg_attr(not(test), warn(clippy::indexing_slicing, clippy::string_slice))]

mod amounts;
mod balance;
mod check;
mod coefficient;
mod conserved;
mod eliminate;
mod equation;
mod error;
mod parse;
mod plus;
mod positive;
mod reasons;
mod stoichiometry;
mod system;
#[cfg(test)]
mod tests;
mod write;

pub use amounts::{Amounts, Extent, PercentYield, Reacted, SpeciesAmount, Supply};
pub use balance::{Balanced, Balancer};
pub use check::{Checked, Total};
pub use conserved::Conserved;
pub use equation::{Arrow, Equation, Side, Species};
pub use error::{Error, ErrorKind};
pub use stoichiometry::Stoichiometry;
