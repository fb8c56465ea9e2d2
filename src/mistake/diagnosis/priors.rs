//! How probable each fault is before a reading is looked at.

use alloc::format;

use super::super::error::{Error, ErrorKind, wrong};
use super::super::fault::Fault;

/// The probability of each fault before a reading is looked at. The rest is the probability that there
/// is none.
///
/// The default is for pupils who do this experiment for the first or second time (common practice, no
/// source):
///
/// | fault | prior | why |
/// | --- | --- | --- |
/// | `water_left` | 0.1 | by far the commonest: the lesson ends |
/// | `solid_lost` | 0.05 | crystals spit when they are heated fast |
/// | `moisture_taken_up` | 0.02 | needs a long wait without a desiccator |
/// | `stopped_at_lower_hydrate` | 0.02 | needs a salt with a plateau |
/// | `weighed_warm` | 0.02 | impatience at the end |
/// | `weighing_misread` | 0.015 | a bench writes five or six numbers, and digital displays are read well |
/// | `decomposed` | 0.015 | needs a strong flame |
/// | `sample_damp` | 0.01 | one bottle serves the class, so it is rarely one bench alone |
/// | `sample_effloresced` | 0.01 | as for a damp sample |
/// | `container_damp` | 0.01 | most crucibles are stored dry |
/// | `balance_changed` | 0.005 | needs two balances and a queue |
///
/// ```
/// use effloresce::mistake::{Fault, Priors};
/// let priors = Priors::new();
/// assert!((priors.no_fault() - 0.725).abs() < 1e-12);
///
/// // A class with one balance cannot change it.
/// let priors = priors.with(Fault::BalanceChanged, 0.0)?;
/// assert_eq!(priors.of(Fault::BalanceChanged), 0.0);
///
/// let error = priors.with(Fault::SolidLost, 1.5).unwrap_err();
/// assert_eq!(error.to_string(), "1.5 is not a probability of solid_lost");
/// assert_eq!(error.help(), Some("give a number from 0 to below 1, such as 0.04"));
/// # Ok::<(), effloresce::mistake::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Priors {
    /// In the order of `Fault::ALL`.
    faults: [f64; Fault::ALL.len()],
}

impl Default for Priors {
    fn default() -> Self {
        Priors {
            faults: Fault::ALL.map(usual),
        }
    }
}

/// The default.
fn usual(fault: Fault) -> f64 {
    match fault {
        Fault::WaterLeft => 0.1,
        Fault::SolidLost => 0.05,
        Fault::MoistureTakenUp | Fault::StoppedAtLowerHydrate | Fault::WeighedWarm => 0.02,
        Fault::WeighingMisread | Fault::Decomposed => 0.015,
        Fault::SampleDamp | Fault::SampleEffloresced | Fault::ContainerDamp => 0.01,
        Fault::BalanceChanged => 0.005,
    }
}

impl Priors {
    /// Returns the default.
    #[must_use]
    pub fn new() -> Priors {
        Priors::default()
    }

    /// Returns the default with some faults changed, such as those that a policy names.
    ///
    /// The probabilities are checked together, so their order does not matter.
    ///
    /// # Errors
    /// Returns an error if a probability is not from 0 to below 1, or if all together are 1 or more.
    ///
    /// ```
    /// use effloresce::mistake::{Fault, Priors};
    /// let priors = Priors::with_all([(Fault::WaterLeft, 0.5), (Fault::SolidLost, 0.1)])?;
    /// assert_eq!(priors.of(Fault::WaterLeft), 0.5);
    /// let error = Priors::with_all([(Fault::WaterLeft, 0.9)]).unwrap_err();
    /// assert!(error.to_string().starts_with("the probabilities of the faults add up to 1.075"));
    /// # Ok::<(), effloresce::mistake::Error>(())
    /// ```
    pub fn with_all(faults: impl IntoIterator<Item = (Fault, f64)>) -> Result<Priors, Error> {
        let mut priors = Priors::default();
        for (fault, probability) in faults {
            if !(0.0..1.0).contains(&probability) {
                return Err(wrong(
                    ErrorKind::Prior,
                    format!("{probability} is not a probability of {fault}"),
                    "give a number from 0 to below 1, such as 0.04",
                ));
            }
            let at = Fault::ALL.iter().position(|other| *other == fault);
            if let Some(prior) = at.and_then(|at| priors.faults.get_mut(at)) {
                *prior = probability;
            }
        }
        let sum: f64 = priors.faults.iter().sum();
        if sum >= 1.0 {
            return Err(wrong(
                ErrorKind::Prior,
                format!(
                    "the probabilities of the faults add up to {sum:.3}, so none is left for no fault"
                ),
                "give smaller ones; the faults that are not named have the default",
            ));
        }
        Ok(priors)
    }

    /// Returns these with one fault changed.
    ///
    /// # Errors
    /// Returns the errors of [`with_all`](Priors::with_all).
    pub fn with(self, fault: Fault, probability: f64) -> Result<Priors, Error> {
        let all = Fault::ALL.into_iter().zip(self.faults);
        Priors::with_all(all.chain([(fault, probability)]))
    }

    /// Returns the probability of a fault.
    #[must_use]
    pub fn of(&self, fault: Fault) -> f64 {
        let mut all = Fault::ALL.into_iter().zip(self.faults);
        all.find_map(|(other, prior)| (other == fault).then_some(prior))
            .unwrap_or_default()
    }

    /// Returns the probability that there is no fault: what the faults leave of 1.
    #[must_use]
    pub fn no_fault(&self) -> f64 {
        1.0 - self.faults.iter().sum::<f64>()
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Priors {
    /// Serializes the probability of each fault by its code.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(Fault::ALL.into_iter().zip(self.faults))
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Priors {
    /// Reads the probabilities of some faults by their codes. The others have the default.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let given = crate::text::UniqueKeys::<Fault, f64>::deserialize(deserializer)?;
        Priors::with_all(given.0).map_err(|error| crate::text::refusal(&error))
    }
}
