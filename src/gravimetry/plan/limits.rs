//! The least mass of hydrate, by three rules.

use super::super::method::Method;
use super::precision::Precision;
use crate::number::{Ratio, Rounded, TieRule};

/// The largest share of the mass of water that its expanded uncertainty may be (common practice, no
/// source).
const SHARE: f64 = 0.01;

/// The least mass of hydrate by each of three rules, in grams and to four significant figures.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct MassLimits {
    resolution: Option<Rounded>,
    relative: Option<Rounded>,
    practical: Rounded,
}

impl MassLimits {
    /// The limits on a balance with this smallest step. The distance is that of the nearest other candidate.
    pub(super) fn new(
        method: &Method,
        precision: &Precision,
        distance: Option<&Ratio>,
        division: &Ratio,
    ) -> MassLimits {
        let reading = method.of_one_reading(division);
        let coverage = method.coverage;
        let largest = distance.map(|distance| distance.to_f64() / (2.0 * coverage));
        let resolution = largest.and_then(|largest| precision.least_mass(largest, reading));
        let repeatability = method.repeatability.unwrap_or(0.0);
        let relative = precision.least_mass_for_water(SHARE / coverage, reading, repeatability);
        let shown = |mass: f64| Some(Ratio::from_float(mass)?.to_figures(4, TieRule::Even));
        MassLimits {
            resolution: resolution.and_then(shown),
            relative: relative.and_then(shown),
            practical: Ratio::ONE.to_places(0, TieRule::Even),
        }
    }

    /// The least mass for which the expanded uncertainty of x is at most half the distance to the nearest
    /// other candidate. `None` if there is no other candidate, or if no mass is enough.
    #[must_use]
    pub fn resolution(&self) -> Option<&Rounded> {
        self.resolution.as_ref()
    }

    /// The least mass for which the expanded uncertainty of the mass of water is 1 % of it. `None` if no
    /// mass is enough.
    #[must_use]
    pub fn relative(&self) -> Option<&Rounded> {
        self.relative.as_ref()
    }

    /// The least mass that is handled well: 1 g (common practice, no source).
    #[must_use]
    pub fn practical(&self) -> &Rounded {
        &self.practical
    }

    /// The largest limit.
    #[must_use]
    pub fn largest(&self) -> &Rounded {
        let both = [&self.resolution, &self.relative];
        let both = both.into_iter().flatten();
        let all = both.chain([&self.practical]);
        all.max_by_key(|limit| limit.value())
            .unwrap_or(&self.practical)
    }
}
