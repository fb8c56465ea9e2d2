//! The fluorides, chlorides, bromides and iodides: one fact a row.

use super::fact::Fact::{
    Degree, HazardWords, HeatRemark, MarkedFrom, NoPlateau, Plateau, Residue, Sign, Suited,
};
use super::fact::{FactRow, row};
use super::source::Source::{
    AluminiumSalts, BariumMmg, BariumNote, CobaltChlorideSds, CopperSheet, CrcMemory, Cupric,
    CupricAir, Dictionary, FerricAir, Hu, Huang, Memory, Nbs, NbsMemory, NickelChloride,
    NickelIsothermal, Practice,
};
use super::suitability::Suitability::Unfit;

const CHLORIDE: &str = "hydrogen chloride leaves with the water";

#[rustfmt::skip]
pub(super) const ROWS: &[FactRow] = &[
    row("CaCl2", Degree("1"), Nbs),
    row("CaCl2", Degree("2"), Nbs),
    row("CaCl2", Degree("4"), Nbs),
    row("CaCl2", Degree("6"), Nbs),
    row("CaCl2", Plateau("2"), Dictionary),
    row("BaCl2", Degree("1"), Nbs),
    row("BaCl2", Degree("2"), Nbs),
    row("BaCl2", Plateau("1"), BariumNote),
    row("BaCl2", HeatRemark("does not decompose in a burner's flame; it melts at about 961 °C"), CrcMemory),
    row("BaCl2", HazardWords("if swallowed or inhaled, soluble barium salts harm the gut, the heart and the \
        muscles, and can cause paralysis"), BariumMmg),
    row("CoCl2", Degree("1"), Hu),
    row("CoCl2", Degree("2"), Nbs),
    row("CoCl2", Degree("6"), Nbs),
    row("CoCl2", Plateau("1"), Hu),
    row("CoCl2", Plateau("2"), Hu),
    row("CoCl2", Residue("Co3O4", "1/3", "HCl"), Hu),
    row("CoCl2", Sign("it turns black"), Memory),
    row("CoCl2", HazardWords("may cause cancer and impair fertility, may cause allergy by skin contact and \
        asthma by inhalation, suspected of causing genetic defects, very toxic to life in water"), CobaltChlorideSds),
    row("MgCl2", Degree("1"), Nbs),
    row("MgCl2", Degree("2"), Nbs),
    row("MgCl2", Degree("4"), Nbs),
    row("MgCl2", Degree("6"), Nbs),
    row("MgCl2", Plateau("2"), Huang),
    row("MgCl2", Plateau("4"), Huang),
    row("MgCl2", Residue("Mg(OH)Cl", "1", "HCl"), Huang),
    row("MgCl2", MarkedFrom(167), Huang),
    row("MgCl2", Residue("MgO", "1", "HCl"), Huang),
    row("MgCl2", MarkedFrom(415), Huang),
    row("MgCl2", Suited(Unfit, CHLORIDE), Huang),
    row("SrCl2", Degree("1"), Nbs),
    row("SrCl2", Degree("2"), Nbs),
    row("SrCl2", Degree("6"), Nbs),
    row("MnCl2", Degree("1"), Nbs),
    row("MnCl2", Degree("2"), Nbs),
    row("MnCl2", Degree("4"), Nbs),
    row("NiCl2", Degree("2"), Nbs),
    row("NiCl2", Degree("4"), Nbs),
    row("NiCl2", Degree("6"), Nbs),
    row("NiCl2", Plateau("1"), NickelIsothermal),
    row("NiCl2", Residue("NiO", "1", "HCl"), NickelChloride),
    row("NiCl2", MarkedFrom(400), NickelChloride),
    row("CuCl2", Degree("2"), CupricAir),
    row("CuCl2", NoPlateau, CupricAir),
    row("CuCl2", Residue("CuCl", "1", "Cl2"), Cupric),
    row("CuCl2", Residue("CuO", "1", "Cl2"), CupricAir),
    row("CuCl2", Sign("it turns black"), Memory),
    row("CuCl2", HazardWords("harmful if swallowed, irritates eyes and skin, toxic to life in water"), CopperSheet),
    row("FeCl3", Degree("6"), NbsMemory),
    row("FeCl3", Residue("Fe(OH)2Cl", "1", "HCl"), FerricAir),
    row("FeCl3", MarkedFrom(100), FerricAir),
    row("FeCl3", Residue("Fe2O3", "1/2", "HCl"), FerricAir),
    row("FeCl3", MarkedFrom(400), FerricAir),
    row("FeCl3", Sign("it turns red-brown"), Memory),
    row("FeCl3", Suited(Unfit, CHLORIDE), FerricAir),
    row("FeCl2", Degree("2"), Nbs),
    row("FeCl2", Degree("4"), Nbs),
    row("AlCl3", Degree("6"), Nbs),
    row("AlCl3", Residue("Al2O3", "1/2", "HCl"), AluminiumSalts),
    row("AlCl3", Suited(Unfit, CHLORIDE), Practice),
    row("BaBr2", Degree("2"), Nbs),
    row("MgBr2", Degree("6"), Nbs),
    row("NaBr", Degree("2"), Nbs),
    row("LiCl", Degree("1"), NbsMemory),
];
