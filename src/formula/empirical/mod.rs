//! Empirical and molecular formulas: from an analysis of a sample to the whole numbers in a formula.

// Files in order; each uses only those before it:
//   entity       what an analysis counts: atoms of an element, or a whole species
//   analysis     the values of an analysis, and whether they belong together
//   constituent  a part of a sample with its mass, its amount and its ratio
//   multiplier   the multipliers that may make the ratios whole numbers
//   warning      what is doubtful about an analysis
//   amounts      from the values of an analysis to the amount of each part
//   assemble     from whole numbers of parts to a formula
//   outcome      the empirical and the molecular formula
//   serde        an empirical formula in serialised data

mod amounts;
mod analysis;
mod assemble;
mod constituent;
mod entity;
mod multiplier;
mod outcome;
#[cfg(feature = "serde")]
mod serde;
#[cfg(test)]
mod tests;
mod warning;

pub use analysis::Analysis;
pub use constituent::Constituent;
pub(crate) use constituent::{CombustionProduct, Origin};
pub use multiplier::{Fit, Trial};
pub use outcome::Empirical;
