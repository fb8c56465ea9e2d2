//! Loss on heating, from weighings to the degree of hydration with its uncertainty. The module also
//! gives the range of answers that careful work can give, and advice to a bench.
//!
//! # Parts of the uncertainty
//!
//! - Each reading is an independent input. It lies anywhere within half a division *d*, which gives
//!   d/√12. The repeatability and the linearity of the balance are added if they are given.
//! - If the criterion for constant mass *c* is reached, c/√3 is added to the weighing used. Further
//!   heating might still drive off as much.
//! - Slow loss: from three weighings after heating on, the water that is still to come is estimated. If what it adds
//!   is more than c/√3, or *c* is not reached, it is added instead.
//! - Each atomic weight lies anywhere within its limit, which gives limit/√3. It counts once, although
//!   the element may be in the salt and in the water.
//! - The relative repeatability of the mass of water is added if it is given.
//!
//! The parts are combined in quadrature (GUM, first order).
//!
//! # How often the true degree is within two standard uncertainties
//!
//! 10,000 benches were simulated for each balance, with one heating. With balances from 0.1 g to
//! 0.001 g, the true degree is within them in 95 to 97 % of runs. This is a little more than
//! 95 %. A sum of few errors, none larger than half a division, has shorter tails than a Gaussian.
//!
//! At 0.0001 g it is 96 to 98 %. There the atomic weights make up much of the variance. Their limits
//! come from the abridged table and are used as rectangular. They are wider than what most samples
//! show. For sodium the limit is ± 0.001, although its weight is known to 2·10⁻⁸. For sulfur it is
//! ± 0.02, although its interval is 0.017 wide.
//!
//! A criterion that is reached adds ± c, although the water left can only make the residue too heavy.
//! So coverage is 97 to 99 % if each heating drives off half of the water still there. If a heating
//! drives off only a third, two weighings agree within the criterion, and only about 60 % of runs are
//! covered. A third weighing shows it.
//!
//! # Slow loss
//!
//! If each heating leaves the share *r* of the water, the falls *f* and *g* of the last three weighings leave
//! g²/(f − g) to come. The last three to six weighings count, with the balance's uncertainty: as many as one share
//! explains within three standard uncertainties. Before them, any dry mass, any amount of water and any share up to
//! 0.9 are equally likely. This gives a mean *R* and a standard deviation *S* of the water to come. Falls that do
//! not shrink show nothing.
//!
//! x stays what the readings give. The GUM assumes that known effects are corrected (3.2.4). It has no rule for one
//! that is not (Meas. Sci. Rev. 2019, doi:10.2478/msr-2019-0026), so the interval is widened by the full effect.
//! The water *B* = R + 1.8 √(S² + u²), with the uncertainty *u* of a reading, is more than 95 % of such benches have
//! left. Half of the change of x that *B* would make is added as a standard uncertainty: x ± 2 u covers it.
//!
//! Benches with *r* from 0.3 to 0.85 were simulated for each balance, with three to six weighings. On average, 93 to
//! 98 % are covered, both with weighings that agree and with a mass that still falls. Three limits are known:
//!
//! - A bench that stops as soon as two weighings agree often stops by chance. If r is 0.8, 90 to 97 % of them are
//!   covered, and 82 to 92 % if it is 0.85. If r is 0.3, it is nearly 100 %, because of the criterion.
//! - The balance's repeatability must be known to the method. If readings scatter by a third of a division, and the
//!   method does not know it, the coverage falls to 60 to 90 %.
//! - Water that leaves only in a hotter flame does not show in the falls.
//!
//! With one heating, or while falls do not shrink, the uncertainty is a lower bound.

