//! The mass and the percentage of the substance sought.

use alloc::format;
use alloc::vec::Vec;

use super::gravimetric_factor::GravimetricFactor;
use crate::gravimetry::error::{Error, impossible};
use crate::number::{Budget, Inputs, Measured, Ratio, Reading, Traced};
use crate::text::Note;
use crate::working::{Step, Working};

/// The content of a sample: the mass of the substance sought, and its percentage.
///
/// The mass that was weighed and the mass of the sample are readings of their own. Each lies anywhere
/// within half a unit of its last place.
///
/// ```
/// use effloresce::AtomicWeights;
/// use effloresce::gravimetry::GravimetricFactor;
/// let weights = AtomicWeights::default();
/// let factor = GravimetricFactor::new("MgSO4".parse()?, "BaSO4".parse()?, &weights)?;
/// let content = factor.content("0.6168".parse()?, Some("0.4550".parse()?))?;
/// assert_eq!(format!("{:.4} g", content.sought_mass()), "0.3181 g");
/// assert_eq!(format!("{:.2} %", content.percent().unwrap()), "69.91 %");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Content {
    factor: GravimetricFactor,
    weighed_mass: Reading,
    sample: Option<Reading>,
    sought_mass: Traced,
    percent: Option<Traced>,
    inputs: Inputs,
}

impl GravimetricFactor {
    /// Works out the mass of the substance sought from the mass weighed, in grams. With the mass of the
    /// sample it works out the percentage, too.
    ///
    /// # Errors
    /// `impossible_masses` if a mass is not positive.
    pub fn content(&self, weighed: Reading, sample: Option<Reading>) -> Result<Content, Error> {
        let mut inputs = self.inputs.clone();
        let mut mass = |name: &'static str, reading: &Reading| {
            let traced = inputs.reading(name, reading);
            match traced.value().is_positive() {
                true => Ok(traced),
                false => Err(impossible(
                    format!("the {name} ({reading} g) is not positive"),
                    "check the reading",
                )),
            }
        };
        let sought_mass = mass("mass weighed", &weighed)?.times(&self.factor);
        let of_sample = sample.map(|sample| mass("mass of the sample", &sample));
        let of_sample = of_sample.transpose()?;
        let percent = of_sample.and_then(|sample| {
            let hundredfold = sought_mass.times_exact(&Ratio::from(100));
            hundredfold.over(&sample)
        });
        Ok(Content {
            factor: self.clone(),
            weighed_mass: weighed,
            sample,
            sought_mass,
            percent,
            inputs,
        })
    }
}

impl Content {
    /// The factor.
    #[must_use]
    pub fn factor(&self) -> &GravimetricFactor {
        &self.factor
    }

    /// The mass of the substance sought, in grams and exact.
    #[must_use]
    pub fn sought_mass(&self) -> &Ratio {
        self.sought_mass.value()
    }

    /// The mass of the substance sought, with its significant figures.
    #[must_use]
    pub fn measured_sought_mass(&self) -> &Measured {
        self.sought_mass.measured()
    }

    /// The percentage of the substance sought in the sample, exact; `None` without a sample.
    #[must_use]
    pub fn percent(&self) -> Option<&Ratio> {
        self.percent.as_ref().map(Traced::value)
    }

    /// The percentage with its significant figures; `None` without a sample.
    #[must_use]
    pub fn measured_percent(&self) -> Option<&Measured> {
        self.percent.as_ref().map(Traced::measured)
    }

    /// Returns the contributions to the uncertainty of the mass of the substance sought.
    #[must_use]
    pub fn mass_budget(&self) -> Budget {
        self.inputs.budget(&self.sought_mass)
    }

    /// Returns the contributions to the uncertainty of the percentage; `None` without a sample.
    #[must_use]
    pub fn percent_budget(&self) -> Option<Budget> {
        let percent = self.percent.as_ref()?;
        Some(self.inputs.budget(percent))
    }

    /// Returns the doubts: a percentage above 100, and the notes of the factor.
    #[must_use]
    pub fn warnings(&self) -> Vec<Note> {
        let percent = self
            .percent()
            .filter(|percent| **percent > Ratio::from(100));
        let above = percent.and(self.measured_percent()).map(|percent| {
            let percent = percent.with_guard_digit();
            let sought = &self.factor.sought;
            Note::new(
                "percent_above_100",
                format!(
                    "The sample cannot be {percent} % {sought}. Check the readings and the formula of what was \
                     weighed. It may have been wet or impure."
                ),
            )
            .with("percent", percent)
        });
        let notes = self.factor.notes().iter().cloned();
        above.into_iter().chain(notes).collect()
    }

    /// Returns the steps from the molar masses to the mass and the percentage.
    #[must_use]
    pub fn working(&self) -> Working {
        let (sought, weighed) = (&self.factor.sought, &self.factor.weighed);
        let mut working = self.factor.working();
        working.push(Step::new(
            format!("mass of {sought}"),
            format!("m({sought}) = F × m({weighed})"),
            format!("{} × {} g", self.factor.rounded(), self.weighed_mass),
            match self.percent {
                Some(_) => self.sought_mass.measured().with_guard_digit(),
                None => self.sought_mass.measured().to_plain(),
            },
            "g",
        ));
        if let (Some(sample), Some(percent)) = (self.sample, &self.percent) {
            working.push(Step::new(
                format!("percent {sought}"),
                format!("100 % × m({sought}) / m(sample)"),
                format!(
                    "100 % × {} g / {sample} g",
                    self.sought_mass.measured().with_guard_digit()
                ),
                percent.measured().to_plain(),
                "%",
            ));
        }
        working
    }
}
