//! Rules by hydrates that melt in their own water.

use super::super::salts::Severity::Care;
use super::rule::Effect::Melts;
use super::rule::{Hydrate, Rule, SaltSet};
use crate::number::Ratio;

/// Salts with a hydrate that melts below 100 °C in its own water.
#[rustfmt::skip]
static MELTING: SaltSet = SaltSet::new(&[
    "KAl(SO4)2", "NaAl(SO4)2", "NH4Al(SO4)2", "KCr(SO4)2", "NH4Cr(SO4)2", "KFe(SO4)2", "NH4Fe(SO4)2", "Al2(SO4)3",
    "Na2CO3", "Na2S2O3", "Na2SO4", "Na2HPO4", "Na3PO4", "Na2HAsO4", "Na2B4O7", "Na2[B4O5(OH)4]", "NaCH3CO2", "KF", "LiNO3", "Na2S", "Na2CrO4",
    "CaCl2", "CaBr2", "SrCl2", "MgCl2", "FeCl3", "AlCl3", "MnCl2", "CoCl2", "NaOH", "Ba(OH)2", "Sr(OH)2",
    "Mg(NO3)2", "Ca(NO3)2", "Zn(NO3)2", "Cu(NO3)2", "Co(NO3)2", "Ni(NO3)2", "Mn(NO3)2", "Cd(NO3)2", "Fe(NO3)3",
    "Al(NO3)3", "Cr(NO3)3", "UO2(NO3)2", "FeSO4", "Pb(CH3COO)2", "LiClO4",
]);

/// Metals of which an atom and one of these share the sulfates of an alum.
const OF_ALUMS: [[&str; 7]; 2] = [
    ["Na", "K", "Rb", "Cs", "Tl", "Ag", "Li"],
    ["Al", "Cr", "Fe", "V", "Ga", "In", "Ti"],
];

/// Whether the hydrate is an alum, such as `CsAl(SO4)2·12H2O`.
fn is_alum(hydrate: &Hydrate) -> bool {
    let ions = &hydrate.ions;
    let [one, three] = &OF_ALUMS;
    let of_one = ions.has_element(one) || ions.has(&["NH4"]);
    ions.has(&["SO4"]) && of_one && ions.has_element(three) && hydrate.has_waters(&Ratio::from(12))
}

pub(super) const RULES: &[Rule] = &[Rule {
    name: "melting",
    applies: |h| is_alum(h) || h.has_much_water() && h.is_one_of(&MELTING),
    severity: Care,
    effect: Melts,
    reason: "The hydrate melts in its own water and spits.",
    gases: "",
    source: "A. Minevich, Y. Marcus, L. Ben-Dor, J. Chem. Eng. Data 2004, 49, 1451 (alum and nitrates); M. Kenisarin, K. \
             Mahkamov, Sol. Energy Mater. Sol. Cells 2016, 255; which salts: from memory",
}];
