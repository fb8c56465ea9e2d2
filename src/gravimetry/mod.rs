//! Loss on heating: weighings to constant mass, the degree of hydration with its uncertainty,
//! the range of answers that careful work can give, and what a bench should do next.
//!
//! # How the uncertainty is made up
//!
//! Each reading is an independent input that lies anywhere within half a division (d/√12), with the
//! balance's own repeatability and linearity where they are given; a criterion that was met adds
//! c/√3 to the weighing used, for what heating further might still take; each element's weight lies
//! anywhere within its limit (limit/√3) and counts once, though it sits in the salt and in the water;
//! the method's relative repeatability of the mass of water adds where it is given. The parts are
//! combined in quadrature (GUM, first order).
//!
//! # How often the interval covers
//!
//! On 10,000 simulated benches a balance, with one heating and balances from 0.1 g to 0.001 g, the
//! ratio ± two standard uncertainties holds the true degree in 95 to 97 % of runs: a little above
//! 95 %, because a sum of few errors that cannot exceed half a division has shorter tails than a
//! Gaussian. At 0.0001 g it is 96 to 98 %: there the atomic weights make up much of the variance, and
//! their limits, taken from the abridged table as rectangular, are wider than what most samples show
//! (sodium ± 0.001, though its weight is known to 2·10⁻⁸; sulfur ± 0.02, though its interval is 0.017
//! wide).
//!
//! A met criterion adds ± c, though what is left can only make the residue too heavy, so that more is
//! covered: 97 to 99 % where each heating drives off half of the water still there. It is no guarantee
//! against slow loss. Where a heating takes only a third of what is left, two weighings agree within
//! the criterion and the interval still covers in only about 60 % of runs: heat longer, for the
//! criterion cannot see it.

// Files in order; each uses only those before it:
//   error                what can be wrong with readings
//   quantity             the quantities that a bench works out and reports
//   salts                what is known of salts and their hydrates
//   interval             the least and the greatest value of a calculation
//   weighings            the readings of one bench
//   constant_mass        when the mass counts as constant
//   overheating          a loss that is more than water
//   warning              what is doubtful about a bench's readings
//   series               a container's weighings on its balance
//   method               the rules that a laboratory works by
//   sensitivity          how the ratio changes with each reading
//   mass_loss            what the readings give before any molar mass comes in
//   paths                the tables and roundings that careful work can use
//   defensible           the interval of every quantity along these paths
//   outcome              which hydrate a ratio points to
//   dehydration          from readings to the degree of hydration
//   significant_figures  a dehydration as it should be written
//   working              the steps from readings to a formula
//   mole_ratio           the bare ratio of many benches of one salt
//   reason               why a bench should do something
//   advice               what a bench should do now
//   serde                results in the shape of the JSON-lines contract

mod advice;
mod constant_mass;
mod defensible;
mod dehydration;
mod error;
mod interval;
mod mass_loss;
mod method;
mod mole_ratio;
mod outcome;
mod overheating;
mod paths;
mod quantity;
mod reason;
mod salts;
mod sensitivity;
#[cfg(feature = "serde")]
mod serde;
mod series;
mod significant_figures;
#[cfg(test)]
mod tests;
mod warning;
mod weighings;
mod working;

pub use advice::{Advice, Check, Plateau};
pub use constant_mass::{Constancy, ConstantMass};
pub use defensible::Defensible;
pub use dehydration::Dehydration;
pub use error::{Error, ErrorKind};
pub use interval::Interval;
pub use method::Method;
pub use mole_ratio::MoleRatio;
pub use outcome::{Candidate, Outcome};
pub use quantity::Quantity;
pub use salts::{
    Decomposition, cautions, decomposition, decompositions, known_hydrates, plateau_hydrates,
};
pub use sensitivity::Sensitivity;
pub use weighings::{Net, WeighingUsed, Weighings};

pub(crate) use defensible::NUMERIC_QUANTITIES;
pub(crate) use interval::percent;
pub(crate) use paths::{DefensiblePaths, MassOrAmount};
#[cfg(feature = "report")]
pub(crate) use reason::Reason;
#[cfg(feature = "report")]
pub(crate) use salts::cautions_for;
#[cfg(feature = "class")]
pub(crate) use warning::Warning;
pub(crate) use weighings::ContainerWeighings;
#[cfg(feature = "class")]
pub(crate) use weighings::WeighingsForm;
