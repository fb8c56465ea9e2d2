//! The diagnosis of a bench.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::error::Error;
use super::super::fault::Fault;
use super::super::heated_salt::HeatedSalt;
use super::bench_readings::{BenchReadings, Deviations};
use super::fault_hypothesis::FaultHypothesis;
use super::findings::BenchFindings;
use super::likelihoods::Likelihoods;
use super::next_step::NextStep;
use super::other_readings::{OtherReading, other_readings};
use super::priors::Priors;
use super::probable_misreading::ProbableMisreading;
use super::same_mass::SameMass;
use crate::formula::Formula;
use crate::gravimetry::{Method, NamedReading, Weighings};
use crate::number::Ratio;

/// The change of a mass, in standard deviations of one weighing, below which a misreading is not seen.
const UNSEEN: f64 = 3.0;
/// A bench is far off if its last weighing is off by this part of the water.
const FAR_OFF: f64 = 0.1;
/// The least probability of a fault that is named.
const LEAST: f64 = 0.05;
/// How far a corrected bench may be from one without a fault, in standard deviations.
const NEAR: f64 = 8.0;

/// The diagnosis of one bench: how probable each fault is, and that there is none.
///
/// The hypotheses compete: no fault, and each of the eleven faults. The probability of the whole series of
/// readings is computed under each, with the size of the fault, the scatter between benches and the
/// progress of each heating summed over. With the [`Priors`] this gives the probabilities.
///
/// The diagnosis is about the bench, not about the work on paper: an answer that follows from bad
/// readings is right. Its [reliability](crate::mistake#how-reliable-the-diagnosis-is) is published.
///
/// ```
/// use effloresce::gravimetry::{Method, Weighings};
/// use effloresce::mistake::{Diagnosis, Fault, Priors};
///
/// let bench = Weighings::new("23.995".parse()?, "26.249".parse()?, ["25.792".parse()?, "25.568".parse()?]);
/// let diagnosis = Diagnosis::new(&"CuSO4·5H2O".parse()?, &Method::new(), &Priors::new(), &bench)?;
/// let first = &diagnosis.likely()[0];
/// assert_eq!(first.fault(), Fault::WaterLeft);
/// assert_eq!(first.sentence(), "Likely cause: water left in the residue.");
/// assert_eq!(
///     first.evidence().sentence(),
///     "The residue is 0.132\u{a0}g heavier than it should be, and the mass still fell by 0.224\u{a0}g at the last heating."
/// );
/// assert!(first.next().sentence().starts_with("Heat again until two weighings agree."));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnosis {
    /// The most probable first.
    all: Vec<FaultHypothesis>,
    /// Those that people are told of.
    likely: Vec<FaultHypothesis>,
    no_fault: f64,
    misreading: Option<ProbableMisreading>,
    same_mass: Option<SameMass>,
}

impl Diagnosis {
    /// Returns the diagnosis of a bench that was given this hydrate.
    ///
    /// Net masses count as one heating. Of more than twelve weighings after heating, the last twelve count.
    ///
    /// # Errors
    /// Returns an error if the issued formula is not a hydrate or has no molar mass, if the method's
    /// residue or criterion does not fit, or if nothing was weighed after heating.
    pub fn new(
        issued: &Formula,
        method: &Method,
        priors: &Priors,
        weighings: &Weighings,
    ) -> Result<Diagnosis, Error> {
        let salt = HeatedSalt::new(issued, method)?;
        Diagnosis::of_salt(issued, &salt, method, priors, weighings)
    }

    /// Returns the diagnosis of a bench whose hydrate comes from a stock that has gained or lost water:
    /// `waters` is what it holds for each formula unit of the salt.
    ///
    /// # Errors
    /// Returns the errors of [`Diagnosis::new`], and one if the stock has no water to lose.
    pub fn from_stock(
        issued: &Formula,
        waters: &Ratio,
        method: &Method,
        priors: &Priors,
        weighings: &Weighings,
    ) -> Result<Diagnosis, Error> {
        let salt = HeatedSalt::from_stock(issued, Some(waters), method)?;
        Diagnosis::of_salt(issued, &salt, method, priors, weighings)
    }

