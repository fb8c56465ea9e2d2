//! The amounts of all species before and after.

use alloc::string::String;
use alloc::vec::Vec;

use super::supply::Supply;
use super::yields::PercentYield;
use crate::element::Edition;
use crate::formula::Formula;
use crate::number::{Budget, Inputs, Measured, Ratio, Traced};
use crate::reaction::equation::Side;
use crate::reaction::write::plain_formula;
use crate::text::Note;

/// The amounts of all species before and after a reaction, exact.
#[derive(Debug, Clone, PartialEq)]
pub struct Reacted {
    pub(super) extent: Extent,
    pub(super) species: Vec<SpeciesAmount>,
    pub(super) percent_yield: Option<PercentYield>,
    pub(super) warnings: Vec<Note>,
    /// The balanced equation, if it had to be balanced first.
    pub(super) balanced_equation: Option<String>,
    pub(super) edition: Edition,
}

/// The extent of reaction, in moles of the reaction with its coefficients.
#[derive(Debug, Clone, PartialEq)]
pub struct Extent {
    value: Traced,
    budget: Budget,
}

impl Extent {
    pub(super) fn new(value: Traced, inputs: &Inputs) -> Extent {
        Extent {
            budget: inputs.budget(&value),
            value,
        }
    }

    /// Returns the exact value.
    #[must_use]
    pub fn amount(&self) -> &Ratio {
        self.value.value()
    }

    /// Returns the value with its significant figures.
    #[must_use]
    pub fn measured(&self) -> &Measured {
        self.value.measured()
    }

    /// Returns the uncertainty budget.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }
}

impl Reacted {
    /// Returns the extent of reaction.
    #[must_use]
    pub fn extent(&self) -> &Extent {
        &self.extent
    }

    /// Returns the limiting reactants: all that are used up together. If a product was given, there
    /// are none.
    #[doc(alias = "limiting reagent")]
    pub fn limiting(&self) -> impl Iterator<Item = &SpeciesAmount> {
        self.species.iter().filter(|species| species.limiting)
    }

    /// Returns the species, in the order of the equation.
    #[must_use]
    pub fn species(&self) -> &[SpeciesAmount] {
        &self.species
    }

    /// Returns the percent yield, if the obtained mass of a product was given.
    #[must_use]
    pub fn percent_yield(&self) -> Option<&PercentYield> {
        self.percent_yield.as_ref()
    }

    /// Returns the warnings.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }

    /// Returns the edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// Adds the notes from reading the texts.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.warnings.extend(notes);
        self
    }
}

/// One species before and after the reaction. What is unknown about a reactant in excess is `None`.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeciesAmount {
    pub(super) formula: Formula,
    pub(super) coefficient: Ratio,
    pub(super) side: Side,
    pub(super) given: Option<Supply>,
    pub(super) limiting: bool,
    pub(super) molar: Traced,
    pub(super) initial: Option<Traced>,
    pub(super) last: Option<Traced>,
    pub(super) change: Traced,
    pub(super) mass_initial: Option<Traced>,
    pub(super) mass_final: Option<Traced>,
    pub(super) mass_change: Traced,
    pub(super) budget: Budget,
}

impl SpeciesAmount {
    /// Returns the formula of the species.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Returns the formula in canonical plain text, as [`Species::name`] writes it.
    ///
    /// [`Species::name`]: crate::reaction::Species::name
    #[must_use]
    pub fn name(&self) -> String {
        plain_formula(&self.formula)
    }

    /// Returns the stoichiometric coefficient.
    #[must_use]
    pub fn coefficient(&self) -> &Ratio {
        &self.coefficient
    }

    /// Returns the side of the species: a reactant is used up, a product is formed.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }

    /// Returns whether the species is a limiting reactant.
    #[must_use]
    pub fn is_limiting(&self) -> bool {
        self.limiting
    }

    /// Returns the molar mass, in grams per mole.
    #[must_use]
    pub fn molar_mass(&self) -> &Ratio {
        self.molar.value()
    }

    /// Returns the amount before the reaction, in moles; zero for a product.
    #[must_use]
    pub fn mol_initial(&self) -> Option<&Ratio> {
        self.initial.as_ref().map(Traced::value)
    }

    /// Returns the amount after the reaction, in moles.
    #[must_use]
    pub fn mol_final(&self) -> Option<&Ratio> {
        self.last.as_ref().map(Traced::value)
    }

    /// Returns the change of the amount, in moles; negative if the species is used up.
    #[must_use]
    pub fn mol_change(&self) -> &Ratio {
        self.change.value()
    }

    /// Returns the mass of the pure species before the reaction, in grams.
    #[must_use]
    pub fn mass_initial(&self) -> Option<&Ratio> {
        self.mass_initial.as_ref().map(Traced::value)
    }

    /// Returns the mass after the reaction, in grams.
    #[must_use]
    pub fn mass_final(&self) -> Option<&Ratio> {
        self.mass_final.as_ref().map(Traced::value)
    }

    /// Returns the change of mass, in grams; negative if the species is used up. For a product it is
    /// the theoretical yield.
    #[must_use]
    #[doc(alias = "theoretical yield")]
    pub fn mass_change(&self) -> &Ratio {
        self.mass_change.value()
    }

    /// Returns the change of the amount, with its significant figures.
    #[must_use]
    pub fn measured_mol_change(&self) -> &Measured {
        self.change.measured()
    }

    /// Returns the change of mass, with its significant figures.
    #[must_use]
    pub fn measured_mass_change(&self) -> &Measured {
        self.mass_change.measured()
    }

    /// Returns the mass after the reaction, with its significant figures.
    #[must_use]
    pub fn measured_mass_final(&self) -> Option<&Measured> {
        self.mass_final.as_ref().map(Traced::measured)
    }

    /// Returns the uncertainty budget of the change of mass: the readings of the limiting reactant and
    /// the atomic weights, each of them once.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// Returns the standard uncertainty of the change of mass, in grams.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }
}
