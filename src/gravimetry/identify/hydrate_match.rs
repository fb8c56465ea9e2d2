//! A hydrate with the probability that it is the unknown.

use alloc::vec::Vec;

use super::share_of_water::ShareOfWater;
use crate::formula::Formula;
use crate::number::Ratio;

/// A hydrate that an unknown is compared with, and the probability that it is the unknown. See
/// [`Identification`](super::Identification).
#[derive(Debug, Clone, PartialEq)]
pub struct HydrateMatch {
    pub(super) formula: Formula,
    pub(super) expected_percent_water: Ratio,
    pub(super) z: f64,
    pub(super) probability: f64,
}

impl HydrateMatch {
    /// The hydrate.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// The mass fraction of water that this hydrate has, in per cent, exact.
    #[must_use]
    pub fn expected_percent_water(&self) -> &Ratio {
        &self.expected_percent_water
    }

    /// The observed percentage minus the expected one, in standard uncertainties.
    #[must_use]
    pub fn z(&self) -> f64 {
        self.z
    }

    /// The probability, from 0 to 1. Those of all hydrates that are compared add up to 1.
    #[must_use]
    pub fn probability(&self) -> f64 {
        self.probability
    }
}

/// The hydrates with their probabilities, the most probable first. Equally probable ones keep their
/// order.
pub(super) fn ranked(
    observed: &ShareOfWater,
    hydrates: Vec<(Formula, ShareOfWater)>,
) -> Vec<HydrateMatch> {
    let of_readings = observed.budget.standard_uncertainty();
    let mut ranked: Vec<(f64, HydrateMatch)> = hydrates
        .into_iter()
        .map(|(formula, expected)| {
            let of_weights = expected.budget.standard_uncertainty();
            let uncertainty = libm::hypot(of_readings, of_weights).max(f64::MIN_POSITIVE);
            let z = (&observed.percent - &expected.percent).to_f64() / uncertainty;
            let likelihood = -0.5 * z * z - libm::log(uncertainty);
            let found = HydrateMatch {
                formula,
                expected_percent_water: expected.percent,
                z,
                probability: 0.0,
            };
            (likelihood, found)
        })
        .collect();
    ranked.sort_by(|(one, _), (other, _)| other.total_cmp(one));
    // Relative to the best, so that the exponentials of all do not vanish.
    let best = ranked.first().map_or(0.0, |(likelihood, _)| *likelihood);
    let relative = |likelihood: f64| libm::exp(likelihood - best);
    let sum: f64 = ranked
        .iter()
        .map(|(likelihood, _)| relative(*likelihood))
        .sum();
    let with_probability = ranked.into_iter().map(|(likelihood, found)| HydrateMatch {
        probability: relative(likelihood) / sum,
        ..found
    });
    with_probability.collect()
}
