//! The degree of hydration that readings give, with its uncertainty.

use alloc::format;
use alloc::vec::Vec;

use super::constant_mass::{Constancy, ConstantMass};
use super::defensible::{Defensible, Masses};
use super::error::{Error, no_mass};
use super::given_salt::{anhydrous, issued_hydrate};
use super::hazard::HeatingSafety;
use super::interval::Interval;
use super::mass_loss::MassLoss;
use super::method::Method;
use super::outcome::{Candidate, Degrees, Interpretation, Outcome};
use super::paths::DefensiblePaths;
use super::quantity::Quantity;
use super::residual_salt::ResidualSalt;
use super::salts::known_hydrates;
use super::sensitivity::Sensitivity;
use super::series::{Series, places_of};
use super::uncertainty_part::UncertaintyPart;
use super::warning::Warning;
use super::weighings::Weighings;
use crate::element::{AtomicWeights, Edition};
use crate::formula::{Composition, Formula, MolarMass};
use crate::number::{Budget, Contribution, Ratio, Reading};
use crate::text::Note;

/// The result of one bench's readings, worked out exactly.
#[derive(Debug, Clone, PartialEq)]
pub struct Dehydration {
    /// The salt with the waters that complete heating leaves.
    pub(super) residual: ResidualSalt,
    weights: AtomicWeights,
    /// The molar mass of the residue.
    pub(super) salt_molar: MolarMass,
    pub(super) water_molar: MolarMass,
    pub(super) loss: MassLoss,
    pub(super) ratio: Ratio,
    budget: Budget,
    candidates: Vec<Candidate>,
    pub(super) nearest: Ratio,
    outcome: Outcome,
    findings: Vec<Warning>,
    /// The notes from reading the salt's text.
    notes: Vec<Note>,
    degrees: Degrees,
}

impl Method {
    /// Works out the degree of hydration of `salt` from a bench's readings. The salt is anhydrous, or
    /// has an unknown number of waters (`MgSO4·xH2O`).
    ///
    /// # Errors
    /// Returns an error if the masses are impossible; the message names the two readings. It also does
    /// so if no weighing after heating is given, or if the salt is a hydrate or has no molar mass.
    #[doc(alias = "water of crystallization")]
    pub fn dehydration(&self, salt: &Formula, weighings: &Weighings) -> Result<Dehydration, Error> {
        self.worked_out(&anhydrous(salt)?, None, weighings)
    }

