//! Loss on drying and loss on ignition, and their comparison with the limits of a monograph.
//!
//! A result is rounded to the decimal places of a limit, half a unit up, and then compared with it. The
//! limits themselves comply, and nothing is allowed beyond them (United States Pharmacopeia, General
//! Notices, 7.10 and 7.20, as printed in USP 32). The European Pharmacopoeia rounds to the significant
//! figures of the limit instead, and halves in the same way (General Notices, limits). The two differ only if result
//! and limit have another number of digits before the decimal point.

use alloc::format;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::error::{Error, impossible, out_of_range};
use super::method::Method;
use super::weighings::Weighings;
use crate::number::{Budget, Measured, Ratio, Reading, Rounded, Stated, TieRule, Traced};
use crate::text::Note;
use crate::working::{Step, Working};

/// The loss of a sample on drying or on ignition, in per cent of its mass.
///
/// ```
/// use effloresce::gravimetry::{Limits, Method, Weighings};
/// let dried = Weighings::new(
///     "32.4175".parse()?,
///     "33.4312".parse()?,
///     ["32.9129".parse()?, "32.9125".parse()?],
/// );
/// let loss = Method::new().loss_on_drying(&dried)?;
/// assert_eq!(format!("{:.3} %", loss.percent()), "51.169 %");
/// // The limits for MgSO4·7H2O in the European Pharmacopoeia 9.0.
/// let limits = Limits::between("48.0".parse()?, "52.0".parse()?)?;
/// assert!(loss.against(&limits).complies());
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[doc(alias = "loss on ignition")]
#[doc(alias = "LOD")]
#[doc(alias = "LOI")]
pub struct LossOnDrying {
    percent: Ratio,
    budget: Budget,
    coverage: f64,
    masses: Option<(Reading, Reading)>,
    constancy: Option<Constancy>,
    warnings: Vec<Note>,
}

impl Method {
    /// Works out the loss on drying or on ignition from the weighings of a sample.
    ///
    /// # Errors
    /// `impossible_masses` if the residue is heavier than the sample, or a mass is not positive.
    /// `missing_field` if no weighing after heating is given.
    #[doc(alias = "loss_on_ignition")]
    pub fn loss_on_drying(&self, weighings: &Weighings) -> Result<LossOnDrying, Error> {
        let found = self.residue_fraction(weighings)?;
        let one = Traced::exact(Ratio::ONE);
        let percent = one.minus(&found.fraction).times_exact(&Ratio::from(100));
        if percent.value().is_negative() {
            return Err(impossible(
                "the residue is heavier than the sample, so nothing was lost".into(),
                "check the readings: one may be misread, or they were swapped",
            ));
        }
        Ok(LossOnDrying {
            budget: found.inputs.budget(&percent),
            percent: percent.value().clone(),
            coverage: self.coverage,
            masses: found.masses,
            constancy: found.constancy,
            warnings: found.warnings,
        })
    }
}

impl LossOnDrying {
    /// The loss in per cent of the mass of the sample, exact.
    #[must_use]
    pub fn percent(&self) -> &Ratio {
        &self.percent
    }

    /// Returns the loss with its significant figures; `None` if no masses are given.
    #[must_use]
    pub fn measured_percent(&self) -> Option<Measured> {
        let (sample, residue) = self.masses?;
        let sample = Measured::from(&sample);
        let lost = &sample - &Measured::from(&residue);
        (&lost * &Measured::exact(Ratio::from(100))).checked_div(&sample)
    }

    /// The standard uncertainty of the loss, in per cent of the mass of the sample.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// The contributions to the uncertainty.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// Returns the loss with its standard uncertainty, which is rounded to two significant figures.
    #[must_use]
    pub fn stated(&self) -> Option<Stated> {
        Stated::new(&self.percent, self.standard_uncertainty())
    }

    /// The comparison with the criterion for constant mass; `None` for net masses and percentages.
    #[must_use]
    pub fn constant_mass(&self) -> Option<&Constancy> {
        self.constancy.as_ref()
    }

    /// The doubts about the readings.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }

    /// Compares the loss with the limits of a monograph.
    #[must_use]
    pub fn against(&self, limits: &Limits) -> Compliance {
        let mut compliance = limits.compare(&self.percent);
        let near = |limit: &Reading| {
            let apart = (&self.percent - limit.value()).abs();
            apart.to_f64() <= self.coverage * self.standard_uncertainty()
        };
        let limit = [&limits.low, &limits.high]
            .into_iter()
            .flatten()
            .find(|limit| near(limit));
        compliance.notes.extend(limit.map(near_limit));
        compliance
    }

