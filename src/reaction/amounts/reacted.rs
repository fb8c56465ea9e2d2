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

/// What the amounts that were given come to, worked out exactly.
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

/// The extent of reaction, in moles of the reaction as its coefficients stand.
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

    /// The exact value.
    #[must_use]
    pub fn amount(&self) -> &Ratio {
        self.value.value()
    }

    /// The same with the digits that mean something.
    #[must_use]
    pub fn measured(&self) -> &Measured {
        self.value.measured()
    }

    /// Where its uncertainty comes from.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }
}

impl Reacted {
    /// The extent of reaction.
    #[must_use]
    pub fn extent(&self) -> &Extent {
        &self.extent
    }

    /// The limiting reactants: all that are used up together. None where a product was given.
    #[doc(alias = "limiting reagent")]
    pub fn limiting(&self) -> impl Iterator<Item = &SpeciesAmount> {
        self.species.iter().filter(|species| species.limiting)
    }

    /// The species, in the order of the equation.
    #[must_use]
    pub fn species(&self) -> &[SpeciesAmount] {
        &self.species
    }

    /// The percent yield, where the mass of a product that was obtained is given.
    #[must_use]
    pub fn percent_yield(&self) -> Option<&PercentYield> {
        self.percent_yield.as_ref()
    }

    /// What is doubtful.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// Adds what was noted when the texts were read.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.warnings.extend(notes);
        self
    }
}

/// One species before and after. What is not known of a reactant in excess is `None`.
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
    /// The species.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// The formula in canonical plain text, as one unit: as [`Species::name`] writes it.
    ///
    /// [`Species::name`]: crate::reaction::Species::name
    #[must_use]
    pub fn name(&self) -> String {
        plain_formula(&self.formula)
    }

    /// Its stoichiometric coefficient.
    #[must_use]
    pub fn coefficient(&self) -> &Ratio {
        &self.coefficient
    }

    /// Whether it is used up or formed.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }

    /// Whether it is a limiting reactant.
    #[must_use]
    pub fn is_limiting(&self) -> bool {
        self.limiting
    }

    /// Its molar mass, in grams a mole.
    #[must_use]
    pub fn molar_mass(&self) -> &Ratio {
        self.molar.value()
    }

    /// The amount at first, in moles; nought for a product.
    #[must_use]
    pub fn mol_initial(&self) -> Option<&Ratio> {
        self.initial.as_ref().map(Traced::value)
    }

    /// The amount at last.
    #[must_use]
    pub fn mol_final(&self) -> Option<&Ratio> {
        self.last.as_ref().map(Traced::value)
    }

    /// The change, negative where it is used up.
    #[must_use]
    pub fn mol_change(&self) -> &Ratio {
        self.change.value()
    }

    /// The mass at first, in grams, of the pure species.
    #[must_use]
    pub fn mass_initial(&self) -> Option<&Ratio> {
        self.mass_initial.as_ref().map(Traced::value)
    }

    /// The mass at last.
    #[must_use]
    pub fn mass_final(&self) -> Option<&Ratio> {
        self.mass_final.as_ref().map(Traced::value)
    }

    /// The change of mass, negative where it is used up; of a product the theoretical yield.
    #[must_use]
    #[doc(alias = "theoretical yield")]
    pub fn mass_change(&self) -> &Ratio {
        self.mass_change.value()
    }

    /// The amount that is turned over, with its sign and the digits that mean something.
    #[must_use]
    pub fn measured_mol_change(&self) -> &Measured {
        self.change.measured()
    }

    /// The change of mass with the digits that mean something.
    #[must_use]
    pub fn measured_mass_change(&self) -> &Measured {
        self.mass_change.measured()
    }

    /// The mass at last with the digits that mean something.
    #[must_use]
    pub fn measured_mass_final(&self) -> Option<&Measured> {
        self.mass_final.as_ref().map(Traced::measured)
    }

    /// Where the uncertainty of the change of mass comes from: the readings of what limits, and the
    /// atomic weights, each of them once.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// The standard uncertainty of the change of mass, in grams.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }
}