    fn of_salt(
        issued: &Formula,
        salt: &HeatedSalt,
        method: &Method,
        priors: &Priors,
        weighings: &Weighings,
    ) -> Result<Diagnosis, Error> {
        let bench = BenchReadings::new(weighings, salt, method)?;
        let masses = bench.masses();
        let deviations = bench.deviations(&masses);
        let likelihoods = deviations.as_ref();
        let likelihoods = likelihoods.map(|own| Likelihoods::new(own, salt, &bench.division));
        let no_fault = likelihoods.as_ref().map_or(0.0, Likelihoods::no_fault);
        let readings = Misreadings::new(&bench, salt, &masses, deviations.as_ref(), no_fault);
        let mut weights = alloc::vec![(Fault::WeighingMisread, readings.likelihood)];
        let of_faults = likelihoods.map(|own| own.of_faults());
        weights.extend(
            of_faults
                .into_iter()
                .flatten()
                .filter_map(|(fault, own)| Some((fault, own?))),
        );
        for (fault, weight) in &mut weights {
            *weight *= priors.of(*fault);
        }
        let may_be_misread = priors.of(Fault::WeighingMisread) > 0.0;
        let sorted = Posterior::new(priors.no_fault() * no_fault, &weights, may_be_misread);
        let constancy = method.constancy(weighings).ok().flatten();
        let criterion = constancy.map(|constancy| constancy.criterion().clone());
        let misreading = readings.most_probable(&bench, weighings);
        let findings =
            BenchFindings::new(&bench, salt, criterion, misreading, deviations.is_some());
        Ok(Diagnosis::of_posterior(issued, salt, &sorted, &findings))
    }

    fn of_posterior(
        issued: &Formula,
        salt: &HeatedSalt,
        posterior: &Posterior,
        findings: &BenchFindings<'_>,
    ) -> Diagnosis {
        let may_heat = NextStep::may_heat(issued);
        let may_be_wet = findings.heatings() == 1 && !findings.is_light();
        let all = posterior
            .faults
            .iter()
            .map(|(fault, probability)| FaultHypothesis {
                fault: *fault,
                probability: *probability,
                evidence: findings.evidence(*fault),
                next: NextStep::of(*fault, may_heat, may_be_wet),
            });
        let all: Vec<FaultHypothesis> = all.collect();
        let least = posterior.no_fault.max(LEAST);
        let likely = all.iter().take_while(|own| own.probability > least);
        let likely = likely.filter(|own| !own.contradicts_itself() && !findings.is_as_expected());
        let heatings = findings.heatings();
        let is_light = findings.is_light();
        Diagnosis {
            likely: likely.cloned().collect(),
            all,
            no_fault: posterior.no_fault,
            misreading: findings.misreading().cloned(),
            same_mass: SameMass::new(&posterior.faults, heatings, is_light, salt.is_known()),
        }
    }

    /// Returns the probability that there is no fault, from 0 to 1.
    #[must_use]
    pub fn no_fault(&self) -> f64 {
        self.no_fault
    }

    /// Returns the faults that are more probable than no fault, the most probable first. It is empty if no
    /// fault is. Faults less probable than one in twenty are left out.
    ///
    /// It is also empty if the last two weighings agree and are within three standard uncertainties of the
    /// expected mass. A fault that makes a residue too light is left out if it is too heavy, and the reverse.
    #[must_use]
    pub fn likely(&self) -> &[FaultHypothesis] {
        &self.likely
    }

    /// Returns an English sentence that names the most probable fault, with those that mass alone does not
    /// distinguish from it; `None` if no fault is more probable than none.
    #[must_use]
    pub fn sentence(&self) -> Option<String> {
        let first = self.likely.first()?;
        Some(match self.same_mass() {
            Some(same) => {
                let phrases: Vec<&str> = same.faults().iter().map(|fault| fault.phrase()).collect();
                format!("The readings are consistent with {}.", phrases.join(" or "))
            }
            None => first.sentence(),
        })
    }

    /// Returns all eleven faults, the most probable first. Their probabilities and that of
    /// [`no_fault`](Diagnosis::no_fault) add up to 1. A fault that this salt cannot show has probability 0.
    #[must_use]
    pub fn all(&self) -> &[FaultHypothesis] {
        &self.all
    }

    /// Returns the misreading that explains the readings best, if a misreading is more probable than no
    /// fault.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// use effloresce::mistake::{Diagnosis, MisreadingKind, Priors};
    ///
    /// // 26.249 g was written with two digits exchanged.
    /// let heated = ["25.457".parse()?, "25.437".parse()?, "25.436".parse()?];
    /// let bench = Weighings::new("23.994".parse()?, "26.429".parse()?, heated);
    /// let diagnosis = Diagnosis::new(&"CuSO4·5H2O".parse()?, &Method::new(), &Priors::new(), &bench)?;
    /// let misreading = diagnosis.misreading().unwrap();
    /// assert_eq!((misreading.path(), misreading.kind()), ("crucible_hydrate", MisreadingKind::DigitsExchanged));
    /// assert_eq!(misreading.meant().to_string(), "26.249");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn misreading(&self) -> Option<&ProbableMisreading> {
        let mut likely = self.likely().iter();
        let is_likely = likely.any(|own| own.fault == Fault::WeighingMisread);
        self.misreading.as_ref().filter(|_| is_likely)
    }

    /// Returns the faults that mass alone does not distinguish from the most probable one; `None` if no
    /// fault is more probable than none, or if this one stands alone.
    #[must_use]
    pub fn same_mass(&self) -> Option<&SameMass> {
        let first = self.likely.first()?.fault;
        let same = self.same_mass.as_ref();
        same.filter(|same| same.faults().first() == Some(&first))
    }
}

