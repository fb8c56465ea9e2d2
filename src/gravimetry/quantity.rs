//! The quantities that a bench works out and reports.

/// A quantity of the loss-on-heating experiment, in the order in which it is worked out.
///
/// ```
/// use effloresce::gravimetry::Quantity;
/// assert_eq!(Quantity::PercentWater.code(), "percent_water");
/// assert_eq!(Quantity::PercentWater.unit(), "%");
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
    /// All of them, in order.
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

    /// The stable name of the quantity, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Quantity::HydrateMass => "hydrate_mass",
            Quantity::ResidueMass => "residue_mass",
            Quantity::WaterMass => "water_mass",
            Quantity::PercentWater => "percent_water",
            Quantity::MolSalt => "mol_salt",
            Quantity::MolWater => "mol_water",
            Quantity::Ratio => "ratio",
            Quantity::Formula => "formula",
        }
    }

    /// What the quantity is called in a sentence.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Quantity::HydrateMass => "mass of hydrate",
            Quantity::ResidueMass => "mass of residue",
            Quantity::WaterMass => "mass of water",
            Quantity::PercentWater => "percent water",
            Quantity::MolSalt => "amount of salt",
            Quantity::MolWater => "amount of water",
            Quantity::Ratio => "mole ratio",
            Quantity::Formula => "formula",
        }
    }

    /// The unit it is reported in; empty for the ratio and the formula.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass => "g",
            Quantity::PercentWater => "%",
            Quantity::MolSalt | Quantity::MolWater => "mol",
            Quantity::Ratio | Quantity::Formula => "",
        }
    }
}

impl core::fmt::Display for Quantity {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Quantity {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}