    /// Returns the step from the masses to the loss; empty if no masses are given.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        if let (Some((sample, residue)), Some(percent)) = (self.masses, self.measured_percent()) {
            working.push(Step::new(
                "loss on drying",
                "100 % × (m(sample) − m(residue)) / m(sample)",
                format!("100 % × ({sample} g − {residue} g) / {sample} g"),
                percent.to_plain(),
                "%",
            ));
        }
        working
    }
}

fn near_limit(limit: &Reading) -> Note {
    let limit = format!("{limit}");
    let text = format!(
        "The loss is within its uncertainty of the limit {limit} %. Another determination may decide otherwise."
    );
    Note::new("near_limit", text).with("limit", limit)
}

/// The limits of a monograph for a loss, in per cent. Their decimal places count: 0.5 and 0.50 are
/// different limits.
///
/// ```
/// use effloresce::gravimetry::Limits;
/// let limits = Limits::at_most("0.5".parse()?)?;
/// assert!(limits.compare(&"0.549".parse()?).complies());
/// assert!(!limits.compare(&"0.55".parse()?).complies());
/// assert!(!Limits::at_most("0.50".parse()?)?.compare(&"0.549".parse()?).complies());
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Limits {
    low: Option<Reading>,
    high: Option<Reading>,
}

impl Limits {
    /// Takes a lower and an upper limit.
    ///
    /// # Errors
    /// `out_of_range` if a limit is not from 0 to 100, or the lower one is above the upper one.
    pub fn between(low: Reading, high: Reading) -> Result<Limits, Error> {
        if low.value() > high.value() {
            return Err(out_of_range(
                format!("the lower limit ({low} %) is above the upper one ({high} %)"),
                "exchange the limits",
            ));
        }
        Ok(Limits {
            low: Some(percentage(low)?),
            high: Some(percentage(high)?),
        })
    }

    /// Takes an upper limit.
    ///
    /// # Errors
    /// `out_of_range` if it is not from 0 to 100.
    pub fn at_most(high: Reading) -> Result<Limits, Error> {
        Ok(Limits {
            low: None,
            high: Some(percentage(high)?),
        })
    }

    /// Takes a lower limit.
    ///
    /// # Errors
    /// `out_of_range` if it is not from 0 to 100.
    pub fn at_least(low: Reading) -> Result<Limits, Error> {
        Ok(Limits {
            low: Some(percentage(low)?),
            high: None,
        })
    }

    /// The lower limit.
    #[must_use]
    pub fn low(&self) -> Option<&Reading> {
        self.low.as_ref()
    }

    /// The upper limit.
    #[must_use]
    pub fn high(&self) -> Option<&Reading> {
        self.high.as_ref()
    }

    /// Compares a percentage with the limits, rounded to the decimal places of each limit, half a unit up.
    #[must_use]
    pub fn compare(&self, percent: &Ratio) -> Compliance {
        let rounded =
            |limit: &Reading| percent.to_places(limit.decimal_places(), TieRule::AwayFromZero);
        let for_low = self.low.as_ref().map(rounded);
        let for_high = self.high.as_ref().map(rounded);
        let not_below = |low: &Reading, found: &Rounded| found.value() >= low.value();
        let not_above = |high: &Reading, found: &Rounded| found.value() <= high.value();
        let low = self.low.as_ref().zip(for_low.as_ref());
        let high = self.high.as_ref().zip(for_high.as_ref());
        Compliance {
            complies: low.is_none_or(|(l, found)| not_below(l, found))
                && high.is_none_or(|(h, found)| not_above(h, found)),
            rounded: [for_low, for_high],
            limits: self.clone(),
            notes: Vec::new(),
        }
    }
}

fn percentage(limit: Reading) -> Result<Reading, Error> {
    let value = limit.value();
    if value.is_negative() || value > Ratio::from(100) {
        return Err(out_of_range(
            format!("{limit} % cannot be a limit of a loss"),
            "give a percentage from 0 to 100",
        ));
    }
    Ok(limit)
}

/// The comparison of a loss with the limits of a monograph.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Compliance {
    complies: bool,
    limits: Limits,
    rounded: [Option<Rounded>; 2],
    notes: Vec<Note>,
}

impl Compliance {
    /// Returns whether the loss is within the limits.
    #[must_use]
    pub fn complies(&self) -> bool {
        self.complies
    }

    /// The limits.
    #[must_use]
    pub fn limits(&self) -> &Limits {
        &self.limits
    }

    /// The loss as it was compared with the lower limit.
    #[must_use]
    pub fn rounded_for_low(&self) -> Option<&Rounded> {
        self.rounded[0].as_ref()
    }

    /// The loss as it was compared with the upper limit.
    #[must_use]
    pub fn rounded_for_high(&self) -> Option<&Rounded> {
        self.rounded[1].as_ref()
    }

