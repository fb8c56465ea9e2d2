//! The empirical formula with how it was found, and the molecular formula.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::{Error, Formula};
use super::Analysis;
use super::assemble::{assemble, text};
use super::constituent::Constituent;
use super::multiplier::{Trial, chosen, lowest, nearest, others, shown, trials};
use super::part::Part;
use crate::element::{AtomicWeights, Edition};
use crate::number::{Measured, Ratio, Reading, TieRule, rectangular};
use crate::text::Note;

/// How near the molar mass must be to a multiple of the formula's, in formula units. Common
/// practice, no source.
const NEAR: f64 = 0.1;

/// Beyond so many times what the readings' own uncertainty allows, a distance is told.
const FAR: f64 = 2.0;

/// No molecule has more formula units.
const MOST_UNITS: i128 = 1_000;

/// The simplest formula that an [`Analysis`] speaks for, with every step that led to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Empirical {
    constituents: Vec<Constituent>,
    trials: Vec<Trial>,
    chosen: Option<usize>,
    formula: Option<Formula>,
    sample: Option<Reading>,
    molar_mass: Option<Reading>,
    formula_mass: Option<Ratio>,
    quotient: Option<Measured>,
    molecular: Option<(u32, Formula)>,
    warnings: Vec<Note>,
    edition: Edition,
}

impl Analysis {
    pub(super) fn conclude(
        &self,
        constituents: Vec<Constituent>,
        warnings: Vec<Note>,
    ) -> Result<Empirical, Error> {
        let trials = trials(&constituents, self.coverage);
        let mut found = Empirical {
            chosen: chosen(&trials),
            constituents,
            trials,
            formula: None,
            sample: self.sample,
            molar_mass: self.molar_mass,
            formula_mass: None,
            quotient: None,
            molecular: None,
            warnings,
            edition: self.weights.edition(),
        };
        match found.chosen_counts() {
            None => {
                found.say_nearest();
                found.say_doubts(&[], self.coverage);
            }
            Some(counts) => {
                found.formula = Some(assemble(&found.counted(&counts))?);
                found.say_doubts(&counts, self.coverage);
                found.multiply(&counts, &self.weights, self.coverage)?;
            }
        }
        Ok(found)
    }
}

impl Empirical {
    fn counted(&self, counts: &[u32]) -> Vec<(&Part, u32)> {
        let parts = self.constituents.iter().map(|part| &part.part);
        parts.zip(counts.iter().copied()).collect()
    }

    /// The whole numbers of the multiplier that was chosen, in lowest terms.
    fn chosen_counts(&self) -> Option<Vec<u32>> {
        Some(lowest(self.chosen()?.counts()))
    }

    fn say_nearest(&mut self) {
        let Some(trial) = nearest(&self.trials) else {
            return;
        };
        let (ratios, residual) = (
            shown(&self.constituents),
            trial.residual().to_decimal_places(3, TieRule::Even),
        );
        let note = Note::new(
            "no_whole_numbers",
            format!(
                "The ratios {ratios} are near whole numbers at no multiplier; {} comes nearest, and is {residual} \
                 off.",
                trial.multiplier()
            ),
        );
        let note = note
            .with("ratios", ratios)
            .with("multiplier", format!("{}", trial.multiplier()))
            .with("residual", format!("{residual}"));
        self.warnings.push(note);
    }

    /// Other counts that the readings allow, and a distance that they do not explain.
    fn say_doubts(&mut self, counts: &[u32], coverage: f64) {
        let (other, more) = others(&self.constituents, coverage, counts);
        if !other.is_empty() {
            let mut names: Vec<String> = other
                .iter()
                .map(|counts| text(&self.counted(counts)))
                .collect();
            if more {
                names.push("…".into());
            }
            let names = names.join(", ");
            let also = if counts.is_empty() { "" } else { " also" };
            self.warnings.push(
                Note::new(
                    "ambiguous_multiplier",
                    format!("The readings' own uncertainty{also} allows {names}."),
                )
                .with("candidates", names),
            );
        }
        if let Some(trial) = self.chosen().filter(|trial| !trial.is_within(FAR)) {
            let residual = format!("{}", trial.residual().to_decimal_places(3, TieRule::Even));
            self.warnings.push(
                Note::new(
                    "beyond_figures",
                    format!(
                        "A count is {residual} off a whole number, far more than the last places of the readings \
                         explain."
                    ),
                )
                .with("residual", residual),
            );
        }
    }

