//! The sequences of stages that fit observed losses.

use alloc::format;
use alloc::vec::Vec;

use super::stage::Stages;
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::gravimetry::error::{Error, impossible};
use crate::gravimetry::salts::{decompositions, plateau_hydrates};
use crate::number::{Ratio, Reading};

/// The largest number of sequences that are listed.
const MOST_LISTED: usize = 20;

/// The largest number of residues of a salt that are tried, so that a long list of known hydrates does
/// not give millions of sequences.
const MOST_RESIDUES: usize = 12;

/// A sequence of stages beside observed losses.
#[derive(Debug, Clone, PartialEq)]
pub struct SequenceFit {
    stages: Stages,
    differences: Vec<Ratio>,
    distance: f64,
}

impl Stages {
    /// Ranks the sequences of stages by which a hydrate may have lost these percentages of its starting
    /// mass, one for each stage that was observed. The nearest comes first. A mass that rose is a negative
    /// loss.
    ///
    /// The residues are those of the catalogue: the lower hydrates at which heating may seem to be
    /// finished ([`plateau_hydrates`]), the anhydrous salt, and what this leaves when it decomposes
    /// ([`decompositions`]). Only they are tried, so the right sequence may be missing. The list is empty if
    /// there are fewer residues than losses. At most 20 sequences are listed.
    ///
    /// # Errors
    /// `no_standard_weight` or `unknown_degree` if the formula has no molar mass, `bad_request` if it has
    /// no atoms. `impossible_masses` if the losses add up to 100 % or more.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::gravimetry::Stages;
    /// let observed = ["28.7".parse()?, "7.3".parse()?];
    /// let fits = Stages::fitting(&"CuSO4·5H2O".parse()?, &observed, &AtomicWeights::default())?;
    /// let residues: Vec<String> =
    ///     fits[0].stages().stages().iter().map(|stage| stage.residue().to_string()).collect();
    /// assert_eq!(residues, ["CuSO4·H2O", "CuSO4"]);
    /// assert_eq!(format!("{:.2}", fits[0].distance()), "0.13");
    /// assert!(fits[1].distance() > 5.0);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn fitting(
        hydrate: &Formula,
        observed: &[Reading],
        weights: &AtomicWeights,
    ) -> Result<Vec<SequenceFit>, Error> {
        let total: Ratio = observed
            .iter()
            .fold(Ratio::ZERO, |total, loss| total + loss.value());
        if total >= 100.into() {
            let message = format!(
                "the losses add up to {} %, and then no solid is left",
                total.to_plain()
            );
            let help = "give each loss in per cent of the starting mass, not of the stage before";
            return Err(impossible(message, help));
        }
        let (start, residues) = residues(hydrate);
        let stages = Stages::of(start, weights)?;
        let mut fits = Vec::new();
        extend(&stages, &residues, observed, &mut fits);
        fits.sort_by(|one, other| one.distance.total_cmp(&other.distance));
        fits.truncate(MOST_LISTED);
        Ok(fits)
    }
}

/// One formula unit of a hydrate, and the solids that it may leave, in the order of heating.
fn residues(hydrate: &Formula) -> (Formula, Vec<Formula>) {
    let Some((salt, waters)) = hydrate.one_formula_unit() else {
        let salt = hydrate.anhydrous().unwrap_or_else(|| hydrate.clone());
        return (hydrate.clone(), decomposed(&salt).collect());
    };
    let lower = plateau_hydrates(&salt).iter().rev();
    let lower = lower.filter(|degree| **degree < waters);
    let lower = lower.filter_map(|degree| salt.with_waters(degree));
    let residues = lower.chain([salt.clone()]).chain(decomposed(&salt));
    let residues = residues.take(MOST_RESIDUES).collect();
    let start = salt.with_waters(&waters);
    (start.unwrap_or_else(|| hydrate.clone()), residues)
}

fn decomposed(salt: &Formula) -> impl Iterator<Item = Formula> {
    let residues = decompositions(salt).iter();
    residues.map(|decomposition| decomposition.residue().clone())
}

/// Adds every sequence that goes on with these residues, one for each loss.
fn extend(
    so_far: &Stages,
    residues: &[Formula],
    observed: &[Reading],
    fits: &mut Vec<SequenceFit>,
) {
    let done = so_far.stages().len();
    if done == observed.len() {
        fits.extend(SequenceFit::new(so_far, observed));
        return;
    }
    for (index, residue) in residues.iter().enumerate() {
        let later = residues.get(index + 1..).unwrap_or_default();
        if done + 1 + later.len() < observed.len() {
            return;
        }
        // A residue of the catalogue may not arise from every other one.
        if let Ok(stages) = so_far.clone().then(residue.clone()) {
            extend(&stages, later, observed, fits);
        }
    }
}

impl SequenceFit {
    /// `None` if nothing was observed.
    fn new(stages: &Stages, observed: &[Reading]) -> Option<SequenceFit> {
        let pairs = observed.iter().zip(stages.stages());
        let differences: Vec<Ratio> = pairs
            .map(|(observed, stage)| observed.value() - stage.percent_lost())
            .collect();
        let squares = differences.iter().map(|d| d.to_f64() * d.to_f64());
        let number = u32::try_from(differences.len()).ok().filter(|n| *n > 0)?;
        Some(SequenceFit {
            distance: libm::sqrt(squares.sum::<f64>() / f64::from(number)),
            stages: stages.clone(),
            differences,
        })
    }

    /// The stages.
    #[must_use]
    pub fn stages(&self) -> &Stages {
        &self.stages
    }

    /// The observed loss minus that of the sequence, stage by stage, in per cent of the starting mass.
    #[must_use]
    pub fn differences(&self) -> &[Ratio] {
        &self.differences
    }

    /// The distance: the root mean square of the differences, in per cent of the starting mass.
    #[must_use]
    pub fn distance(&self) -> f64 {
        self.distance
    }
}
