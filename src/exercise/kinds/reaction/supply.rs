//! How much is given of a species.

use alloc::format;
use alloc::string::String;

use super::species::ReactionSpecies;
use crate::exercise::field::Field;
use crate::gravimetry::{CarefulWork, Interval};
use crate::number::{Ratio, Reading};

/// How much is given of a species.
#[derive(Clone, PartialEq)]
pub(super) enum Supply {
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

impl Supply {
    pub(super) fn field(&self) -> Field {
        match self {
            Supply::Mass(grams) => Field::object([("mass", grams)]),
            Supply::Impure { grams, percent } => {
                Field::object([("mass", grams), ("purity_percent", percent)])
            }
            Supply::Amount(moles) => Field::object([("mol", moles)]),
            Supply::Solution {
                concentration,
                litres,
            } => Field::object([("concentration", concentration), ("volume", litres)]),
        }
    }

    /// The supply in a sentence: `2.50 g of silver nitrate, AgNO3`.
    pub(super) fn words(&self, species: &ReactionSpecies) -> String {
        let (words, formula) = (species.words(), &species.text);
        match self {
            Supply::Mass(grams) => format!("{grams}\u{a0}g of {words}"),
            Supply::Impure { grams, percent } => {
                format!("{grams}\u{a0}g of a sample that is {percent}\u{a0}% {formula} by mass")
            }
            Supply::Amount(moles) => format!("{moles}\u{a0}mol of {words}"),
            Supply::Solution {
                concentration,
                litres,
            } => format!("{litres}\u{a0}L of a {concentration}\u{a0}mol/L solution of {formula}"),
        }
    }

    /// The significant figures of the number with the fewest.
    pub(super) fn figures(&self) -> u32 {
        let figures = |reading: &Reading| reading.figures().at_least();
        match self {
            Supply::Mass(one) | Supply::Amount(one) => figures(one),
            Supply::Impure {
                grams: one,
                percent: other,
            }
            | Supply::Solution {
                concentration: one,
                litres: other,
            } => figures(one).min(figures(other)),
        }
    }

    /// The mass as it is weighed, with its impurities; `None` if none is given.
    pub(super) fn grams(&self) -> Option<Reading> {
        match self {
            Supply::Mass(grams) | Supply::Impure { grams, .. } => Some(*grams),
            _ => None,
        }
    }

    /// The mass of the species itself.
    pub(super) fn mass(&self, paths: &CarefulWork) -> Option<Interval> {
        match self {
            Supply::Mass(grams) => Some(Interval::point(grams.value())),
            Supply::Impure { grams, percent } => {
                let share = percent.value() * Ratio::new(1, 100)?;
                paths.kept(&Interval::point(grams.value() * share))
            }
            _ => None,
        }
    }

    /// The amount of the species.
    pub(super) fn amount(&self, paths: &CarefulWork, molar: &Interval) -> Option<Interval> {
        match self {
            Supply::Amount(moles) => Some(Interval::point(moles.value())),
            Supply::Solution {
                concentration,
                litres,
            } => paths.kept(&Interval::point(concentration.value() * litres.value())),
            _ => paths.kept(&self.mass(paths)?.over(molar)?),
        }
    }

    /// The amount in symbols and in numbers, for the working; `None` if it is given.
    pub(super) fn steps(&self, formula: &str, molar: &str) -> Option<(String, String)> {
        Some(match self {
            Supply::Amount(_) => return None,
            Supply::Mass(grams) => (
                format!("m({formula}) / M({formula})"),
                format!("{grams} g / {molar} g/mol"),
            ),
            Supply::Impure { grams, percent } => (
                format!("m(sample) × purity / 100 % / M({formula})"),
                format!("{grams} g × {percent} % / 100 % / {molar} g/mol"),
            ),
            Supply::Solution {
                concentration,
                litres,
            } => (
                format!("c({formula}) × V"),
                format!("{concentration} mol/L × {litres} L"),
            ),
        })
    }
}
