//! The residues of anhydrous salts that are heated too far in air, one fact a row. Of several rows for
//! one salt, the first is reached first.
//!
//! `per_salt` is the number of formula units of residue for each of the salt. The temperature is that
//! at which the source calls the decomposition marked. It begins below. Gases that the source does not
//! name follow from what the solid loses (SO3 is then partly SO2 and O2). Colours (`sign`) are from
//! memory.

use super::source::Source::{
    self, Alum, AluminiumSalts, Alunite, CobaltMesylate, CobaltSheet, CopperNote, CrcMemory,
    Cupric, CupricAir, Effusion, FerricAir, FerrousAir, GypsumNote, Hu, Huang, ManganeseSheet,
    Memory, NickelAir, NickelChloride, Thiosulfate, Yang, ZincGuinier,
};

/// The residue of a salt that is heated too far.
pub(super) struct DecompositionRow {
    pub(super) salt: &'static str,
    pub(super) residue: &'static str,
    pub(super) per_salt: &'static str,
    pub(super) gases: &'static str,
    pub(super) source: Source,
    pub(super) marked: Option<(u16, Source)>,
    pub(super) sign: Option<&'static str>,
}

const fn row(
    salt: &'static str,
    residue: &'static str,
    per_salt: &'static str,
    gases: &'static str,
    source: Source,
) -> DecompositionRow {
    DecompositionRow {
        salt,
        residue,
        per_salt,
        gases,
        source,
        marked: None,
        sign: None,
    }
}

impl DecompositionRow {
    const fn from(mut self, celsius: u16, source: Source) -> DecompositionRow {
        self.marked = Some((celsius, source));
        self
    }

    const fn sign(mut self, sign: &'static str) -> DecompositionRow {
        self.sign = Some(sign);
        self
    }
}

// Adducts such as K2SO4·Al2O3 stand for a mixture in that proportion.
#[rustfmt::skip]
pub(super) const PRODUCTS: &[DecompositionRow] = &[
    row("CuSO4", "CuO·CuSO4", "1/2", "SO3", CopperNote),
    row("CuSO4", "CuO", "1", "SO3 + SO2 + O2", CopperNote).from(560, CrcMemory)
        .sign("it turns grey, then black"),
    row("MgSO4", "MgO", "1", "SO3 + SO2 + O2", Effusion).from(1124, CrcMemory),
    // Its source says 700 °C, more than another source says of the oxide. The rows follow the stages.
    row("ZnSO4", "ZnO·2ZnSO4", "1/3", "SO3", ZincGuinier),
    row("ZnSO4", "ZnO", "1", "SO3 + SO2 + O2", Yang).from(687, Yang)
        .sign("it is yellow while hot"),
    row("NiSO4", "NiO", "1", "SO3 + SO2 + O2", NickelAir).from(787, NickelAir)
        .sign("it turns grey-green or black"),
    row("CoSO4", "Co3O4", "1/3", "SO3 + SO2 + O2", CobaltMesylate).from(735, CobaltSheet)
        .sign("it turns black"),
    // The salt takes up oxygen first and gains mass.
    row("FeSO4", "Fe(OH)SO4", "1", "", FerrousAir),
    row("FeSO4", "Fe2O3", "1/2", "SO3 + SO2", FerrousAir)
        .sign("it turns yellow-brown, then red-brown"),
    // Below about 990 °C in air the oxide may be Mn2O3.
    row("MnSO4", "Mn3O4", "1/3", "SO3 + SO2 + O2", ManganeseSheet).from(850, ManganeseSheet)
        .sign("it turns brown"),
    row("CaSO4", "CaO", "1", "SO2 + O2", GypsumNote).from(1250, GypsumNote),
    row("KAl(SO4)2", "K2SO4·Al2O3", "1/2", "SO3 + SO2 + O2", Alum).from(800, Alunite),
    row("CoCl2", "Co3O4", "1/3", "HCl", Hu)
        .sign("it turns black"),
    row("CuCl2", "CuCl", "1", "Cl2", Cupric),
    row("CuCl2", "CuO", "1", "Cl2", CupricAir)
        .sign("it turns black"),
    row("NiCl2", "NiO", "1", "HCl", NickelChloride).from(400, NickelChloride),
    row("MgCl2", "Mg(OH)Cl", "1", "HCl", Huang).from(167, Huang),
    row("MgCl2", "MgO", "1", "HCl", Huang).from(415, Huang),
    row("FeCl3", "Fe(OH)2Cl", "1", "HCl", FerricAir).from(100, FerricAir),
    row("FeCl3", "Fe2O3", "1/2", "HCl", FerricAir).from(400, FerricAir)
        .sign("it turns red-brown"),
    row("AlCl3", "Al2O3", "1/2", "HCl", AluminiumSalts),
    // No mass is lost until the polysulfide gives off sulfur.
    row("Na2S2O3", "3Na2SO4·Na2S5", "1/4", "", Thiosulfate).from(220, Thiosulfate)
        .sign("it turns yellow-brown"),
];

/// Salts that a burner does not decompose, and one of which heat leaves nothing: salt, remark, source.
#[rustfmt::skip]
pub(super) const HEAT_REMARKS: &[(&str, &str, Source)] = &[
    ("BaCl2", "does not decompose in a burner's flame; it melts at about 961 °C", CrcMemory),
    ("Na2CO3", "does not decompose in a burner's flame; it melts at about 851 °C", CrcMemory),
    ("Na2SO4", "does not decompose in a burner's flame; it melts at about 884 °C", CrcMemory),
    ("H2C2O4", "leaves nothing: it sublimes, and decomposes into CO2, CO and water", Memory),
];