// Files in order; each uses only those before it:
//   error                what can be wrong with readings
//   quantity             the quantities that a bench works out and reports
//   salts                what is known of salts and their hydrates
//   hazard               what heating a salt in a school means
//   given_salt           the salt of a formula that is given, and its waters
//   interval             the least and the greatest value of a calculation
//   weighings            the readings of one bench
//   constant_mass        when the mass counts as constant
//   overheating          a loss that is more than water
//   warning              what is doubtful about a bench's readings
//   slow_loss            the water that a slow loss still leaves
//   series               a container's weighings on its balance
//   residual_salt        what complete heating leaves
//   method               the rules that a laboratory works by
//   uncertainty_part     what the uncertainty of a ratio covers
//   sensitivity          how the ratio changes with each reading
//   mass_loss            what the readings give before any molar mass comes in
//   paths                the tables and roundings that careful work can use
//   defensible           the interval of every quantity along these paths
//   outcome              the hydrate that a ratio fits
//   dehydration          from readings to the degree of hydration
//   significant_figures  a dehydration as it should be written
//   working              the steps from readings to a formula
//   factor               gravimetric factors, and the content that they give
//   stages               heating in stages: what each leaves and loses
//   residue_fraction     what is left of each gram of a sample
//   mixture              mixtures of two components from the mass that they lose
//   drying               loss on drying and on ignition, and the limits of a monograph
//   identify             an unknown hydrate, from its percentage of water
//   heat                 the heat that a salt gives off when it takes up water
//   mole_ratio           the bare ratio of many benches of one salt
//   issued               the hydrate issued to a bench, and the masses that it should leave
//   exchange             readings that one exchange would put right
//   reason               why a bench should do something
//   advice               what a bench should do now
//   issued_target        the mass that a bench should end at, and what explains readings that miss it
//   advise               the rules by which a bench gets its advice
//   plan                 the masses to weigh out for a class
//   serde                readings and results in the shape of the JSON-lines contract
//   serde_rules          the rules of a laboratory in that shape

mod advice;
mod advise;
mod constant_mass;
mod defensible;
mod dehydration;
mod drying;
mod error;
mod exchange;
mod factor;
mod given_salt;
mod hazard;
mod heat;
mod identify;
mod interval;
mod issued;
mod issued_target;
mod mass_loss;
mod method;
mod mixture;
mod mole_ratio;
mod outcome;
mod overheating;
mod paths;
mod plan;
mod quantity;
mod reason;
mod residual_salt;
mod residue_fraction;
mod salts;
mod sensitivity;
#[cfg(feature = "serde")]
mod serde;
#[cfg(feature = "serde")]
mod serde_rules;
mod series;
mod significant_figures;
mod slow_loss;
mod stages;
#[cfg(test)]
mod tests;
mod uncertainty_part;
mod warning;
mod weighings;
mod working;

pub use advice::{Advice, Check};
pub use constant_mass::{Constancy, ConstantMass};
pub use defensible::Defensible;
pub use dehydration::Dehydration;
pub use drying::{Compliance, Limits, LossOnDrying};
pub use error::{Error, ErrorKind};
pub use factor::{Content, GravimetricFactor};
pub use hazard::{HeatingSafety, cautions};
pub use heat::HeatOfHydration;
pub use identify::{HydrateMatch, Identification};
pub use interval::Interval;
pub use issued::Plateau;
pub use method::Method;
pub use mixture::{Component, Mixture};
pub use mole_ratio::MoleRatio;
pub use outcome::{Candidate, Outcome};
pub use plan::{MassLimits, Plan, PlannedBalance, PlannedSample, commonest_hydrate};
pub use quantity::Quantity;
pub use salts::{
    Decomposition, HazardStatement, HeatingStage, SaltFacts, Severity, Sourced, Suitability, Waste,
    decomposition, decompositions, known_hydrates, known_salts, plateau_hydrates, salt_facts,
};
pub use sensitivity::Sensitivity;
pub use stages::{SequenceFit, Stage, Stages};
pub use uncertainty_part::UncertaintyPart;
pub use weighings::{Net, WeighingUsed, Weighings};

pub(crate) use defensible::NUMERIC_QUANTITIES;
pub(crate) use exchange::NamedReading;
#[cfg(feature = "class")]
pub(crate) use exchange::{with_digits_kept, with_one_digit_changed};
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use hazard::cautions_for_any;
#[cfg(feature = "report")]
pub(crate) use hazard::{
    Heated, cautions_for, general_cautions_for, may_harm_for_life, own_cautions_for,
};
pub(crate) use interval::percent;
pub(crate) use method::USUAL_REPEATABILITY;
#[cfg(feature = "exercise")]
pub(crate) use paths::CarefulPaths;
#[cfg(feature = "class")]
pub(crate) use paths::figures_kept;
pub(crate) use paths::{DefensiblePaths, MassOrAmount};
#[cfg(feature = "report")]
pub(crate) use reason::Reason;
#[cfg(feature = "exercise")]
pub(crate) use salts::LIQUID_WATER;
pub(crate) use salts::other_salts;
#[cfg(feature = "class")]
pub(crate) use salts::written_salts;
#[cfg(all(feature = "serde", feature = "class"))]
pub(crate) use serde::{Grams, Percent, WeighingsFields};
#[cfg(feature = "class")]
pub(crate) use warning::Warning;
pub(crate) use weighings::ContainerWeighings;
#[cfg(feature = "class")]
pub(crate) use weighings::WeighingsForm;
