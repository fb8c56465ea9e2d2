//! The samples of a plan, and the published stages of heating.

use alloc::vec::Vec;

use super::class_plan::{Plan, PlannedBalance};
use crate::gravimetry::salts::{HeatingStage, Severity, salt_facts};
use crate::number::Ratio;

/// The masses of hydrate of the samples, in grams, besides those of the plan.
const MASSES: [&str; 6] = ["0.5", "1", "2", "3", "5", "10"];

/// A mass of hydrate, and what is expected of it. All masses are in grams.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedSample {
    hydrate: Ratio,
    residue: Ratio,
    loss: Ratio,
    expanded_uncertainties: Vec<f64>,
}

impl PlannedSample {
    /// The mass of hydrate.
    #[must_use]
    pub fn hydrate(&self) -> &Ratio {
        &self.hydrate
    }

    /// The mass that is left.
    #[must_use]
    pub fn residue(&self) -> &Ratio {
        &self.residue
    }

    /// The mass that is lost.
    #[must_use]
    pub fn loss(&self) -> &Ratio {
        &self.loss
    }

    /// The expanded uncertainty of x on each balance of the plan, in their order.
    #[must_use]
    pub fn expanded_uncertainties(&self) -> &[f64] {
        &self.expanded_uncertainties
    }
}

impl Plan {
    /// Returns what is expected of usual masses of hydrate, and of the least and the greatest to weigh out. The smallest
    /// comes first.
    ///
    /// ```
    /// use effloresce::{gravimetry::Method, number::TieRule};
    /// let plan = Method::new().plan(&"MgSO4·7H2O".parse()?, "0.01".parse()?)?;
    /// let samples = plan.samples();
    /// let least = samples.iter().find(|sample| sample.hydrate() == plan.weigh_between()[0]).unwrap();
    /// assert_eq!(least.loss().to_places(2, TieRule::Even).to_string(), "0.82");
    /// assert_eq!(least.expanded_uncertainties().len(), plan.balances().len());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn samples(&self) -> Vec<PlannedSample> {
        let mut masses: Vec<Ratio> = MASSES.iter().filter_map(|mass| mass.parse().ok()).collect();
        masses.extend(self.weigh_between().map(Clone::clone));
        masses.sort_unstable();
        masses.dedup();
        let steps = || self.balances().iter().map(PlannedBalance::readability);
        let sample = |hydrate: Ratio| PlannedSample {
            residue: self.residue_from(&hydrate),
            loss: self.loss_from(&hydrate),
            expanded_uncertainties: steps()
                .map(|step| self.expanded_uncertainty(&hydrate, step))
                .collect(),
            hydrate,
        };
        masses.into_iter().map(sample).collect()
    }

    /// Returns the published stages of heating this salt, from the catalogue. There are none if it must not be heated.
    ///
    /// ```
    /// use effloresce::gravimetry::Method;
    /// let plan = Method::new().plan(&"CuSO4·5H2O".parse()?, "0.01".parse()?)?;
    /// assert_eq!(plan.heating_stages()[0].celsius(), (97, 102));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn heating_stages(&self) -> &'static [HeatingStage] {
        let unit = self.issued().one_formula_unit();
        let facts = unit.and_then(|(salt, _)| salt_facts(&salt));
        match facts {
            Some(facts) if self.safety().severity() != Severity::Forbidden => facts.stages(),
            _ => &[],
        }
    }
}
