//! The hazards of heating a salt, by the ions that its formula holds and by the rows of the catalogue.

// Files in order; each uses only those before it:
//   rule       a rule: what ions a formula holds, and what heating it then means
//   toxic      rules by toxic elements
//   oxidizing  rules by ions that oxidise or explode
//   gases      rules by ions from which heat or acid drives off more than water
//   metals     rules by metals that are elements, and by platinum
//   harmful    rules by elements whose salts harm, if no row classifies the salt
//   melting    rules by hydrates that melt in their own water
//   pairs      rules by two solids that are heated together
//   finding    what rules and rows say of one hydrate
//   cautions   general cautions, and what too much heat does
//   safety     the severity, the suitability and the cautions of a hydrate

mod cautions;
mod finding;
mod gases;
mod harmful;
mod melting;
mod metals;
mod oxidizing;
mod pairs;
mod rule;
mod safety;
#[cfg(test)]
mod tests;
mod toxic;

#[cfg(feature = "report")]
pub(crate) use finding::Heated;
pub(super) use finding::{leaving_with_water, reacts_with_water};
#[cfg(feature = "report")]
pub(crate) use harmful::may_harm_for_life;
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use safety::cautions_for_any;
pub use safety::{HeatingSafety, cautions};
#[cfg(feature = "report")]
pub(crate) use safety::{cautions_for, general_cautions_for, own_cautions_for};
pub(super) use safety::{cautions_for_most_severe, cautions_for_wetting, grave_hazard};
