//! The stages of heating, from a stated sequence of residues.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::arising::{Solid, arising};
use super::gases::Loss;
use crate::element::{AtomicWeights, Edition};
use crate::formula::{Formula, MolarInputs};
use crate::gravimetry::error::{Error, impossible, no_mass};
use crate::gravimetry::hazard::grave_hazard;
use crate::gravimetry::salts::{Decomposition, decompositions};
use crate::number::{Budget, Inputs, Ratio, Reading, Traced};
use crate::text::Note;

/// The stages in which a solid loses mass on heating, from the residues that it leaves one after the
/// other. All percentages are of the starting mass.
///
/// The elements that are kept fix how many formula units of a residue arise. What was lost is named by
/// difference: known gases if they account for it, otherwise one formula in Hill order.
///
/// ```
/// use effloresce::AtomicWeights;
/// use effloresce::gravimetry::Stages;
/// let stages = Stages::of("CaC2O4·H2O".parse()?, &AtomicWeights::default())?
///     .then("CaC2O4".parse()?)?
///     .then("CaCO3".parse()?)?
///     .then("CaO".parse()?)?;
/// let lost: Vec<String> = stages
///     .stages()
///     .iter()
///     .map(|stage| format!("{} {:.2} %", stage.lost().unwrap(), stage.percent_lost()))
///     .collect();
/// assert_eq!(lost, ["H2O 12.33 %", "CO 19.17 %", "CO2 30.12 %"]);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[doc(alias = "thermogravimetry")]
#[doc(alias = "TGA")]
pub struct Stages {
    weights: AtomicWeights,
    pub(super) start: Solid,
    pub(super) molar: Ratio,
    sample: Option<Reading>,
    stages: Vec<Stage>,
    /// The solid after the last stage.
    last: Solid,
    /// The notes from reading the texts of the formulas.
    notes: Vec<Note>,
}

/// One stage of heating.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    pub(super) solid: Solid,
    pub(super) molar: Ratio,
    loss: Loss,
    /// What the catalogue says of a loss that is not a mixture of known gases.
    pub(super) catalogue: Option<&'static Decomposition>,
    notes: Vec<Note>,
    percent_lost: Ratio,
    percent_total: Ratio,
    budget: Budget,
    total_budget: Budget,
    mass: Option<Ratio>,
}

impl Stages {
    /// Begins with the solid that is heated, usually a hydrate. A number in front counts:
    /// `3CdSO4·8H2O` leaves three `CdSO4`.
    ///
    /// # Errors
    /// `no_standard_weight` or `unknown_degree` if the formula has no molar mass, `bad_request` if it has
    /// no atoms.
    pub fn of(start: Formula, weights: &AtomicWeights) -> Result<Stages, Error> {
        let start = Solid::new(start)?;
        let molar = start.formula.molar_mass(weights)?.exact().clone();
        Ok(Stages {
            weights: weights.clone(),
            last: start.clone(),
            start,
            molar,
            sample: None,
            stages: Vec::new(),
            notes: Vec::new(),
        })
    }

    /// Adds a stage that leaves this residue.
    ///
    /// # Errors
    /// `bad_request` if the residue cannot arise from the one before it: it has an element that neither
    /// this one nor the air has, or nothing that fixes its amount. `no_standard_weight` or
    /// `unknown_degree` if the formula has no molar mass.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::gravimetry::Stages;
    /// let stages = Stages::of("CuSO4·5H2O".parse()?, &AtomicWeights::default())?;
    /// let error = stages.then("CuCl2".parse()?).unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "CuCl2 cannot arise from CuSO4·5H2O: it has chlorine, and neither CuSO4·5H2O nor the air has"
    /// );
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn then(mut self, residue: Formula) -> Result<Stages, Error> {
        let start = &self.start.formula;
        let solid = arising(&self.last, residue);
        let solid = solid.map_err(|error| error.ending(grave_hazard(&[start])))?;
        let mut inputs = Inputs::default();
        let mut table = MolarInputs::new(&self.weights);
        let mut mass = |of: &Solid| -> Result<Traced, Error> {
            let molar = table.molar(&of.formula, &mut inputs)?;
            Ok(molar.times_exact(&of.units))
        };
        let (start, before, after) = (mass(&self.start)?, mass(&self.last)?, mass(&solid)?);
        let of_start = |mass: &Traced| {
            let percent = mass.times_exact(&Ratio::from(100)).over(&start);
            percent.ok_or_else(no_mass)
        };
        let lost = of_start(&before.minus(&after))?;
        let total = of_start(&start.minus(&after))?;
        let loss = Loss::between(&self.last.atoms, &solid.atoms);
        let catalogue = match loss.unknown {
            Some(_) => in_catalogue(&self.start.formula, &solid),
            None => None,
        };
        let mut stage = Stage {
            molar: solid.formula.molar_mass(&self.weights)?.exact().clone(),
            notes: notes(
                [&self.last.formula, &solid.formula],
                &loss,
                lost.value(),
                catalogue,
            ),
            catalogue,
            loss,
            budget: inputs.budget(&lost),
            total_budget: inputs.budget(&total),
            percent_lost: lost.value().clone(),
            percent_total: total.value().clone(),
            mass: None,
            solid: solid.clone(),
        };
        stage.weigh(self.sample.as_ref());
        self.stages.push(stage);
        self.last = solid;
        Ok(self)
    }

