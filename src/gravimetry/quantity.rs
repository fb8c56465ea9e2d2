//! The quantities that a bench works out and reports.

use super::error::{Error, ErrorKind};

/// A quantity of the loss-on-heating experiment, in the order in which it is worked out.
///
/// ```
/// use effloresce::gravimetry::Quantity;
/// assert_eq!(Quantity::PercentWater.code(), "percent_water");
/// assert_eq!(Quantity::PercentWater.unit(), "%");
/// assert_eq!("percent_water".parse(), Ok(Quantity::PercentWater));
///
/// let error = "percent water".parse::<Quantity>().unwrap_err();
/// assert_eq!(error.help(), Some("did you mean `percent_water`?"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Quantity {
    /// The mass of the hydrate taken, in grams.
    HydrateMass,
    /// The mass of the residue after heating, in grams.
    ResidueMass,
    /// The mass of water driven off, in grams.
    WaterMass,
    /// The mass fraction of water in the hydrate, in per cent.
    PercentWater,
    /// The amount of anhydrous salt, in moles.
    MolSalt,
    /// The amount of water, in moles.
    MolWater,
    /// The degree of hydration: moles of water for each mole of anhydrous salt.
    #[doc(alias = "degree of hydration")]
    Ratio,
    /// The formula of the hydrate.
    Formula,
}

impl Quantity {
    /// All quantities, in order.
    pub const ALL: [Quantity; 8] = [
        Quantity::HydrateMass,
        Quantity::ResidueMass,
        Quantity::WaterMass,
        Quantity::PercentWater,
        Quantity::MolSalt,
        Quantity::MolWater,
        Quantity::Ratio,
        Quantity::Formula,
    ];

    /// The stable name, the name in a sentence, and the unit.
    const fn words(self) -> [&'static str; 3] {
        match self {
            Quantity::HydrateMass => ["hydrate_mass", "mass of hydrate", "g"],
            Quantity::ResidueMass => ["residue_mass", "mass of residue", "g"],
            Quantity::WaterMass => ["water_mass", "mass of water", "g"],
            Quantity::PercentWater => ["percent_water", "percent water", "%"],
            Quantity::MolSalt => ["mol_salt", "amount of salt", "mol"],
            Quantity::MolWater => ["mol_water", "amount of water", "mol"],
            Quantity::Ratio => ["ratio", "mole ratio", ""],
            Quantity::Formula => ["formula", "formula", ""],
        }
    }

    /// The stable name of the quantity, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.words()[0]
    }

    /// The name of the quantity in a sentence.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.words()[1]
    }

    /// The unit in which the quantity is reported; empty for the ratio and the formula.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        self.words()[2]
    }
}

impl core::fmt::Display for Quantity {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(self.name())
    }
}

crate::text::codes!(Quantity, code, "quantities", Error(ErrorKind::UnknownCode));