    /// The remarks: a loss that is within its uncertainty of a limit. This decides nothing, because the
    /// limits already allow for the errors of an analysis.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }
}

#[cfg(feature = "serde")]
crate::text::fields!(LossOnDrying, it, {
    "percent": it.percent().to_plain(),
    "uncertainty": it.standard_uncertainty(),
    "constant_mass": it.constant_mass(),
    "warnings": it.warnings(),
});

#[cfg(feature = "serde")]
crate::text::fields!(Compliance, it, {
    "complies": it.complies(),
    "low": it.limits().low(),
    "high": it.limits().high(),
    "rounded_for_low": it.rounded_for_low().map(|rounded| format!("{rounded}")),
    "rounded_for_high": it.rounded_for_high().map(|rounded| format!("{rounded}")),
    "notes": it.notes(),
});

#[cfg(test)]
mod tests {
    use alloc::string::{String, ToString};

    use super::*;
    use crate::gravimetry::Net;

    fn net(sample: &str, residue: &str) -> Weighings {
        Weighings::net(
            sample.parse().unwrap(),
            residue.parse().unwrap(),
            Net::Tared,
        )
    }

    #[test]
    fn a_loss_by_hand() {
        let loss = Method::new()
            .loss_on_drying(&net("1.0137", "0.4950"))
            .unwrap();
        // 100 × 0.5187/1.0137.
        assert_eq!(format!("{:.4}", loss.percent()), "51.1690");
        assert_eq!(loss.stated().unwrap().plus_minus(), "51.1690 ± 0.0032");
        let working = loss.working();
        let step = &working.steps()[0];
        assert_eq!(
            (step.numbers(), step.result()),
            ("100 % × (1.0137 g − 0.4950 g) / 1.0137 g", "51.17")
        );
        // Both readings are rounded to 0.0001 g: u = 100/m · √(1 + r²) · d/√12.
        let u = 100.0 / 1.0137 * libm::sqrt(1.0 + 0.48831 * 0.48831) * 1e-4 / libm::sqrt(12.0);
        assert!((loss.standard_uncertainty() - u).abs() < 1e-7);
        let refused = Method::new()
            .loss_on_drying(&net("1.0000", "1.0001"))
            .unwrap_err();
        assert_eq!(refused.code(), "impossible_masses");
        let method = Method::new().repeatability(0.01).unwrap();
        let loss = method.loss_on_drying(&net("1.0137", "0.4950")).unwrap();
        assert!((loss.standard_uncertainty() - 0.51169).abs() < 1e-4);
    }

    /// The rows by which USP General Notices illustrates its rule: the result rounds to the limit's places.
    #[test]
    fn rounding_before_comparison() {
        let verdict = |limits: &Limits, percent: &str| {
            let compliance = limits.compare(&percent.parse().unwrap());
            let rounded = compliance
                .rounded_for_low()
                .or(compliance.rounded_for_high());
            (rounded.unwrap().to_string(), compliance.complies())
        };
        let at_least = Limits::at_least("98.0".parse().unwrap()).unwrap();
        let at_most = |limit: &str| Limits::at_most(limit.parse().unwrap()).unwrap();
        for (limits, percent, rounded, complies) in [
            (&at_least, "97.96", "98.0", true),
            (&at_least, "97.92", "97.9", false),
            (&at_least, "97.95", "98.0", true),
            (&at_most("0.02"), "0.025", "0.03", false),
            (&at_most("0.02"), "0.015", "0.02", true),
            (&at_most("0.02"), "0.027", "0.03", false),
        ] {
            let expected: (String, bool) = (rounded.into(), complies);
            assert_eq!(verdict(limits, percent), expected, "{percent}");
        }
    }

    #[test]
    fn limits_and_what_is_near_them() {
        let between =
            |low: &str, high: &str| Limits::between(low.parse().unwrap(), high.parse().unwrap());
        let limits = between("48.0", "52.0").unwrap();
        let loss = |residue: &str| {
            Method::new()
                .loss_on_drying(&net("1.000", residue))
                .unwrap()
        };
        assert!(loss("0.488").against(&limits).notes().is_empty());
        let near = loss("0.4800").against(&limits);
        assert!(near.complies());
        assert_eq!(near.notes()[0].values().next(), Some(("limit", "52.0")));
        assert!(!loss("0.4790").against(&limits).complies());
        assert_eq!(
            between("52.0", "48.0").unwrap_err().to_string(),
            "the lower limit (52.0 %) is above the upper one (48.0 %)"
        );
        assert_eq!(between("-1", "48.0").unwrap_err().code(), "out_of_range");
        assert_eq!(between("1", "148").unwrap_err().code(), "out_of_range");
    }
}
