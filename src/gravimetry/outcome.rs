//! From a ratio to a formula: the candidates, the distance of each, and the conclusion.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::overheating::{Overheating, Residue, explaining, residues};
use super::residual_salt::ResidualSalt;
use super::salts::{SaltFacts, known_hydrates, plateau_hydrates, salt_facts};
use super::warning::Warning;
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::{Ratio, Reading};

/// A hydrate that is compared with the ratio.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    pub(super) waters: Ratio,
    pub(super) formula: Formula,
    pub(super) expected_percent_water: Ratio,
    pub(super) expected_residue_mass: Option<Ratio>,
    pub(super) z: Option<f64>,
    pub(super) known: bool,
}

impl Candidate {
    /// The degree of hydration.
    #[must_use]
    pub fn waters(&self) -> &Ratio {
        &self.waters
    }

    /// The hydrate.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// The mass fraction of water that this hydrate has, in per cent.
    #[must_use]
    pub fn expected_percent_water(&self) -> &Ratio {
        &self.expected_percent_water
    }

    /// The residue that the mass of hydrate taken would leave, in grams.
    #[must_use]
    pub fn expected_residue_mass(&self) -> Option<&Ratio> {
        self.expected_residue_mass.as_ref()
    }

    /// The ratio minus this degree, in standard uncertainties.
    #[must_use]
    pub fn z(&self) -> Option<f64> {
        self.z
    }

    /// Returns whether the catalogue names this hydrate, or the caller does: as a candidate, or as the
    /// hydrate that was issued.
    #[must_use]
    pub fn known(&self) -> bool {
        self.known
    }
}

/// The conclusion from the ratio.
///
/// It serializes both ways, with the names that a reply of the JSON-lines contract has:
/// `{"outcome": "resolved", "formula": "MgSO4·7H2O"}`, `{"outcome": "inconsistent", "formula": null}`.
/// An ambiguous one also has the formulas that the readings cannot distinguish:
/// `{"outcome": "ambiguous", "formula": null, "formulas": ["CaSO4·0.5H2O", "CaSO4·H2O"]}`.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Outcome {
    /// Exactly one candidate is within the coverage factor, and the mass was not still changing. The
    /// hydrate is known: the catalogue names it, or the caller does.
    Resolved(Formula),
    /// Several candidates are within the coverage factor. The readings cannot distinguish them.
    Ambiguous(Vec<Formula>),
    /// No candidate is within the coverage factor, the mass was still changing, or the hydrate is not
    /// known. But one candidate is at least three times nearer than any other. This is the usual result
    /// in a school, whose errors are larger than those of the balance.
    Approximate(Formula),
    /// The readings fit none of the candidates, or the nearest one is above every known hydrate, and no known
    /// one is within the coverage factor.
    Inconsistent,
}

impl Outcome {
    /// The stable name of the outcome.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Outcome::Resolved(_) => "resolved",
            Outcome::Ambiguous(_) => "ambiguous",
            Outcome::Approximate(_) => "approximate",
            Outcome::Inconsistent => "inconsistent",
        }
    }

    /// The formula concluded, if there is exactly one.
    #[must_use]
    pub fn formula(&self) -> Option<&Formula> {
        match self {
            Outcome::Resolved(formula) | Outcome::Approximate(formula) => Some(formula),
            Outcome::Ambiguous(_) | Outcome::Inconsistent => None,
        }
    }
}

/// The degrees that are compared with a ratio.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Degrees {
    /// Those that the catalogue or the caller names, in ascending order.
    named: Vec<Ratio>,
    issued: Option<Ratio>,
    /// Whether the caller listed the candidates, so that whole numbers and zero are none.
    listed: bool,
    /// The publication that lists the salt without a hydrate, if nothing else names one.
    no_hydrate: Option<&'static str>,
}

impl Degrees {
    /// The degrees of the caller, or those that the catalogue knows, with the one that was issued.
    pub(super) fn new(salt: &Formula, given: Option<&[Ratio]>, issued: Option<Ratio>) -> Degrees {
        let mut named = given.unwrap_or_else(|| known_hydrates(salt)).to_vec();
        named.extend(issued.clone());
        named.sort_unstable();
        named.dedup();
        let facts = match (given, named.as_slice()) {
            (None, []) => salt_facts(salt),
            _ => None,
        };
        Degrees {
            no_hydrate: facts.and_then(SaltFacts::no_hydrate_source),
            named,
            issued,
            listed: given.is_some(),
        }
    }