/// The probabilities of all hypotheses, which add up to 1.
struct Posterior {
    /// The most probable first.
    faults: Vec<(Fault, f64)>,
    no_fault: f64,
}

impl Posterior {
    /// The probabilities in proportion to these weights. If no hypothesis explains the readings, one of
    /// them was misread, if that `may_be`.
    fn new(no_fault: f64, weights: &[(Fault, f64)], may_be: bool) -> Posterior {
        // A sum of no numbers is a negative zero.
        let no_fault = no_fault + 0.0;
        let sum: f64 = no_fault + weights.iter().map(|(_, weight)| weight).sum::<f64>();
        let is_explained = sum > 0.0 && sum.is_finite();
        let probability = |fault: Fault| {
            let own = weights.iter().find(|(other, _)| *other == fault);
            match own {
                Some((_, weight)) if is_explained => weight / sum + 0.0,
                _ if !is_explained && may_be && fault == Fault::WeighingMisread => 1.0,
                _ => 0.0,
            }
        };
        let mut faults: Vec<(Fault, f64)> = Fault::ALL
            .into_iter()
            .map(|fault| (fault, probability(fault)))
            .collect();
        faults.sort_by(|(_, one), (_, other)| other.total_cmp(one));
        Posterior {
            faults,
            no_fault: match (is_explained, may_be) {
                (true, _) => no_fault / sum,
                (false, true) => 0.0,
                (false, false) => 1.0,
            },
        }
    }
}

/// The likelihood of the readings if one of them was misread, and what each misreading adds to it.
struct Misreadings {
    likelihood: f64,
    /// The readings that explain something, the best first.
    each: Vec<(OtherReading, f64)>,
}

impl Misreadings {
    fn new(
        bench: &BenchReadings,
        salt: &HeatedSalt,
        masses: &[f64],
        deviations: Option<&Deviations>,
        no_fault: f64,
    ) -> Misreadings {
        let is_gross = deviations.is_none_or(|own| own.last().abs() > FAR_OFF * own.water);
        let mut likelihood = 0.0;
        let mut each = Vec::new();
        for other in other_readings(bench, masses, is_gross) {
            if other.change.abs() < UNSEEN * bench.noise && deviations.is_some() {
                // It is not seen, so the readings are as probable as without it.
                likelihood += other.probability * no_fault;
                continue;
            }
            let corrected = bench.deviations(&other.corrected(masses));
            let corrected = corrected.filter(is_near_no_fault);
            let Some(corrected) = corrected else {
                continue;
            };
            let own = Likelihoods::new(&corrected, salt, &bench.division).no_fault();
            let weight = other.probability * own;
            if weight > 0.0 {
                likelihood += weight;
                each.push((other, weight));
            }
        }
        each.sort_by(|(_, one), (_, other)| other.total_cmp(one));
        Misreadings { likelihood, each }
    }

    /// The misreading that explains most.
    fn most_probable(
        &self,
        bench: &BenchReadings,
        weighings: &Weighings,
    ) -> Option<ProbableMisreading> {
        let (other, weight) = self.each.first()?;
        let name = |index: usize| match weighings.container_weighings() {
            Some(written) => {
                let named = NamedReading::new(written, index)?;
                Some((named.path(), named.name()))
            }
            None if index == 0 => Some(("hydrate_mass".into(), "the hydrate".into())),
            None => Some(("residue_mass".into(), "the residue".into())),
        };
        let (path, words) = name(other.index)?;
        Some(ProbableMisreading {
            path,
            words,
            written: *bench.written.get(other.index)?,
            meant: other.meant,
            kind: other.kind,
            probability: if self.likelihood > 0.0 {
                weight / self.likelihood
            } else {
                0.0
            },
            other: other.swapped.and_then(name).map(|(_, words)| words),
        })
    }
}

/// Whether a corrected bench may be one without a fault; otherwise its likelihood is next to 0.
fn is_near_no_fault(bench: &Deviations) -> bool {
    let last = bench.last();
    let reach = NEAR * bench.common;
    let most_left = if bench.heated.len() == 1 {
        FAR_OFF
    } else {
        FAR_OFF / 4.0
    };
    let gains = bench.heated.windows(2).map(|pair| pair[1] - pair[0]);
    last > -reach
        && last < reach + most_left * bench.water
        && gains.fold(0.0, f64::max) < NEAR * bench.noise
}

#[cfg(feature = "serde")]
crate::text::fields!(Diagnosis, it, {
    "faults": it.likely(),
    "no_fault": it.no_fault(),
    "misreading": it.misreading(),
    "same_mass": it.same_mass(),
});