    /// Works out the degree of hydration of a bench to which the hydrate `issued` was given. What was
    /// issued is always a candidate.
    ///
    /// # Errors
    /// Returns an error as [`Method::dehydration`] does, and if `issued` is not a hydrate with a known
    /// number of waters.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Net, Weighings};
    /// let bench = Weighings::net("2.500".parse()?, "2.016".parse()?, Net::Tared);
    /// let run = Method::new().dehydration_of(&"Cu(NO3)2·2.5H2O".parse()?, &bench)?;
    /// assert_eq!(run.nearest_formula().to_string(), "Cu(NO3)2·2.5H2O");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn dehydration_of(
        &self,
        issued: &Formula,
        weighings: &Weighings,
    ) -> Result<Dehydration, Error> {
        let (salt, waters) = issued_hydrate(issued)?;
        self.worked_out(&salt, Some(waters), weighings)
    }

    fn worked_out(
        &self,
        salt: &Formula,
        issued: Option<Ratio>,
        weighings: &Weighings,
    ) -> Result<Dehydration, Error> {
        let residual = self.residual_salt(salt, issued.as_ref())?;
        let water = Formula::water();
        let made_of = [residual.formula.composition()?, water.composition()?];
        let salt_molar = residual.formula.molar_mass(&self.weights)?;
        let water_molar = water.molar_mass(&self.weights)?;
        let (m_salt, m_water) = (salt_molar.exact(), water_molar.exact());
        let factor = m_salt.checked_div(&m_water).ok_or_else(no_mass)?;
        let highest = issued.as_ref().or(known_hydrates(salt).iter().max());
        let (loss, ratio) = self.loss_and_ratio(weighings, [&residual.waters, &factor], highest)?;
        let mass_ratio = &loss.mass_ratio;
        let budget = self.budget(&made_of, &loss.inputs, mass_ratio, [&m_water, &factor])?;
        let uncertainty = budget.standard_uncertainty();
        let degrees = Degrees::new(salt, self.candidates.as_deref(), issued);
        let interpretation = Interpretation {
            residual: &residual,
            ratio: &ratio,
            uncertainty,
            coverage: self.coverage,
            degrees: &degrees,
            water_mass: &m_water,
            factor: &factor,
            hydrate_mass: loss.hydrate.as_ref(),
        };
        let reached = loss.constancy.as_ref().and_then(Constancy::reached);
        let (candidates, left_out) = interpretation.candidates();
        let nearest = interpretation.nearest(&candidates);
        let outcome = interpretation.outcome(&candidates, &nearest, reached);
        let mut findings = self.warnings(weighings, &loss);
        let left_out = (!left_out.is_empty()).then_some(left_out);
        findings.extend(left_out.map(Warning::CandidatesLeftOut));
        findings.extend(interpretation.warnings(&candidates, &outcome, &self.weights, reached));
        Ok(Dehydration {
            weights: self.weights.clone(),
            salt_molar,
            water_molar,
            loss: MassLoss {
                sensitivity: loss.sensitivity.times(&factor),
                ..loss
            },
            ratio,
            budget,
            candidates,
            nearest,
            outcome,
            findings,
            notes: Vec::new(),
            residual,
            degrees,
        })
    }

    /// The loss with the ratio that it gives: the waters `left`, and the mass ratio times the `factor`. `highest` is the
    /// most water that the hydrate may have held.
    fn loss_and_ratio(
        &self,
        weighings: &Weighings,
        [left, factor]: [&Ratio; 2],
        highest: Option<&Ratio>,
    ) -> Result<(MassLoss, Ratio), Error> {
        let loss = self.mass_loss(weighings)?;
        let ratio = left + &loss.mass_ratio * factor;
        Ok((loss.of_ratio(&ratio, highest), ratio))
    }

    /// The budget of a ratio whose mass ratio depends on these inputs. The molar masses are that of water,
    /// and that of the residue divided by it.
    pub(super) fn budget(
        &self,
        [in_salt, in_water]: &[Composition; 2],
        inputs: &[(&'static str, f64, Ratio)],
        mass_ratio: &Ratio,
        [m_water, factor]: [&Ratio; 2],
    ) -> Result<Budget, Error> {
        let mut contributions: Vec<Contribution> = inputs
            .iter()
            .map(|(name, u, by)| Contribution::new(*name, *u, (by * factor).to_f64()))
            .collect();
        if let Some(repeatability) = self.repeatability.filter(|relative| *relative > 0.0) {
            // With w the water and h the hydrate, x = k w/(h − w), so w dx/dw = x (1 + w/(h − w)).
            let x = mass_ratio * factor;
            let by_relative = &x * (1 + mass_ratio);
            contributions.push(Contribution::new(
                "repeatability of the mass of water",
                repeatability,
                by_relative.to_f64(),
            ));
        }
        // The moles of water for each gram of residue. Times the molar mass of the salt they give x.
        let moles = mass_ratio.checked_div(m_water).ok_or_else(no_mass)?;
        // H and O may be in the salt and in the water. Each element counts once, with the sum of its
        // sensitivities.
        let mut atoms: Vec<_> = in_salt.iter().map(|(atom, _)| atom).collect();
        atoms.extend(
            in_water
                .iter()
                .map(|(atom, _)| atom)
                .filter(|a| in_salt.count(*a).is_zero()),
        );
        for atom in atoms {
            let weight = self
                .weights
                .atom(atom)
                .map_err(crate::formula::Error::from)?;
            let slope = in_salt.count(atom) - in_water.count(atom) * factor;
            contributions.push(Contribution::new(
                format!("atomic weight of {atom}"),
                weight.standard_uncertainty(),
                (&slope * &moles).to_f64(),
            ));
        }
        Ok(Budget::new(contributions))
    }

    pub(super) fn warnings(&self, weighings: &Weighings, loss: &MassLoss) -> Vec<Warning> {
        let (Some(container_weighings), Some(constancy)) =
            (weighings.container_weighings(), &loss.constancy)
        else {
            return Vec::new();
        };
        let series = Series::new(container_weighings, &loss.division);
        let given = !matches!(self.constant_mass, ConstantMass::Divisions(_));
        let mut warnings = series.warnings(constancy, given);
        let coarser = weighings
            .readings()
            .iter()
            .filter(|r| r.last_place() > loss.division)
            .count();
        if coarser > 0 {
            warnings.push(Warning::CoarserReading(coarser, loss.division.clone()));
        }
        warnings
    }
}

impl Dehydration {
    /// The anhydrous salt.
    #[must_use]
    pub fn salt(&self) -> &Formula {
        &self.residual.salt
    }

    /// The solid that complete heating was meant to leave: the anhydrous salt, or a lower hydrate of it.
    #[must_use]
    pub fn residue(&self) -> &Formula {
        &self.residual.formula
    }

    /// The mass of hydrate, in grams, with the decimal places of the balance.
    #[must_use]
    pub fn hydrate_mass(&self) -> Option<&Reading> {
        self.loss.hydrate.as_ref()
    }

    /// The mass of residue, in grams.
    #[must_use]
    pub fn residue_mass(&self) -> Option<&Reading> {
        self.loss.residue.as_ref()
    }

    /// The mass of water driven off, in grams.
    #[must_use]
    pub fn water_mass(&self) -> Option<&Reading> {
        self.loss.water.as_ref()
    }

    /// The mass fraction of water, in per cent.
    #[must_use]
    pub fn percent_water(&self) -> &Ratio {
        &self.loss.percent
    }

    /// The amount of salt, in moles.
    #[must_use]
    pub fn mol_salt(&self) -> Option<Ratio> {
        let mass = self.loss.residue?.value();
        mass.checked_div(&self.salt_molar.exact())
    }

    /// The amount of water driven off, in moles.
    #[must_use]
    pub fn mol_water(&self) -> Option<Ratio> {
        let mass = self.loss.water?.value();
        mass.checked_div(&self.water_molar.exact())
    }

    /// The degree of hydration, exact: moles of water per mole of salt.
    #[must_use]
    pub fn ratio(&self) -> &Ratio {
        &self.ratio
    }

    /// The standard uncertainty of the ratio.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// Returns what the standard uncertainty covers.
    #[must_use]
    pub fn uncertainty_covers(&self) -> Vec<UncertaintyPart> {
        let mut covers = alloc::vec![UncertaintyPart::Balance];
        covers.extend(&self.loss.covers);
        covers
    }

    /// Returns whether the standard uncertainty is a lower bound: it covers only the balance, and nothing
    /// shows how much water is left. Text writes it as `≥ 0.013`.
    #[must_use]
    pub fn uncertainty_is_lower_bound(&self) -> bool {
        self.loss.covers.is_empty()
    }

    /// The contributions to the uncertainty.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// The partial derivatives of the ratio with respect to the readings.
    #[must_use]
    pub fn sensitivity(&self) -> &Sensitivity {
        &self.loss.sensitivity
    }

    /// The hydrates that are compared with the ratio, by degree.
    #[must_use]
    pub fn candidates(&self) -> &[Candidate] {
        &self.candidates
    }

    /// The degree nearest to the ratio, whatever the uncertainty is.
    #[must_use]
    pub fn nearest(&self) -> &Ratio {
        &self.nearest
    }

    /// The hydrate of the nearest degree.
    #[must_use]
    pub fn nearest_formula(&self) -> Formula {
        let salt = &self.residual.salt;
        salt.with_waters(&self.nearest)
            .unwrap_or_else(|| salt.clone())
    }

    /// The hydrate that is nearest to another ratio.
    #[cfg(feature = "class")]
    pub(crate) fn nearest_formula_to(&self, ratio: &Ratio) -> Option<Formula> {
        let degree = super::outcome::nearest_degree(&self.residual, &self.degrees, ratio);
        self.residual.salt.with_waters(&degree)
    }

    /// The conclusion from the ratio.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        &self.outcome
    }

    /// The comparison with the criterion for constant mass; `None` for net masses and percentages.
    #[must_use]
    pub fn constant_mass(&self) -> Option<&Constancy> {
        self.loss.constancy.as_ref()
    }

    /// Returns the doubts about the readings, and the notes from reading the salt's text.
    #[must_use]
    pub fn warnings(&self) -> Vec<Note> {
        let warnings = self.findings.iter().map(Warning::note);
        warnings.chain(self.notes.iter().cloned()).collect()
    }

    /// The doubts about the readings, as values.
    #[cfg(feature = "class")]
    pub(crate) fn findings(&self) -> &[Warning] {
        &self.findings
    }

    /// The residue that the mass agrees with, if the salt was heated beyond the one that heating should leave.
    #[cfg(feature = "class")]
    pub(crate) fn further_residue(&self) -> Option<&Formula> {
        self.findings.iter().find_map(|finding| match finding {
            Warning::HeatedBeyond(formulas) => formulas.last(),
            _ => None,
        })
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.weights.edition()
    }

    /// Returns what heating the nearest hydrate in a school until the residue is left means, with the cautions.
    #[must_use]
    pub fn safety(&self) -> HeatingSafety {
        HeatingSafety::leaving(&self.nearest_formula(), self.residue())
    }

    /// The number of significant figures that the masses allow in a product or a quotient.
    #[must_use]
    pub fn figures(&self) -> u32 {
        self.loss.figures
    }

    /// Returns the exact value of a quantity; `None` for the formula and for masses that were not given.
    #[must_use]
    pub fn value(&self, quantity: Quantity) -> Option<Ratio> {
        match quantity {
            Quantity::HydrateMass => self.loss.hydrate.map(|r| r.value()),
            Quantity::ResidueMass => self.loss.residue.map(|r| r.value()),
            Quantity::WaterMass => self.loss.water.map(|r| r.value()),
            Quantity::PercentWater => Some(self.loss.percent.clone()),
            Quantity::MolSalt => self.mol_salt(),
            Quantity::MolWater => self.mol_water(),
            Quantity::Ratio => Some(self.ratio.clone()),
            Quantity::Formula => None,
        }
    }

    #[cfg(feature = "class")]
    pub(crate) fn division(&self) -> &Ratio {
        &self.loss.division
    }

    /// Adds the notes from reading the salt's text.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The tables of weights and the roundings that careful work on these readings may use.
    pub(crate) fn paths(&self) -> DefensiblePaths {
        DefensiblePaths::new(&self.residual, &self.weights, self.loss.figures)
    }

    /// The path with the weights of this run and without rounding.
    pub(crate) fn unrounded_path(&self) -> DefensiblePaths {
        DefensiblePaths::unrounded(&self.residual, &self.weights)
    }

    /// The decimal places that the balance shows.
    pub(crate) fn decimal_places(&self) -> i32 {
        places_of(&self.loss.division)
    }

    /// The masses that each of the weighings that agree gives, with the decimal places of the
    /// balance.
    fn masses(&self) -> Vec<Masses> {
        let (Some(hydrate), Some(residue), Some(water)) =
            (self.loss.hydrate, self.loss.residue, self.loss.water)
        else {
            return Vec::new();
        };
        let point = |value: &Ratio| Interval {
            places: Some(self.decimal_places()),
            ..Interval::point(value.clone())
        };
        let own = (residue.value(), water.value());
        let others = self.loss.agreeing.iter().filter(|pair| **pair != own);
        core::iter::once(&own)
            .chain(others)
            .map(|(residue, water)| Masses {
                hydrate: point(&hydrate.value()),
                residue: point(residue),
                water: point(water),
            })
            .collect()
    }

    /// Returns the least and the greatest answer that careful work can give from these readings, for
    /// each quantity; see [`Defensible`].
    #[must_use]
    pub fn defensible(&self) -> Defensible {
        self.defensible_along(&self.paths())
    }

    pub(crate) fn defensible_along(&self, paths: &DefensiblePaths) -> Defensible {
        Defensible::new(&self.masses(), &self.loss.percent, paths)
    }
}