    /// The degrees from which a sample may have come: the one that was issued, or those named.
    fn before_heating(&self) -> &[Ratio] {
        self.issued
            .as_ref()
            .map_or(&self.named, core::slice::from_ref)
    }
}

/// A ratio with everything that its interpretation depends on.
pub(super) struct Interpretation<'a> {
    pub(super) residual: &'a ResidualSalt,
    pub(super) ratio: &'a Ratio,
    pub(super) uncertainty: f64,
    pub(super) coverage: f64,
    pub(super) degrees: &'a Degrees,
    pub(super) water_mass: &'a Ratio,
    /// The molar mass of the residue divided by that of water.
    pub(super) factor: &'a Ratio,
    pub(super) hydrate_mass: Option<&'a Reading>,
}

/// The largest number of whole numbers on either side of the ratio that are candidates.
const MOST_WHOLE: i128 = 15;

impl Interpretation<'_> {
    /// The degrees that are candidates, in ascending order, without zero.
    fn degrees(&self) -> Vec<Ratio> {
        let mut degrees = self.degrees.named.clone();
        if self.degrees.listed {
            return degrees;
        }
        let floor = self.ratio.floor().to_i128().unwrap_or(0);
        let spread = libm::floor(self.coverage * self.uncertainty);
        let spread = if spread < MOST_WHOLE as f64 {
            spread as i128
        } else {
            MOST_WHOLE
        };
        let first = (floor - spread).max(1);
        let last = (floor + 1 + spread).max(1);
        degrees.extend((first..=last).map(Ratio::from));
        degrees.sort_unstable();
        degrees.dedup();
        degrees
    }

    /// The candidates, and the degrees that have too many digits to be one.
    pub(super) fn candidates(&self) -> (Vec<Candidate>, Vec<Ratio>) {
        // In units of the molar mass of water, the residue has the mass `factor` and each water 1.
        let salt = self.hydrate_mass.map(|h| h.value() * self.factor);
        let mut candidates = Vec::new();
        let mut left_out = Vec::new();
        let left = &self.residual.waters;
        for waters in self.degrees().into_iter().filter(|n| n > left) {
            match self.candidate(&waters, salt.as_ref()) {
                Some(candidate) => candidates.push(candidate),
                None => left_out.push(waters),
            }
        }
        (candidates, left_out)
    }

    fn candidate(&self, waters: &Ratio, salt: Option<&Ratio>) -> Option<Candidate> {
        let lost = waters - &self.residual.waters;
        let whole = self.factor + &lost;
        let distance = (self.ratio - waters).to_f64();
        Some(Candidate {
            formula: self.residual.salt.with_waters(waters)?,
            expected_percent_water: (100 * lost).checked_div(&whole)?,
            expected_residue_mass: salt.and_then(|salt| salt.checked_div(&whole)),
            z: (self.uncertainty > 0.0).then(|| distance / self.uncertainty),
            known: self.degrees.named.binary_search(waters).is_ok(),
            waters: waters.clone(),
        })
    }

    /// The degree of the residue, which counts if the caller gave no candidates.
    fn lowest(&self) -> Option<Ratio> {
        (!self.degrees.listed).then(|| self.residual.waters.clone())
    }

    /// The degree nearest to the ratio, the higher one if two are equally near.
    pub(super) fn nearest(&self, candidates: &[Candidate]) -> Ratio {
        let degrees = self
            .lowest()
            .into_iter()
            .chain(candidates.iter().map(|c| c.waters.clone()));
        let mut nearest: Option<(Ratio, Ratio)> = None;
        for degree in degrees {
            let distance = (self.ratio - &degree).abs();
            if nearest.as_ref().is_none_or(|(_, least)| distance <= *least) {
                nearest = Some((degree, distance));
            }
        }
        nearest.map(|(degree, _)| degree).unwrap_or_default()
    }

    /// `nearest` is the degree nearest to the ratio.
    pub(super) fn outcome(
        &self,
        candidates: &[Candidate],
        nearest: &Ratio,
        reached: Option<bool>,
    ) -> Outcome {
        let within: Vec<&Candidate> = candidates
            .iter()
            .filter(|c| (self.ratio - &c.waters).to_f64().abs() <= self.coverage * self.uncertainty)
            .collect();
        // A coarse balance may show more than a known hydrate that is still within its uncertainty.
        let is_above = match self.degrees.named.last() {
            Some(highest) => nearest > highest,
            None => self.degrees.no_hydrate.is_some() && !nearest.is_zero(),
        };
        if is_above && !within.iter().any(|candidate| candidate.known) {
            return Outcome::Inconsistent;
        }
        match within.as_slice() {
            [one] if reached != Some(false) && one.known => {
                return Outcome::Resolved(one.formula.clone());
            }
            [_, _, ..] => {
                return Outcome::Ambiguous(within.iter().map(|c| c.formula.clone()).collect());
            }
            _ => {}
        }
        let distance = |degree: &Ratio| (self.ratio - degree).abs();
        let lowest = self.lowest();
        let second = candidates
            .iter()
            .map(|c| &c.waters)
            .chain(lowest.as_ref())
            .filter(|degree| *degree != nearest)
            .map(distance)
            .min();
        let three = Ratio::from(3);
        let clear = second.is_some_and(|second| second >= &three * distance(nearest));
        match self.residual.salt.with_waters(nearest) {
            Some(formula) if clear => Outcome::Approximate(formula),
            _ => Outcome::Inconsistent,
        }
    }

    /// What is doubtful about the outcome.
    pub(super) fn warnings(
        &self,
        candidates: &[Candidate],
        outcome: &Outcome,
        weights: &AtomicWeights,
        reached: Option<bool>,
    ) -> impl Iterator<Item = Warning> {
        let expanded = self.coverage * self.uncertainty;
        // A mass that still falls is at no plateau.
        let plateau = match reached {
            Some(false) => None,
            _ => self.lower_hydrate(expanded),
        };
        let tolerance = expanded.max(0.01 * self.ratio.to_f64());
        let is_beyond = matches!(plateau, Some(Warning::HeatedBeyond(_)));
        let unknown = self.unknown_hydrate(candidates, outcome);
        let above = self.above_highest(weights, reached, tolerance);
        let above = above.filter(|_| !is_beyond);
        plateau.into_iter().chain(unknown).chain(above)
    }

    /// The warning that nobody knows the hydrate concluded.
    fn unknown_hydrate(&self, candidates: &[Candidate], outcome: &Outcome) -> Option<Warning> {
        let Outcome::Approximate(formula) = outcome else {
            return None;
        };
        candidates
            .iter()
            .find(|c| c.formula == *formula && !c.known)?;
        let known = self.degrees.named.iter();
        let known = known.filter_map(|n| self.residual.salt.with_waters(n));
        Some(Warning::UnknownHydrate(formula.clone(), known.collect()))
    }

    /// The warning that the loss also fits a known hydrate that stopped at a lower one: on the way to what
    /// heating should leave, or beyond it.
    fn lower_hydrate(&self, expanded: f64) -> Option<Warning> {
        let ResidualSalt {
            salt,
            waters: end,
            formula,
        } = self.residual;
        let mut plateaus = plateau_hydrates(salt).to_vec();
        plateaus.push(Ratio::ZERO);
        plateaus.retain(|low| low != end);
        let found = self.ratio.to_f64();
        for high in self.degrees.before_heating().iter().rev() {
            // The tolerance of a check: 1 % of the loss expected.
            let near = (high - end) * Ratio::new(1, 100)?;
            for low in plateaus.iter().filter(|low| *low < high) {
                // The ratio if what is left is read as the residue.
                let lost = high - low;
                let apparent = |more: &Ratio| {
                    let left = self.factor + &(low - end - more);
                    let found = (&(&lost + more) * self.factor).checked_div(&left);
                    found.map(|x| (x + end).to_f64())
                };
                if apparent(&near)? + expanded >= found && apparent(&-&near)? - expanded <= found {
                    let [high, left] = [salt.with_waters(high)?, salt.with_waters(low)?];
                    return Some(match low < end {
                        true => Warning::HeatedBeyond(Box::new([high, formula.clone(), left])),
                        false => Warning::LowerHydrate(Box::new([high, left])),
                    });
                }
            }
        }
        None
    }

    /// The warning that more was lost than the water of the highest hydrate considered.
    fn above_highest(
        &self,
        weights: &AtomicWeights,
        reached: Option<bool>,
        tolerance: f64,
    ) -> Option<Warning> {
        let Some(highest) = self.degrees.named.last() else {
            let source = self.degrees.no_hydrate?;
            let salt = self.residual.salt.clone();
            // Less than half a water is nearest to none.
            return (self.ratio.to_f64() >= 0.5).then_some(Warning::NoHydrate(salt, source));
        };
        if self.ratio.to_f64() - highest.to_f64() <= tolerance {
            return None;
        }
        let ResidualSalt { salt, formula, .. } = self.residual;
        let hydrate = salt.with_waters(highest)?;
        if self.is_water_of(highest, tolerance) {
            let formulas = [hydrate, formula.clone(), salt.clone()];
            return Some(Warning::PartlyBeyond(Box::new(formulas)));
        }
        Some(match self.overheating(weights, reached, tolerance) {
            Some(overheating) => Warning::Overheating(Box::new(overheating)),
            None => Warning::AboveKnown(Box::new([hydrate, formula.clone()])),
        })
    }

    /// Whether this hydrate has as much water as was lost, although heating should leave some of it.
    fn is_water_of(&self, highest: &Ratio, tolerance: f64) -> bool {
        let end = &self.residual.waters;
        let all = (highest * self.factor).checked_div(&(self.factor - end));
        all.is_some_and(|all| {
            !end.is_zero() && self.ratio.to_f64() <= (all + end).to_f64() + tolerance
        })
    }

    /// The decomposition that explains the ratio: a complete one of any hydrate, or a partial one of
    /// the highest.
    fn overheating(
        &self,
        weights: &AtomicWeights,
        reached: Option<bool>,
        tolerance: f64,
    ) -> Option<Overheating> {
        let found = self.ratio.to_f64();
        let ResidualSalt {
            salt, waters: end, ..
        } = self.residual;
        let salt_mass = (self.factor - end) * self.water_mass;
        let residues = residues(salt, weights, &salt_mass);
        // The ratio that the residue of a hydrate gives when it is read as what heating should leave.
        let excess = |waters: &Ratio, residue: &Residue| {
            let whole = &salt_mass + waters * self.water_mass;
            let lost = &whole - &residue.mass;
            let apparent = end + (&lost * self.factor).checked_div(&residue.mass)?;
            Some(apparent.to_f64() - found)
        };
        let mut partial = None;
        for (index, waters) in self.degrees.named.iter().rev().enumerate() {
            let case = explaining(&residues, reached, tolerance, |r| excess(waters, r));
            let Some((complete, residue)) = case else {
                continue;
            };
            let overheating = residue.overheating(complete, salt, &salt.with_waters(waters)?);
            if complete {
                return Some(overheating);
            }
            if index == 0 {
                partial = Some(overheating);
            }
        }
        partial
    }
}

