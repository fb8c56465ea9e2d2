//! Mixtures of two solids that the loss on heating solves.
//!
//! What the hydrates leave is in the catalogue of salts, each with its source there. That heating turns
//! hydrogencarbonates into carbonates, and magnesium carbonate and hydroxide into the oxide, is textbook
//! knowledge (from memory). The mixture of barium chloride and potassium chloride is after Harris,
//! Quantitative Chemical Analysis. The ranges are common practice, no source.

/// Two solids in one crucible.
#[derive(Debug, Clone, Copy)]
pub(crate) struct MixtureRow {
    /// The formulas of the solids, in canonical plain text.
    pub(crate) formulas: [&'static str; 2],
    /// Their names.
    pub(crate) names: [&'static str; 2],
    /// What heating leaves of each; the same as the solid if it loses nothing.
    pub(crate) residues: [&'static str; 2],
    /// The least and the greatest percentage by mass of the first.
    pub(crate) percent: [u8; 2],
}

const fn row(
    [formula, name, residue]: [&'static str; 3],
    [other, other_name, other_residue]: [&'static str; 3],
    percent: [u8; 2],
) -> MixtureRow {
    MixtureRow {
        formulas: [formula, other],
        names: [name, other_name],
        residues: [residue, other_residue],
        percent,
    }
}

/// A solid that loses nothing.
const fn inert(formula: &'static str, name: &'static str) -> [&'static str; 3] {
    [formula, name, formula]
}

#[rustfmt::skip]
pub(crate) const MIXTURES: &[MixtureRow] = &[
    row(["NaHCO3", "sodium hydrogencarbonate", "Na2CO3"], inert("Na2CO3", "sodium carbonate"), [15, 90]),
    row(["MgSO4·7H2O", "magnesium sulfate heptahydrate", "MgSO4"], inert("NaCl", "sodium chloride"), [20, 90]),
    row(["BaCl2·2H2O", "barium chloride dihydrate", "BaCl2"], inert("KCl", "potassium chloride"), [40, 95]),
    row(["NaHCO3", "sodium hydrogencarbonate", "Na2CO3"], ["KHCO3", "potassium hydrogencarbonate", "K2CO3"], [20, 80]),
    row(["CaSO4·2H2O", "calcium sulfate dihydrate", "CaSO4"], inert("SiO2", "sand"), [30, 95]),
    row(["Na2CO3·10H2O", "sodium carbonate decahydrate", "Na2CO3"], inert("Na2CO3", "anhydrous sodium carbonate"), [20, 90]),
    row(["ZnSO4·7H2O", "zinc sulfate heptahydrate", "ZnSO4"], inert("K2SO4", "potassium sulfate"), [20, 90]),
    row(["MnSO4·H2O", "manganese(II) sulfate monohydrate", "MnSO4"], inert("SiO2", "sand"), [50, 95]),
    row(["CaCl2·2H2O", "calcium chloride dihydrate", "CaCl2"], inert("NaCl", "sodium chloride"), [30, 90]),
    row(["Na2SO4·10H2O", "sodium sulfate decahydrate", "Na2SO4"], inert("Na2SO4", "anhydrous sodium sulfate"), [15, 90]),
    row(["KAl(SO4)2·12H2O", "aluminium potassium sulfate dodecahydrate", "KAl(SO4)2"], inert("K2SO4", "potassium sulfate"), [20, 90]),
    row(["KHCO3", "potassium hydrogencarbonate", "K2CO3"], inert("K2CO3", "potassium carbonate"), [15, 90]),
    row(["SrCl2·6H2O", "strontium chloride hexahydrate", "SrCl2"], inert("KCl", "potassium chloride"), [20, 90]),
    row(["MgSO4·7H2O", "magnesium sulfate heptahydrate", "MgSO4"], ["CaSO4·2H2O", "calcium sulfate dihydrate", "CaSO4"], [20, 80]),
    row(["Na2HPO4·12H2O", "sodium hydrogenphosphate dodecahydrate", "Na2HPO4"], inert("NaCl", "sodium chloride"), [20, 90]),
    row(["MgCO3", "magnesium carbonate", "MgO"], inert("SiO2", "sand"), [20, 90]),
    row(["Mg(OH)2", "magnesium hydroxide", "MgO"], inert("SiO2", "sand"), [30, 90]),
    row(["NaHCO3", "sodium hydrogencarbonate", "Na2CO3"], inert("NaCl", "sodium chloride"), [20, 90]),
    row(["Li2SO4·H2O", "lithium sulfate monohydrate", "Li2SO4"], inert("K2SO4", "potassium sulfate"), [40, 95]),
    row(["MgSO4·7H2O", "magnesium sulfate heptahydrate", "MgSO4"], ["MgSO4·H2O", "magnesium sulfate monohydrate", "MgSO4"], [20, 80]),
    row(["Na2CO3·10H2O", "sodium carbonate decahydrate", "Na2CO3"], ["Na2CO3·H2O", "sodium carbonate monohydrate", "Na2CO3"], [20, 80]),
    row(["NaBr·2H2O", "sodium bromide dihydrate", "NaBr"], inert("KCl", "potassium chloride"), [30, 90]),
    row(["CaSO4·2H2O", "calcium sulfate dihydrate", "CaSO4"], inert("CaSO4", "anhydrous calcium sulfate"), [30, 95]),
    row(["ZnSO4·7H2O", "zinc sulfate heptahydrate", "ZnSO4"], ["ZnSO4·H2O", "zinc sulfate monohydrate", "ZnSO4"], [20, 80]),
];