    /// Takes the mass of the sample at the start, in grams, for the mass after each stage.
    ///
    /// # Errors
    /// `impossible_masses` if the mass is not positive.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::gravimetry::Stages;
    /// let stages = Stages::of("CuSO4·5H2O".parse()?, &AtomicWeights::default())?
    ///     .sample("2.500".parse()?)?
    ///     .then("CuSO4".parse()?)?;
    /// assert_eq!(format!("{:.3}", stages.stages()[0].mass().unwrap()), "1.598");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn sample(mut self, grams: Reading) -> Result<Stages, Error> {
        if !grams.value().is_positive() {
            let message = format!("a sample of {grams} g has no mass");
            return Err(impossible(message, "give a positive mass"));
        }
        self.sample = Some(grams);
        for stage in &mut self.stages {
            stage.weigh(Some(&grams));
        }
        Ok(self)
    }

    /// The solid that is heated.
    #[must_use]
    pub fn start(&self) -> &Formula {
        &self.start.formula
    }

    /// The stages, in order.
    #[must_use]
    pub fn stages(&self) -> &[Stage] {
        &self.stages
    }

    /// Adds the notes from reading the texts of the formulas.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// Returns the notes of all stages in order, then those from reading the texts of the formulas.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let of_stages = self.stages.iter().flat_map(Stage::notes);
        of_stages.chain(&self.notes).cloned().collect()
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.weights.edition()
    }
}

impl Stage {
    fn weigh(&mut self, sample: Option<&Reading>) {
        let part = self.percent_residue() * Ratio::power_of_ten(-2);
        self.mass = sample.map(|grams| grams.value() * part);
    }

    /// The solid that this stage leaves.
    #[must_use]
    pub fn residue(&self) -> &Formula {
        &self.solid.formula
    }

    /// The number of formula units of residue for each of the solid that was heated.
    #[must_use]
    pub fn per_start(&self) -> &Ratio {
        &self.solid.units
    }

    /// Returns what was lost: the names of known gases, joined by ` + `. If these do not account for the
    /// difference, it is one formula in Hill order. `None` if nothing was lost.
    #[must_use]
    pub fn lost(&self) -> Option<String> {
        self.loss.lost()
    }

    /// The known gases that were lost, each with its number of molecules for one formula unit of the
    /// solid that was heated. Empty if the loss is not a mixture of known gases.
    #[must_use]
    pub fn gases(&self) -> &[(String, Ratio)] {
        &self.loss.released
    }

    /// Returns what was taken up from the air, such as `O2`. It counts as a negative loss. `None` if
    /// nothing was.
    #[must_use]
    pub fn taken_up(&self) -> Option<String> {
        self.loss.taken_up()
    }

    /// The loss of this stage, in per cent of the starting mass. It is negative if the mass rises.
    #[must_use]
    pub fn percent_lost(&self) -> &Ratio {
        &self.percent_lost
    }

    /// The loss of all stages up to this one, in per cent of the starting mass.
    #[must_use]
    pub fn percent_total(&self) -> &Ratio {
        &self.percent_total
    }

    /// Returns the mass of the residue, in per cent of the starting mass.
    #[must_use]
    pub fn percent_residue(&self) -> Ratio {
        100 - &self.percent_total
    }

    /// The mass of the residue in grams; `None` without a sample.
    #[must_use]
    pub fn mass(&self) -> Option<&Ratio> {
        self.mass.as_ref()
    }

    /// The contributions of the atomic weights to the uncertainty of the loss of this stage, in per cent
    /// of the starting mass.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// The contributions of the atomic weights to the uncertainty of the loss of all stages up to this
    /// one.
    #[must_use]
    pub fn total_budget(&self) -> &Budget {
        &self.total_budget
    }

    /// The remarks: what was taken up, and a loss that is not a mixture of known gases.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }
}

/// Returns the decomposition of the catalogue by which a hydrate, heated too far, leaves this solid.
fn in_catalogue(start: &Formula, solid: &Solid) -> Option<&'static Decomposition> {
    let salt = start.anhydrous();
    let known = decompositions(salt.as_ref().unwrap_or(start)).iter();
    known
        .filter(|known| !known.gases().is_empty())
        .find(|known| *known.residue() == solid.formula)
}

fn notes(
    [before, after]: [&Formula; 2],
    loss: &Loss,
    percent: &Ratio,
    catalogue: Option<&Decomposition>,
) -> Vec<Note> {
    let mut notes = Vec::new();
    if let Some(taken_up) = loss.taken_up() {
        let mass = match percent.is_negative() {
            true => " The mass rises.",
            false => "",
        };
        let text = format!(
            "{before} takes up {taken_up} from the air when it turns into {after}. What is taken up counts as a \
             negative loss.{mass}"
        );
        notes.push(
            Note::new("taken_up", text)
                .with("taken_up", taken_up)
                .with("residue", after.to_string()),
        );
    }
    if let Some(unknown) = &loss.unknown {
        let (code, text) = match catalogue {
            Some(known) => (
                "vapours",
                format!(
                    "When {before} turns into {after}, {unknown} is lost. It leaves as {}.",
                    known.gases()
                ),
            ),
            None => (
                "unknown_loss",
                format!(
                    "Known gases do not account for the difference between {before} and {after}, {unknown}. \
                     Check the residue."
                ),
            ),
        };
        let note = Note::new(code, text).with("lost", unknown.clone());
        let note = note.with("residue", after.to_string());
        notes.push(match catalogue {
            Some(known) => note.with("source", known.source()),
            None => note,
        });
    }
    notes
}
