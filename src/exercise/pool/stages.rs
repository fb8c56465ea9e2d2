//! Solids that lose mass in stages.
//!
//! The lower hydrates and the residues are those of the catalogue of salts, each with its source there. The
//! magnesium and sodium hydrogencarbonates, carbonates and hydroxides are textbook knowledge (from memory).
//! Only solids that a school may heat on the bench are here.

/// A solid with what heating leaves of it, stage by stage.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StagesRow {
    /// The formula of the solid, in canonical plain text.
    pub(crate) start: &'static str,
    /// The residues in the order in which they arise.
    pub(crate) residues: &'static [&'static str],
}

const fn row(start: &'static str, residues: &'static [&'static str]) -> StagesRow {
    StagesRow { start, residues }
}

#[rustfmt::skip]
pub(crate) const STAGES: &[StagesRow] = &[
    row("MgSO4·7H2O", &["MgSO4·H2O", "MgSO4"]),
    row("CaSO4·2H2O", &["CaSO4·0.5H2O", "CaSO4"]),
    row("ZnSO4·7H2O", &["ZnSO4·6H2O", "ZnSO4·H2O", "ZnSO4"]),
    row("CaCl2·6H2O", &["CaCl2·4H2O", "CaCl2·2H2O", "CaCl2"]),
    row("SrCl2·6H2O", &["SrCl2·2H2O", "SrCl2·H2O", "SrCl2"]),
    row("BaCl2·2H2O", &["BaCl2·H2O", "BaCl2"]),
    row("MnSO4·4H2O", &["MnSO4·2H2O", "MnSO4"]),
    row("KAl(SO4)2·12H2O", &["KAl(SO4)2·3H2O", "KAl(SO4)2"]),
    row("Na2HPO4·12H2O", &["Na2HPO4·7H2O", "Na2HPO4", "Na4P2O7"]),
    row("NaH2PO4·2H2O", &["NaH2PO4", "NaPO3"]),
    row("KCr(SO4)2·12H2O", &["KCr(SO4)2·2H2O", "KCr(SO4)2"]),
    row("K2CO3·1.5H2O", &["K2CO3·H2O", "K2CO3"]),
    row("Na2CO3·10H2O", &["Na2CO3·H2O", "Na2CO3"]),
    row("MgCO3·3H2O", &["MgCO3·2H2O", "MgCO3", "MgO"]),
    row("Al2(SO4)3·18H2O", &["Al2(SO4)3·16H2O", "Al2(SO4)3"]),
    row("BaBr2·2H2O", &["BaBr2·H2O", "BaBr2"]),
    row("LiBr·2H2O", &["LiBr·H2O", "LiBr"]),
    row("CaHPO4·2H2O", &["CaHPO4", "Ca2P2O7"]),
    row("FeSO4·7H2O", &["FeSO4·4H2O", "FeSO4·H2O"]),
    row("Fe2(SO4)3·9H2O", &["Fe2(SO4)3·4.5H2O", "Fe2(SO4)3·0.5H2O"]),
    row("NaH2PO4·H2O", &["NaH2PO4", "NaPO3"]),
    row("MnSO4·4H2O", &["MnSO4·H2O", "MnSO4"]),
    row("Na2HPO4·7H2O", &["Na2HPO4·2H2O", "Na2HPO4", "Na4P2O7"]),
    row("CaCl2·4H2O", &["CaCl2·2H2O", "CaCl2·H2O", "CaCl2"]),
];
