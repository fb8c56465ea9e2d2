//! Rules by two solids that are heated together.

use super::super::salts::Severity::{self, Forbidden, FumeCupboard};
use super::gases::{SULFITES, is_acid, is_sulfide, reacts_with_water};
use super::metals::is_metal;
use super::oxidizing::{ACTIVE, OXIDIZER_WITH_FUEL, burns, gives_oxygen, oxidizes, takes_oxygen};
use super::rule::{Hydrate, MEMORY};

/// One rule on two solids, as a row of a table.
pub(super) struct PairRule {
    /// The stable name of the rule.
    pub(super) name: &'static str,
    pub(super) one: fn(&Hydrate) -> bool,
    pub(super) other: fn(&Hydrate) -> bool,
    /// Whether the rule speaks, too, if both are in one of the solids.
    pub(super) within_one: bool,
    pub(super) severity: Severity,
    /// The reason, as sentences.
    pub(super) reason: &'static str,
    /// What leaves besides water, joined by ` + `; empty if nothing does.
    pub(super) gases: &'static str,
    /// The publication, or the words that there is none.
    pub(super) source: &'static str,
}

/// An acid with an ion of which it sets free a toxic gas.
const fn with_acid(
    other: fn(&Hydrate) -> bool,
    severity: Severity,
    gases: &'static str,
    reason: &'static str,
    source: &'static str,
) -> PairRule {
    PairRule {
        name: "acid_with_salt",
        one: is_acid,
        other,
        within_one: false,
        severity,
        reason,
        gases,
        source,
    }
}

pub(super) const RULES: &[PairRule] = &[
    PairRule {
        name: OXIDIZER_WITH_FUEL.name,
        one: oxidizes,
        other: burns,
        within_one: true,
        severity: Forbidden,
        reason: "One is an oxidiser, and one burns. The mixture can catch fire or explode when it is heated.",
        gases: "",
        source: OXIDIZER_WITH_FUEL.source,
    },
    PairRule {
        name: "thermite",
        one: takes_oxygen,
        other: gives_oxygen,
        within_one: false,
        severity: Forbidden,
        reason: "One is a metal that burns with the oxygen of the other. The mixture can catch fire or explode when it is \
                 heated.",
        gases: "",
        source: "Thefreedictionary.com, entry on the thermite reaction (aluminium with an oxide of iron burns very hot); \
                 other metals and oxides: from memory",
    },
    PairRule {
        name: "metal_with_water",
        one: |h| is_metal(h) && h.ions.has_element(ACTIVE),
        other: Hydrate::is_hydrate,
        within_one: false,
        severity: Forbidden,
        reason: "The metal takes oxygen from hot water and from many salts. It gives off hydrogen, and the mixture can catch \
                 fire.",
        gases: "H2",
        source: "CAMEO Chemicals, reactivity of basic salts with very active metals (magnesium with nitrates, phosphates, \
                 sulfates and carbonates); other metals: from memory",
    },
    PairRule {
        name: "water_reactive",
        one: |h| reacts_with_water(h) && !h.is_hydrate(),
        other: Hydrate::is_hydrate,
        within_one: false,
        severity: Forbidden,
        reason: "One reacts violently with the water of the other.",
        gases: "",
        source: "CAMEO Chemicals, aluminum chloride, anhydrous (reacts violently or explosively with water); a university's \
                 list of chemicals that react with water (phosphorus pentoxide); others: from memory",
    },
    with_acid(
        |h| h.ions.has(&["CN", "SCN"]),
        Forbidden,
        "HCN",
        "One is an acid. With it, the other one gives off hydrogen cyanide, which is extremely toxic.",
        "Chemical Laboratory Information Profile, potassium hexacyanoferrate(II) trihydrate, J. Chem. Educ. 2009, 86, 801 \
         (hot acid); CAMEO Chemicals, Reactive Group Datasheet 11: Cyanides, Inorganic",
    ),
    with_acid(
        |h| h.ions.has_element(&["F"]),
        Forbidden,
        "HF",
        "One is an acid. With it, the other one gives off hydrogen fluoride, which burns deep and is toxic.",
        "an encyclopaedia of photography, hydrofluoric acid (made of calcium fluoride and sulfuric acid); CAMEO Chemicals, \
         Reactive Group Datasheet 48: Fluoride Salts, Soluble",
    ),
    with_acid(
        is_sulfide,
        Forbidden,
        "H2S",
        "One is an acid. With it, the other one gives off hydrogen sulfide, which is very toxic.",
        "CLEAPSS, Student safety sheet 59, hydrogen sulfide and other sulfides",
    ),
    with_acid(
        |h| h.ions.has(SULFITES),
        FumeCupboard,
        "SO2",
        "One is an acid. With it, the other one gives off sulfur dioxide, which harms the lungs.",
        "a safety data sheet of potassium sulfite (contact with acids liberates toxic gas)",
    ),
    with_acid(
        |h| h.ions.has(&["NO2", "NO3"]),
        FumeCupboard,
        "NO2",
        "One is an acid. With it, the other one gives off nitric acid or oxides of nitrogen, which are toxic.",
        "a toxicology text on sodium nitrite, which quotes the Hazardous Substances Data Bank (weak acids give brown fumes); nitrates: from \
         memory",
    ),
    with_acid(
        |h| h.ions.has_loose(&["Cl"]),
        FumeCupboard,
        "HCl",
        "One is an acid. With it, the other one gives off hydrogen chloride, which harms the eyes and the lungs.",
        "an encyclopaedia, Mannheim process (sodium hydrogensulfate with sodium chloride)",
    ),
    with_acid(
        |h| h.ions.has_loose(&["Br"]),
        FumeCupboard,
        "HBr",
        "One is an acid. With it, the other one gives off hydrogen bromide, which harms the eyes and the lungs.",
        "an encyclopaedia, hydrogen bromide (acids that do not oxidise set it free from bromides)",
    ),
    with_acid(
        |h| h.ions.has_loose(&["I"]),
        FumeCupboard,
        "HI + I2",
        "One is an acid. With it, the other one gives off hydrogen iodide or iodine, which harm the eyes and the lungs.",
        MEMORY,
    ),
];