    fn multiply(
        &mut self,
        counts: &[u32],
        weights: &AtomicWeights,
        coverage: f64,
    ) -> Result<(), Error> {
        let (Some(molar_mass), Some(formula)) = (self.molar_mass, &self.formula) else {
            return Ok(());
        };
        let one = formula.molar_mass(weights)?;
        let measured = Measured::from(&molar_mass);
        let quotient = measured.checked_div(&Measured::exact(one.exact()));
        self.formula_mass = Some(one.exact());
        let Some(quotient) = quotient else {
            return Ok(());
        };
        let reading = rectangular(molar_mass.last_place().to_f64() / 2.0);
        let (mass, value) = (one.exact().to_f64(), quotient.value().to_f64());
        let relative = value * one.uncertainty();
        let uncertainty = libm::sqrt(reading * reading + relative * relative) / mass;
        let units = quotient.value().to_decimal_places(0, TieRule::Even).value();
        let off = (quotient.value() - &units).abs().to_f64();
        let whole = units.to_i128().filter(|n| (1..=MOST_UNITS).contains(n));
        let whole = whole.and_then(|n| u32::try_from(n).ok());
        // Beyond half a unit any molar mass would do.
        let allowed = NEAR.max(coverage * uncertainty).min(0.5);
        match whole.filter(|_| off <= allowed && coverage * uncertainty < 0.5) {
            Some(units) => {
                let counts: Vec<u32> = counts.iter().map(|c| c.saturating_mul(units)).collect();
                self.molecular = Some((units, assemble(&self.counted(&counts))?));
            }
            None => self.warnings.push(no_multiple(
                &molar_mass,
                formula,
                &one.exact(),
                quotient.value(),
            )),
        }
        self.quotient = Some(quotient);
        Ok(())
    }

    /// The parts with their amounts and ratios, in the order given.
    #[must_use]
    pub fn constituents(&self) -> &[Constituent] {
        &self.constituents
    }

    /// The multipliers 1, 2, 3 … with what each makes of the ratios.
    #[must_use]
    pub fn trials(&self) -> &[Trial] {
        &self.trials
    }

    /// The multiplier that was chosen; [`Trial::fit`] says by which rule.
    #[must_use]
    pub fn chosen(&self) -> Option<&Trial> {
        self.trials.get(self.chosen?)
    }

    /// The empirical formula; `None` where no multiplier makes whole numbers of the ratios.
    ///
    /// Elements stand in the order given; where there is carbon and no metal, carbon and hydrogen
    /// come first and the rest by symbol. Species are joined by dots, water last; beside elements a
    /// species other than water is a group, as in `Fe2(SO4)3`.
    #[must_use]
    pub fn formula(&self) -> Option<&Formula> {
        self.formula.as_ref()
    }

    /// The largest distance of a count from its whole number at the multiplier that was chosen.
    #[must_use]
    pub fn residual(&self) -> Option<Ratio> {
        self.chosen().map(Trial::residual)
    }

    /// The molar mass that was given, over that of the empirical formula.
    #[must_use]
    pub fn units(&self) -> Option<&Measured> {
        self.quotient.as_ref()
    }

    /// How many empirical formulas a molecule holds; `None` where no molar mass is given, or it is
    /// near no multiple.
    #[must_use]
    pub fn multiplier(&self) -> Option<u32> {
        self.molecular.as_ref().map(|(units, _)| *units)
    }

    /// The molecular formula.
    #[must_use]
    pub fn molecular_formula(&self) -> Option<&Formula> {
        self.molecular.as_ref().map(|(_, formula)| formula)
    }

    /// What is doubtful about the analysis.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }

    /// The edition of the atomic weights.
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

    /// The sample, where its mass was given.
    pub(crate) fn sample(&self) -> Option<&Reading> {
        self.sample.as_ref()
    }

    /// The molar masses given and of the empirical formula.
    pub(crate) fn molar_masses(&self) -> Option<(&Reading, &Ratio)> {
        self.molar_mass.as_ref().zip(self.formula_mass.as_ref())
    }

    /// The ratios beside each other.
    pub(crate) fn ratios_shown(&self) -> String {
        shown(&self.constituents)
    }
}

fn no_multiple(given: &Reading, formula: &Formula, one: &Ratio, quotient: &Ratio) -> Note {
    let quotient = format!("{}", quotient.to_figures(4, TieRule::Even));
    Note::new(
        "molar_mass_no_multiple",
        format!(
            "A molar mass of {given} g/mol is {quotient} times that of {formula} ({} g/mol), which is near no \
             whole number: the molar mass or the formula is wrong.",
            one.to_plain()
        ),
    )
    .with("molar_mass", format!("{given}"))
    .with("formula", format!("{formula}"))
    .with("quotient", quotient)
}
