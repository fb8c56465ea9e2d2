//! How much is given of a species.

use alloc::format;
use alloc::string::String;

use super::species::ReactionSpecies;
use crate::exercise::careful::CarefulWork;
use crate::exercise::field::Field;
use crate::gravimetry::Interval;
use crate::number::{Ratio, Reading};

/// How much is given of a species.
#[derive(Clone, PartialEq)]
pub(super) enum PrintedSupply {
    Mass(Reading),
    Impure {
        grams: Reading,
        percent: Reading,
    },
    Amount(Reading),
    Solution {
        concentration: Reading,
        litres: Reading,
    },
}

impl PrintedSupply {
    pub(super) fn field(&self) -> Field {
        match self {
            PrintedSupply::Mass(grams) => Field::object([("mass", grams)]),
            PrintedSupply::Impure { grams, percent } => {
                Field::object([("mass", grams), ("purity_percent", percent)])
            }
            PrintedSupply::Amount(moles) => Field::object([("mol", moles)]),
            PrintedSupply::Solution {
                concentration,
                litres,
            } => Field::object([("concentration", concentration), ("volume", litres)]),
        }
    }

    /// The supply in a sentence: `2.50 g of silver nitrate, AgNO3`.
    pub(super) fn words(&self, species: &ReactionSpecies) -> String {
        let (words, formula) = (species.words(), &species.text);
        match self {
            PrintedSupply::Mass(grams) => format!("{grams}\u{a0}g of {words}"),
            PrintedSupply::Impure { grams, percent } => {
                format!("{grams}\u{a0}g of a sample that is {percent}\u{a0}% {formula} by mass")
            }
            PrintedSupply::Amount(moles) => format!("{moles}\u{a0}mol of {words}"),
            PrintedSupply::Solution {
                concentration,
                litres,
            } => format!("{litres}\u{a0}L of a {concentration}\u{a0}mol/L solution of {formula}"),
        }
    }

    /// The significant figures of the number with the fewest.
    pub(super) fn figures(&self) -> u32 {
        let figures = |reading: &Reading| reading.figures().at_least();
        match self {
            PrintedSupply::Mass(one) | PrintedSupply::Amount(one) => figures(one),
            PrintedSupply::Impure {
                grams: one,
                percent: other,
            }
            | PrintedSupply::Solution {
                concentration: one,
                litres: other,
            } => figures(one).min(figures(other)),
        }
    }

    /// The mass as it is weighed, with its impurities; `None` if none is given.
    pub(super) fn grams(&self) -> Option<Reading> {
        match self {
            PrintedSupply::Mass(grams) | PrintedSupply::Impure { grams, .. } => Some(*grams),
            _ => None,
        }
    }

    /// The mass of the species itself.
    pub(super) fn mass(&self, paths: &CarefulWork) -> Option<Interval> {
        match self {
            PrintedSupply::Mass(grams) => Some(Interval::point(grams.value())),
            PrintedSupply::Impure { grams, percent } => {
                let share = percent.value() * Ratio::new(1, 100)?;
                paths.kept(&Interval::point(grams.value() * share))
            }
            _ => None,
        }
    }

    /// The amount of the species.
    pub(super) fn amount(&self, paths: &CarefulWork, molar: &Interval) -> Option<Interval> {
        match self {
            PrintedSupply::Amount(moles) => Some(Interval::point(moles.value())),
            PrintedSupply::Solution {
                concentration,
                litres,
            } => paths.kept(&Interval::point(concentration.value() * litres.value())),
            _ => paths.kept(&self.mass(paths)?.over(molar)?),
        }
    }

    /// The amount in symbols and in numbers, for the working; `None` if it is given.
    pub(super) fn steps(&self, formula: &str, molar: &str) -> Option<(String, String)> {
        Some(match self {
            PrintedSupply::Amount(_) => return None,
            PrintedSupply::Mass(grams) => (
                format!("m({formula}) / M({formula})"),
                format!("{grams} g / {molar} g/mol"),
            ),
            PrintedSupply::Impure { grams, percent } => (
                format!("m(sample) × purity / 100 % / M({formula})"),
                format!("{grams} g × {percent} % / 100 % / {molar} g/mol"),
            ),
            PrintedSupply::Solution {
                concentration,
                litres,
            } => (
                format!("c({formula}) × V"),
                format!("{concentration} mol/L × {litres} L"),
            ),
        })
    }
}
