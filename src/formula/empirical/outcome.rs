//! The empirical and the molecular formula, with how they were found.

use alloc::string::String;
use alloc::vec::Vec;

use super::analysis::Analysis;
use super::assemble::{assemble, text};
use super::constituent::Constituent;
use super::entity::Entity;
use super::multiplier::{Trial, choose, lowest, nearest, other_counts, ratios_text, trials};
use super::warning::AnalysisWarning;
use crate::element::Edition;
use crate::formula::error::Error;
use crate::formula::repr::Formula;
use crate::number::{Measured, Ratio, Reading, TieRule, rectangular};
use crate::text::Note;

/// How near the molar mass must be to a multiple of the formula's, in formula units. Common
/// practice, no source.
const MOST_DISTANCE: f64 = 0.1;

/// A distance that is this many times what the readings explain gives a warning.
const UNEXPLAINED: f64 = 2.0;

/// The largest number of formula units in a molecule.
const MOST_UNITS: i128 = 1_000;

/// The simplest formula for an [`Analysis`], with every step that led to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Empirical {
    constituents: Vec<Constituent>,
    trials: Vec<Trial>,
    chosen: Option<usize>,
    formula: Option<Formula>,
    sample: Option<Reading>,
    molecule: Option<Molecule>,
    warnings: Vec<Note>,
    edition: Edition,
}

/// The molar mass that was given, compared with that of the empirical formula.
#[derive(Debug, Clone, PartialEq)]
struct Molecule {
    molar_mass: Reading,
    formula_mass: Ratio,
    /// The quotient of the two.
    units: Measured,
    /// The whole number of formula units, and the molecular formula.
    formula: Option<(u32, Formula)>,
}

impl Analysis {
    /// Returns the simplest formula for the analysis.
    ///
    /// The amounts of the parts, *n* = *m*/*M*, are divided by the smallest and multiplied by 1, 2,
    /// 3 … [`Empirical::trials`] shows each multiplier with its distance from whole numbers. There
    /// are two rules for the choice, in this order:
    /// 1. [`Fit::Figures`](super::Fit::Figures): the smallest multiplier, up to 12, at which every
    ///    count is a whole number within the coverage factor times its own standard uncertainty. The
    ///    probability of this for random ratios ([`Trial::chance`]) must be small.
    /// 2. [`Fit::School`](super::Fit::School): the smallest multiplier, up to 6, at which every count
    ///    is within 0.1 of a whole number, or within 1 % of it if that is more (common practice, no
    ///    source).
    ///
    /// If neither rule finds a multiplier, there is no formula, and a warning names the multiplier
    /// that comes nearest.
    ///
    /// The warnings are:
    /// - `ambiguous_multiplier`: the uncertainty of the readings allows other counts, which are named;
    /// - `beyond_figures`: the counts differ from whole numbers by more than twice what the uncertainty
    ///   of the readings explains;
    /// - `no_whole_numbers`: no multiplier gives whole numbers;
    /// - `sum_not_whole`: the parts do not make up the sample, or the percentages 100;
    /// - `nothing_left`: no mass is left for the part by difference, which is left out;
    /// - `molar_mass_no_multiple`: the molar mass is not near a multiple of the formula's.
    ///
    /// # Errors
    /// - `bad_request` if fewer than two parts are given, or more than
    ///   [`MOST_PARTS`](Analysis::MOST_PARTS) values; if a part is given twice, is charged, or is
    ///   a formula with a dot; if a product of combustion does not have exactly one element besides
    ///   oxygen; or if a percentage or a difference needs the mass of the sample, which is not given.
    /// - `impossible_masses` if a value is not positive, or if the parts differ from the sample by
    ///   more than 5 %.
    /// - `out_of_range` if the molar mass is not positive.
    /// - The error of the molar mass if a part has none.
    #[doc(alias = "simplest formula")]
    pub fn empirical(&self) -> Result<Empirical, Error> {
        let (constituents, warning) = self.constituents(self.entities()?)?;
        let mut warnings = Vec::from_iter(warning);
        let trials = trials(&constituents, self.coverage);
        let chosen = choose(&trials);
        let trial = chosen.and_then(|index| trials.get(index));
        let counts = trial.map(|trial| lowest(trial.counts()));
        if trial.is_none() {
            warnings.extend(
                nearest(&trials).map(|trial| AnalysisWarning::NoWholeNumbers {
                    ratios: ratios_text(&constituents),
                    multiplier: trial.multiplier(),
                    residual: trial.residual(),
                }),
            );
        }
        warnings.extend(self.ambiguity(&constituents, counts.as_deref()));
        if let Some(trial) = trial.filter(|trial| !trial.is_within(UNEXPLAINED)) {
            let residual = trial.residual();
            warnings.push(AnalysisWarning::BeyondFigures { residual });
        }
        let (mut formula, mut molecule) = (None, None);
        if let Some(counts) = counts {
            let entities = counted(&constituents, &counts);
            let empirical = assemble(&entities)?;
            if let Some(molar_mass) = self.molar_mass {
                let (found, warning) = self.molecule(&empirical, molar_mass, entities)?;
                molecule = found;
                warnings.extend(warning);
            }
            formula = Some(empirical);
        }
        Ok(Empirical {
            constituents,
            trials,
            chosen,
            formula,
            sample: self.sample,
            molecule,
            warnings: warnings.into_iter().map(Note::from).collect(),
            edition: self.weights.edition(),
        })
    }

