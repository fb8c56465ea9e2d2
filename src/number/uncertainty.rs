//! Uncertainty of a result as a function of inputs that are shared between its parts.

use alloc::borrow::Cow;
use alloc::vec::Vec;

/// The contribution of one input to the uncertainty of a result.
#[derive(Debug, Clone, PartialEq)]
pub struct Contribution {
    input: Cow<'static, str>,
    standard_uncertainty: f64,
    sensitivity: f64,
}

impl Contribution {
    pub(crate) fn new(
        input: impl Into<Cow<'static, str>>,
        standard_uncertainty: f64,
        sensitivity: f64,
    ) -> Self {
        Contribution {
            input: input.into(),
            standard_uncertainty,
            sensitivity,
        }
    }

    /// Returns the input: a weighing, the method's repeatability or an element's atomic weight.
    #[must_use]
    pub fn input(&self) -> &str {
        &self.input
    }

    /// Returns the standard uncertainty of the input, in its own unit.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.standard_uncertainty
    }

    /// Returns the change of the result for a unit change of the input.
    #[must_use]
    pub fn sensitivity(&self) -> f64 {
        self.sensitivity
    }

    /// Returns the contribution to the standard uncertainty of the result.
    #[must_use]
    pub fn amount(&self) -> f64 {
        libm::fabs(self.standard_uncertainty * self.sensitivity)
    }
}

/// The uncertainty budget of a result: every independent input once, with its sensitivity.
///
/// The parts are combined in quadrature: the law of propagation of uncertainty, to first order,
/// for uncorrelated inputs (JCGM 100:2008, GUM, 5.1.2). An input may enter a result in
/// two ways, as the last weighing enters both the water and the residue. It is listed once, with the
/// sum of its sensitivities.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Budget {
    contributions: Vec<Contribution>,
}

impl Budget {
    pub(crate) fn new(contributions: Vec<Contribution>) -> Self {
        Budget { contributions }
    }

    /// Returns the contributions, in the order weighings, method, atomic weights.
    #[must_use]
    pub fn contributions(&self) -> &[Contribution] {
        &self.contributions
    }

    /// Returns the combined standard uncertainty.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        libm::sqrt(self.variance())
    }

    /// Returns the expanded uncertainty: the standard uncertainty times a coverage factor.
    #[must_use]
    pub fn expanded(&self, coverage: f64) -> f64 {
        self.standard_uncertainty() * coverage
    }

    /// Returns the part of the variance that a contribution makes up, from 0 to 1.
    #[must_use]
    pub fn share(&self, contribution: &Contribution) -> f64 {
        let variance = self.variance();
        if variance > 0.0 {
            contribution.amount() * contribution.amount() / variance
        } else {
            0.0
        }
    }

    fn variance(&self) -> f64 {
        // From a positive zero, as `sum` of nothing is a negative one.
        let amounts = self.contributions.iter().map(Contribution::amount);
        amounts.fold(0.0, |sum, amount| sum + amount * amount)
    }
}

/// Returns the standard uncertainty of a quantity that lies anywhere within ± `half_width` with equal
/// probability (GUM 4.3.7): the half-width divided by √3.
pub(crate) fn rectangular(half_width: f64) -> f64 {
    half_width / libm::sqrt(3.0)
}
