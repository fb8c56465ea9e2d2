//! Rules by metals that are elements, and by metals that need words of their own.

use super::super::salts::Severity::{Care, Forbidden, FumeCupboard};
use super::rule::Effect::{Risk, Unfit};
use super::rule::{HALIDES, Hydrate, PRACTICE, Rule};

/// Metals that react with cold water.
const WITH_COLD_WATER: [&str; 8] = ["Li", "Na", "K", "Rb", "Cs", "Ca", "Sr", "Ba"];

/// Whether the solid is a metal that is an element.
pub(super) fn is_metal(hydrate: &Hydrate) -> bool {
    matches!(hydrate.ions.elements(), [own] if own.is_metal())
}

fn reacts_with_cold_water(hydrate: &Hydrate) -> bool {
    is_metal(hydrate) && hydrate.ions.has_element(&WITH_COLD_WATER)
}

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "water_reactive",
        applies: reacts_with_cold_water,
        severity: Forbidden,
        effect: Unfit,
        reason: "The metal reacts with water, that of a hydrate included. It gives off hydrogen and can catch fire.",
        gases: "H2",
        source: "a school authority's list of chemicals (active metals: calcium, lithium, potassium, sodium, strontium); \
                 CAMEO Chemicals, reactivity of water with very active metals",
    },
    Rule {
        name: "metal",
        applies: |h| is_metal(h) && !reacts_with_cold_water(h),
        severity: Care,
        effect: Unfit,
        reason: "Most metals take up oxygen when they are hot. A powder can catch fire.",
        gases: "",
        source: PRACTICE,
    },
    Rule {
        name: "platinum",
        applies: |h| h.ions.has_element(&["Pt"]) && h.ions.has_loose(&HALIDES),
        severity: FumeCupboard,
        effect: Risk,
        reason: "Chloroplatinates are toxic if they are swallowed. They harm the eyes for good. They cause asthma and \
                 allergy of the skin.",
        gases: "",
        source: "safety data sheets of potassium tetrachloroplatinate(II) and of chloroplatinic acid hydrate (toxic if \
                 swallowed, serious damage to eyes, sensitisation by inhalation and skin contact)",
    },
];
