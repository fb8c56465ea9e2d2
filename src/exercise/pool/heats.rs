//! Hydrates with a known heat of hydration.
//!
//! The enthalpies of formation are facts of the catalogue of salts, each confirmed by a second table. Listed
//! are all hydrates that have them, but for these. Cadmium salts are not handled in schools, nor are
//! powders of anhydrous cobalt and nickel salts. Anhydrous aluminium chloride reacts violently with water.
//! Of the hemihydrate of calcium sulfate, the sign depends on the form. Copper(II) sulfate is not here:
//! authors name it if they want it.

/// A hydrate that an anhydrous salt becomes when it takes up water.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HeatRow {
    /// The anhydrous salt, by name.
    pub(crate) salt_name: &'static str,
    /// The formula of the hydrate, in canonical plain text.
    pub(crate) hydrate: &'static str,
}

const fn row(salt_name: &'static str, hydrate: &'static str) -> HeatRow {
    HeatRow { salt_name, hydrate }
}

#[rustfmt::skip]
pub(crate) const HEATS: &[HeatRow] = &[
    row("sodium carbonate", "Na2CO3·10H2O"),
    row("calcium chloride", "CaCl2·6H2O"),
    row("zinc sulfate", "ZnSO4·7H2O"),
    row("sodium sulfate", "Na2SO4·10H2O"),
    row("magnesium sulfate", "MgSO4·6H2O"),
    row("barium chloride", "BaCl2·2H2O"),
    row("strontium chloride", "SrCl2·6H2O"),
    row("calcium sulfate", "CaSO4·2H2O"),
    row("potassium carbonate", "K2CO3·1.5H2O"),
    row("sodium bromide", "NaBr·2H2O"),
    row("iron(II) sulfate", "FeSO4·7H2O"),
    row("manganese(II) chloride", "MnCl2·4H2O"),
    row("magnesium chloride", "MgCl2·6H2O"),
    row("barium bromide", "BaBr2·2H2O"),
    row("magnesium bromide", "MgBr2·6H2O"),
    row("barium hydroxide", "Ba(OH)2·8H2O"),
    row("zinc nitrate", "Zn(NO3)2·6H2O"),
    row("sodium carbonate", "Na2CO3·7H2O"),
    row("sodium carbonate", "Na2CO3·H2O"),
    row("calcium chloride", "CaCl2·4H2O"),
    row("calcium chloride", "CaCl2·2H2O"),
    row("zinc sulfate", "ZnSO4·6H2O"),
    row("zinc sulfate", "ZnSO4·H2O"),
    row("barium chloride", "BaCl2·H2O"),
    row("strontium chloride", "SrCl2·2H2O"),
    row("strontium chloride", "SrCl2·H2O"),
    row("iron(II) sulfate", "FeSO4·H2O"),
    row("manganese(II) chloride", "MnCl2·2H2O"),
    row("manganese(II) chloride", "MnCl2·H2O"),
    row("magnesium chloride", "MgCl2·4H2O"),
    row("magnesium chloride", "MgCl2·2H2O"),
    row("magnesium chloride", "MgCl2·H2O"),
];
