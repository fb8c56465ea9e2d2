//! Rules by elements whose salts harm, if no row of the catalogue classifies the salt.

#[cfg(feature = "report")]
use super::super::salts::SaltFacts;
use super::super::salts::Severity::Care;
use super::rule::Effect::Risk;
use super::rule::{HALIDES, Hydrate, Rule};
#[cfg(feature = "report")]
use crate::formula::Formula;

/// Whether the salt has the element, and an anion with which such salts dissolve.
fn is_soluble(hydrate: &Hydrate, element: &str) -> bool {
    let ions = &hydrate.ions;
    let has_anion = ions.has(&["SO4", "HSO4", "NO3", "C2H3O2", "HCOO"]) || ions.has_loose(&HALIDES);
    // A formula that only counts its atoms does not show the sulfate.
    let has_anion = has_anion || ions.has_loose(&["S"]) && ions.has_loose(&["O"]);
    ions.has_element(&[element]) && has_anion && !hydrate.is_classified()
}

/// Whether a salt may cause cancer or genetic defects, or harm fertility or the unborn child, by its hazard statements
/// or by its elements. The elements are those of the rules that say so. What is only suspected does not count.
#[cfg(feature = "report")]
pub(crate) fn may_harm_for_life(formula: &Formula) -> bool {
    const STATEMENTS: [&str; 3] = ["H340", "H350", "H360"];
    let hydrate = Hydrate::new(formula);
    let mut stated = hydrate
        .facts()
        .map_or(&[][..], SaltFacts::hazard_statements)
        .iter();
    let is_grave = |code: &str| STATEMENTS.iter().any(|grave| code.starts_with(grave));
    let has_element = |symbols: &[&str]| hydrate.ions.has_element(symbols);
    stated.any(|own| is_grave(own.value().code()))
        || has_element(&["Be", "As", "Cd", "Co", "Ni", "Pb"])
        || has_element(&["B"]) && has_element(&["O"])
}

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "copper",
        applies: |h| is_soluble(h, "Cu"),
        severity: Care,
        effect: Risk,
        reason: "Soluble salts of copper are harmful if they are swallowed. They may cause serious eye damage. They are very \
                 toxic to life in water, so collect the waste.",
        gases: "",
        source: "CLEAPSS, Student safety sheet 40, copper and its compounds (copper sulfate: H302, H318, H410)",
    },
    Rule {
        name: "zinc",
        applies: |h| is_soluble(h, "Zn"),
        severity: Care,
        effect: Risk,
        reason: "Soluble salts of zinc are harmful if they are swallowed. They may cause serious eye damage. They are very \
                 toxic to life in water, so collect the waste.",
        gases: "",
        source: "a safety data sheet of zinc sulfate (harmful if swallowed, serious damage to eyes, very toxic to aquatic \
                 organisms), which speaks of soluble zinc salts",
    },
    Rule {
        name: "manganese",
        applies: |h| is_soluble(h, "Mn"),
        severity: Care,
        effect: Risk,
        reason: "Soluble salts of manganese harm the eyes. Dust that is inhaled often harms the nerves. They are toxic to \
                 life in water, so collect the waste.",
        gases: "",
        source: "International Chemical Safety Card 0290 (manganese sulfate); a safety data sheet of manganese sulfate \
                 (nerves)",
    },
    Rule {
        name: "boron",
        applies: |h| h.ions.has_element(&["B"]) && h.ions.has_element(&["O"]) && !h.is_classified(),
        severity: Care,
        effect: Risk,
        reason: "Boric acid and borates may damage fertility and the unborn child. Avoid dust.",
        gases: "",
        source: "Swedish Chemicals Agency, report on the harmonised classification of boric acid and borates, 2018 (boric \
                 acid, tetraborates and sodium orthoborate); other borates: from memory",
    },
];