    /// Other counts than these that the readings allow.
    fn ambiguity(
        &self,
        constituents: &[Constituent],
        counts: Option<&[u32]>,
    ) -> Option<AnalysisWarning> {
        let chosen = counts.unwrap_or_default();
        let (others, more) = other_counts(constituents, self.coverage, chosen);
        if others.is_empty() {
            return None;
        }
        let others = others
            .iter()
            .map(|counts| text(&counted(constituents, counts)));
        Some(AnalysisWarning::AmbiguousMultiplier {
            candidates: others.collect(),
            more,
            is_chosen: counts.is_some(),
        })
    }

    /// Compares the molar mass that was given with that of the empirical formula.
    fn molecule(
        &self,
        empirical: &Formula,
        molar_mass: Reading,
        mut entities: Vec<(&Entity, u32)>,
    ) -> Result<(Option<Molecule>, Option<AnalysisWarning>), Error> {
        let one = empirical.molar_mass(&self.weights)?;
        let formula_mass = one.exact();
        let quotient =
            Measured::from(&molar_mass).checked_div(&Measured::exact(formula_mass.clone()));
        let Some(units) = quotient else {
            return Ok((None, None));
        };
        let reading = rectangular(molar_mass.last_place().to_f64() / 2.0);
        let relative = units.value().to_f64() * one.uncertainty();
        let uncertainty =
            libm::sqrt(reading * reading + relative * relative) / formula_mass.to_f64();
        let expanded = self.coverage * uncertainty;
        let whole = units.value().to_places(0, TieRule::Even).value();
        let distance = (units.value() - &whole).abs().to_f64();
        let whole = whole.to_i128().filter(|n| (1..=MOST_UNITS).contains(n));
        let whole = whole.and_then(|n| u32::try_from(n).ok());
        // With more than half a unit, any molar mass would fit.
        let is_near = expanded < 0.5 && distance <= MOST_DISTANCE.max(expanded);
        let (mut formula, mut warning) = (None, None);
        if let Some(number) = whole.filter(|_| is_near) {
            for (_, count) in &mut entities {
                *count = count.saturating_mul(number);
            }
            formula = Some((number, assemble(&entities)?));
        } else {
            warning = Some(AnalysisWarning::MolarMassNoMultiple {
                molar_mass,
                formula: empirical.clone(),
                formula_mass: formula_mass.clone(),
                quotient: units.value().clone(),
            });
        }
        let molecule = Molecule {
            molar_mass,
            formula_mass,
            units,
            formula,
        };
        Ok((Some(molecule), warning))
    }
}

fn counted<'c>(constituents: &'c [Constituent], counts: &[u32]) -> Vec<(&'c Entity, u32)> {
    let entities = constituents.iter().map(|part| &part.portion.entity);
    entities.zip(counts.iter().copied()).collect()
}

impl Empirical {
    /// Returns the parts with their amounts and ratios, in the given order.
    #[must_use]
    pub fn constituents(&self) -> &[Constituent] {
        &self.constituents
    }

    /// Returns the multipliers 1, 2, 3 … with the counts that each gives.
    #[must_use]
    pub fn trials(&self) -> &[Trial] {
        &self.trials
    }

    /// Returns the multiplier that was chosen. [`Trial::fit`] gives the rule for the choice.
    #[must_use]
    pub fn chosen(&self) -> Option<&Trial> {
        self.trials.get(self.chosen?)
    }

    /// Returns the empirical formula. `None` if no multiplier makes the ratios whole numbers.
    ///
    /// Elements keep the given order. If there is carbon and no metal, carbon and hydrogen come
    /// first and the rest by symbol. Species are joined by dots, water last. If there are elements,
    /// a species other than water is a group, as in `Fe2(SO4)3`.
    #[must_use]
    pub fn formula(&self) -> Option<&Formula> {
        self.formula.as_ref()
    }

    /// Returns the largest distance of a count from its whole number at the multiplier that was
    /// chosen.
    #[must_use]
    pub fn residual(&self) -> Option<Ratio> {
        self.chosen().map(Trial::residual)
    }

    /// Returns the molar mass that was given, divided by that of the empirical formula.
    #[must_use]
    pub fn units(&self) -> Option<&Measured> {
        self.molecule.as_ref().map(|molecule| &molecule.units)
    }

    fn molecular(&self) -> Option<&(u32, Formula)> {
        self.molecule.as_ref()?.formula.as_ref()
    }

    /// Returns how many empirical formulas a molecule contains. `None` if no molar mass is given, or
    /// if it is not near a multiple.
    #[must_use]
    pub fn multiplier(&self) -> Option<u32> {
        self.molecular().map(|(units, _)| *units)
    }

    /// Returns the molecular formula.
    #[must_use]
    pub fn molecular_formula(&self) -> Option<&Formula> {
        self.molecular().map(|(_, formula)| formula)
    }

    /// Returns what is doubtful about the analysis.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }

    /// Returns the edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// Adds what was noted when the texts of the parts were read.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.warnings.extend(notes);
        self
    }

    /// The mass of the sample, if it was given.
    pub(crate) fn sample(&self) -> Option<&Reading> {
        self.sample.as_ref()
    }

    /// The molar mass that was given, and that of the empirical formula.
    pub(crate) fn molar_masses(&self) -> Option<(&Reading, &Ratio)> {
        let molecule = self.molecule.as_ref()?;
        Some((&molecule.molar_mass, &molecule.formula_mass))
    }

    /// The ratios in one line: `1.4998 : 1 : 3.9993`.
    pub(crate) fn ratios_text(&self) -> String {
        ratios_text(&self.constituents)
    }
}
