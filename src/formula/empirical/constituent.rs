//! A part of a sample with its mass, its amount and its ratio.

use alloc::vec::Vec;

use super::entity::Entity;
use crate::formula::repr::Formula;
use crate::number::{Budget, Measured, Ratio, Reading, Traced};

/// One part of a sample: its mass, its amount, and its ratio to the part with the smallest amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Constituent {
    pub(super) portion: Portion,
    pub(super) ratio: Traced,
    pub(super) budget: Budget,
}

/// A part of a sample before its ratio is known.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Portion {
    pub(super) entity: Entity,
    pub(super) formula: Formula,
    pub(super) origin: Origin,
    pub(super) mass: Traced,
    pub(super) molar_mass: Traced,
    pub(super) amount: Traced,
}

/// Where a mass comes from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Origin {
    Mass,
    /// An amount that was given.
    Amount,
    /// A percentage of a sample whose mass was given.
    Share(Reading),
    Products(Vec<CombustionProduct>),
    Difference,
}

/// A product of combustion.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct CombustionProduct {
    pub(crate) formula: Formula,
    pub(crate) mass: Reading,
    pub(crate) molar_mass: Ratio,
    /// How many atoms of the sample's element a formula unit contains.
    pub(crate) atoms: Ratio,
}

impl Constituent {
    /// Returns the element, or the species that is counted whole.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.portion.formula
    }

    /// Returns its mass, in grams. If only percentages were given, this is the mass in 100 g.
    #[must_use]
    pub fn mass(&self) -> &Ratio {
        self.portion.mass.value()
    }

    /// Returns its mass with its significant figures.
    #[must_use]
    pub fn measured_mass(&self) -> &Measured {
        self.portion.mass.measured()
    }

    /// Returns its molar mass, in grams per mole.
    #[must_use]
    pub fn molar_mass(&self) -> &Ratio {
        self.portion.molar_mass.value()
    }

    /// Returns its amount, in moles.
    #[must_use]
    pub fn amount(&self) -> &Ratio {
        self.portion.amount.value()
    }

    /// Returns its amount with its significant figures.
    #[must_use]
    pub fn measured_amount(&self) -> &Measured {
        self.portion.amount.measured()
    }

    /// Returns its amount divided by the smallest amount of all parts.
    #[must_use]
    pub fn ratio(&self) -> &Ratio {
        self.ratio.value()
    }

    /// Returns its ratio with its significant figures.
    #[must_use]
    pub fn measured_ratio(&self) -> &Measured {
        self.ratio.measured()
    }

    /// Returns the standard uncertainty of the ratio, from the last place of each reading and the
    /// atomic weights.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// Returns where the uncertainty of the ratio comes from.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    pub(crate) fn origin(&self) -> &Origin {
        &self.portion.origin
    }

    /// How far this multiple of the ratio may be from a whole number.
    pub(super) fn allowance(&self, multiplier: u32, coverage: f64) -> f64 {
        coverage * f64::from(multiplier) * self.standard_uncertainty()
    }
}
