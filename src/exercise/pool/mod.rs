//! The pool of exercises, version 1: the lists that problems are drawn from.
//!
//! The lists of a version never change, not even in their order, because a seed must give the same problem
//! for ever. A correction or an addition is a new version, and the old one stays.

// Files in order; each uses only those before it:
//   salts      hydrates, and which of them a school may heat
//   heats      hydrates with a known heat of hydration
//   stages     solids that lose mass in stages
//   mixtures   mixtures that the loss on heating solves
//   factors    substances sought and the forms that are weighed
//   compounds  compounds for empirical and molecular formulas
//   reactions  reactions for limiting reactants and yields
//   equations  equations to balance
//   solutions  substances that are used as solutions, with an upper concentration

mod compounds;
mod equations;
mod factors;
mod heats;
mod mixtures;
mod reactions;
mod salts;
mod solutions;
mod stages;
#[cfg(test)]
mod tests;

pub(crate) use compounds::{COMPOUNDS, CompoundRow};
pub(crate) use equations::EQUATIONS;
pub(crate) use factors::{FACTORS, FactorRow};
pub(crate) use heats::{HEATS, HeatRow};
pub(crate) use mixtures::{MIXTURES, MixtureRow};
pub(crate) use reactions::{Collected, REACTIONS, ReactionRow};
pub(crate) use salts::SALTS;
pub(crate) use solutions::SOLUTIONS;
pub(crate) use stages::{STAGES, StagesRow};
