//! Substances that are used as solutions, each with an upper concentration.
//!
//! A solution of the upper concentration is stable at 20 °C: the solubility in water is clearly larger (rounded down
//! from memory of handbook tables, not measured values). What dissolves sparingly, or reacts with water, is not here.

/// The substances that have the same upper concentration.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SolutionRow {
    /// The upper concentration in moles in a litre.
    pub(crate) highest: &'static str,
    /// The dissolved substances without waters of crystallisation, in canonical plain text.
    pub(crate) solutes: &'static [&'static str],
}

#[rustfmt::skip]
pub(crate) const SOLUTIONS: &[SolutionRow] = &[
    SolutionRow { highest: "0.100", solutes: &[
        "(NH4)2Ni(SO4)2", "Ba(OH)2", "K2Ni(SO4)2", "KHC2O4", "Na2B4O7", "Sr(OH)2",
    ] },
    SolutionRow { highest: "0.200", solutes: &[
        "(NH4)2Zn(SO4)2", "AgNO3", "K2Co(SO4)2", "KAl(SO4)2", "NH4Al(SO4)2", "NH4Cr(SO4)2", "Zn(CHO2)2",
    ] },
    SolutionRow { highest: "0.250", solutes: &[
        "(NH4)2C2O4", "(NH4)2Co(SO4)2", "(NH4)2Mg(SO4)2", "Cu(C2H3O2)2", "K2Mg(SO4)2", "K2Zn(SO4)2", "KCr(SO4)2",
        "Na2HPO4",
    ] },
    SolutionRow { highest: "0.500", solutes: &[
        "(NH4)2Fe(SO4)2", "(NH4)2Mn(SO4)2", "Al2(SO4)3", "Cr2(SO4)3", "Fe2(SO4)3", "K2SO4", "NH4Fe(SO4)2",
        "Na2S2O6", "Na3PO4", "NaNH4HPO4", "Ni(C2H3O2)2",
    ] },
    SolutionRow { highest: "1.00", solutes: &[
        "Al(NO3)3", "AlCl3", "Ba(NO2)2", "BaCl2", "CaS2O3", "Co(C2H3O2)2", "CoSO4", "CuSO4", "Fe(NO3)3", "FeSO4",
        "K2C2O4", "K3C6H5O7", "K4P2O7", "KNaC4H4O6", "MgS2O3", "Mn(C2H3O2)2", "NH4HCO3", "Na2CO3", "Na2MoO4",
        "Na2SO3", "Na2SO4", "Na2WO4", "Na3C6H5O7", "NiSO4", "Zn(C2H3O2)2",
    ] },
    SolutionRow { highest: "2.00", solutes: &[
        "(NH4)2SO4", "BaBr2", "BaI2", "C2H4O2", "Ca(NO3)2", "CaCl2", "CaI2", "Co(NO3)2", "CoBr2", "CoCl2",
        "Cu(NO3)2", "CuCl2", "FeCl2", "FeCl3", "H2SO4", "HCl", "K2CO3", "KBr", "KI", "KOH", "Li2SO4", "LiBr",
        "LiC2H3O2", "LiCl", "LiOH", "Mg(C2H3O2)2", "Mg(NO3)2", "MgBr2", "MgCl2", "MgI2", "MgSO4", "MnCl2",
        "MnSO4", "NH3", "Na2S2O3", "NaBr", "NaC2H3O2", "NaCl", "NaH2PO4", "NaOH", "Ni(NO3)2", "NiCl2", "Sr(NO3)2",
        "SrBr2", "SrCl2", "SrI2", "Zn(NO3)2", "ZnSO4",
    ] },
];
