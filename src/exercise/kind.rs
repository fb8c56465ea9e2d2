//! The kinds of problem, and their levels.

use alloc::format;

use super::error::{Error, ErrorKind, wrong};

/// A kind of problem.
///
/// ```
/// use effloresce::exercise::Kind;
/// assert_eq!("percent_water".parse::<Kind>()?, Kind::PercentWater);
/// assert_eq!(Kind::ALL.len(), 15);
/// # Ok::<(), effloresce::exercise::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Kind {
    /// The percentage by mass of water in a hydrate.
    PercentWater,
    /// The molar mass of a formula.
    MolarMass,
    /// The formula of a hydrate from the masses before and after heating.
    FormulaFromMasses,
    /// The formula of a hydrate from its percentage of water.
    FormulaFromPercent,
    /// The formula of a hydrate from the weighings of a crucible.
    FormulaFromWeighings,
    /// The mass to weigh out for a purpose.
    SampleMass,
    /// What heating in stages leaves and drives off.
    Stages,
    /// The composition of a mixture of two solids from what heating leaves.
    Mixture,
    /// The mass of a product if one reactant runs out.
    Limiting,
    /// The percent yield of a preparation.
    Yield,
    /// The content of a sample from the mass of a precipitate.
    Factor,
    /// The empirical or molecular formula of a compound.
    Empirical,
    /// The coefficients of an equation.
    Balance,
    /// The heat that an anhydrous salt gives off when it takes up water.
    Heat,
    /// A class sheet with a fault at one bench and a slip at another.
    ErrorAnalysis,
}

crate::text::codes! {
    Kind, "kinds of problem", Error(ErrorKind::UnknownCode);
    PercentWater => "percent_water",
    MolarMass => "molar_mass",
    FormulaFromMasses => "formula_from_masses",
    FormulaFromPercent => "formula_from_percent",
    FormulaFromWeighings => "formula_from_weighings",
    SampleMass => "sample_mass",
    Stages => "stages",
    Mixture => "mixture",
    Limiting => "limiting",
    Yield => "yield",
    Factor => "factor",
    Empirical => "empirical",
    Balance => "balance",
    Heat => "heat",
    ErrorAnalysis => "error_analysis",
}

impl Kind {
    /// The kind in words, such as "percent water".
    #[cfg(any(feature = "report", feature = "qti"))]
    pub(crate) fn words(self) -> alloc::string::String {
        self.code().replace('_', " ")
    }
}

/// The level of a problem: how much it asks for.
///
/// ```
/// use effloresce::exercise::Level;
/// assert_eq!(Level::new(2)?, Level::SeveralSteps);
/// assert_eq!(Level::Judgement.number(), 3);
/// assert!(Level::new(4).is_err());
/// # Ok::<(), effloresce::exercise::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Level {
    /// One step.
    OneStep,
    /// Several steps.
    SeveralSteps,
    /// Several steps, with something to judge.
    Judgement,
}

impl Level {
    /// All levels, in ascending order.
    pub const ALL: [Level; 3] = [Level::OneStep, Level::SeveralSteps, Level::Judgement];

    /// Returns the level of a number from 1 to 3.
    ///
    /// # Errors
    /// Returns an error for another number.
    pub fn new(number: u32) -> Result<Level, Error> {
        let level = Level::ALL
            .into_iter()
            .find(|level| level.number() == number);
        level.ok_or_else(|| {
            let message = format!("there is no level {number}");
            wrong(ErrorKind::Level, message, "give a level from 1 to 3")
        })
    }

    /// Returns the number of the level, from 1 to 3.
    #[must_use]
    pub const fn number(self) -> u32 {
        match self {
            Level::OneStep => 1,
            Level::SeveralSteps => 2,
            Level::Judgement => 3,
        }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Level {
    /// Serializes the number.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u32(self.number())
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Level {
    /// Reads the number.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Level::new(u32::deserialize(deserializer)?).map_err(|error| crate::text::refusal(&error))
    }
}
