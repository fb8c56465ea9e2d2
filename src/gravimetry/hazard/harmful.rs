//! Rules by elements whose salts harm, if no row of the catalogue classifies the salt.

use super::super::salts::Severity::Care;
use super::rule::Effect::Risk;
use super::rule::{HALIDES, Hydrate, Rule};

/// Whether the salt has the element, and an anion with which such salts dissolve.
fn is_soluble(hydrate: &Hydrate, element: &str) -> bool {
    let ions = &hydrate.ions;
    let has_anion = ions.has(&["SO4", "HSO4", "NO3", "C2H3O2", "HCOO"]) || ions.has_loose(&HALIDES);
    // A formula that only counts its atoms does not show the sulfate.
    let has_anion = has_anion || ions.has_loose(&["S"]) && ions.has_loose(&["O"]);
    ions.has_element(&[element]) && has_anion && !hydrate.is_classified()
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