impl<'a> Interpretation<'a> {
    /// A ratio that is known exactly. Nothing that depends on a mass can be asked of it.
    fn exact(residual: &'a ResidualSalt, degrees: &'a Degrees, ratio: &'a Ratio) -> Self {
        Interpretation {
            residual,
            ratio,
            uncertainty: 0.0,
            coverage: 0.0,
            degrees,
            water_mass: &Ratio::ONE,
            factor: &Ratio::ONE,
            hydrate_mass: None,
        }
    }
}

/// The degree that is nearest to any ratio, by the same rule.
#[cfg(feature = "class")]
pub(super) fn nearest_degree(residual: &ResidualSalt, degrees: &Degrees, ratio: &Ratio) -> Ratio {
    let interpretation = Interpretation::exact(residual, degrees, ratio);
    interpretation.nearest(&interpretation.candidates().0)
}

/// The candidate that is nearest to a degree and is not this degree, the lower one if two are equally
/// near.
pub(super) fn nearest_other(
    residual: &ResidualSalt,
    degrees: &Degrees,
    degree: &Ratio,
) -> Option<Candidate> {
    let (candidates, _) = Interpretation::exact(residual, degrees, degree).candidates();
    let others = candidates.into_iter().filter(|c| c.waters != *degree);
    others.min_by_key(|other| (&other.waters - degree).abs())
}
