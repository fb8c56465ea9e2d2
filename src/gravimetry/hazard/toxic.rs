//! Rules by toxic elements.

use super::super::salts::Severity::{self, Care, Forbidden, FumeCupboard};
use super::rule::{Hydrate, MEMORY, SaltSet};
use crate::element::Element;

/// Elements of which no isotope is stable, without bismuth.
#[rustfmt::skip]
const RADIOACTIVE: &[&str] = &[
    "Tc", "Pm", "Po", "At", "Rn", "Fr", "Ra", "Ac", "Th", "Pa", "Np", "Pu", "Am", "Cm", "Bk", "Cf", "Es", "Fm",
    "Md", "No", "Lr",
];

/// Elements whose salts are toxic, heated or not.
pub(super) struct ToxicElements {
    /// The stable name of the rule.
    pub(super) name: &'static str,
    symbols: &'static [&'static str],
    /// Salts that are not toxic, because nothing dissolves them.
    insoluble: Option<&'static SaltSet>,
    pub(super) severity: Severity,
    /// What the salts do, as sentences about them.
    pub(super) reason: &'static str,
    /// The publication, or the words that there is none.
    pub(super) source: &'static str,
}

impl ToxicElements {
    /// The element that makes a salt toxic.
    pub(super) fn found_in(&self, hydrate: &Hydrate) -> Option<Element> {
        let mut elements = hydrate.ions.elements().iter();
        let found = elements.find(|element| self.symbols.contains(&element.symbol()));
        let is_insoluble = |salts| hydrate.is_one_of(salts);
        found
            .copied()
            .filter(|_| !self.insoluble.is_some_and(is_insoluble))
    }
}

/// The salt of barium that does not dissolve.
static BARIUM_SULFATE: SaltSet = SaltSet::new(&["BaSO4"]);

pub(super) static TOXIC: &[ToxicElements] = &[
    ToxicElements {
        name: "beryllium",
        symbols: &["Be"],
        insoluble: None,
        severity: Forbidden,
        reason: "They may cause cancer. Their dust is fatal if it is inhaled.",
        source: "International Chemical Safety Cards 1352 (beryllium nitrate) and 1353 (beryllium carbonate)",
    },
    ToxicElements {
        name: "arsenic",
        symbols: &["As"],
        insoluble: None,
        severity: Forbidden,
        reason: "They may cause cancer and are fatal if they are swallowed. Heat drives off toxic fumes.",
        source: "International Chemical Safety Card 1208 (sodium arsenate)",
    },
    ToxicElements {
        name: "cadmium",
        symbols: &["Cd"],
        insoluble: None,
        severity: Forbidden,
        reason: "They may cause cancer and genetic defects. They harm the kidneys and the bones.",
        source: "International Chemical Safety Card 1318 (cadmium sulfate); a safety data sheet of cadmium sulfate (Carc. 1B)",
    },
    ToxicElements {
        name: "mercury",
        symbols: &["Hg"],
        insoluble: None,
        severity: Forbidden,
        reason: "Heat drives off toxic vapours of mercury. They harm the nerves and the kidneys.",
        source: "International Chemical Safety Card on mercuric chloride; Chemical Laboratory Information Profile, \
                 mercury(II) nitrate monohydrate, J. Chem. Educ. 2003",
    },
    ToxicElements {
        name: "thallium",
        symbols: &["Tl"],
        insoluble: None,
        severity: Forbidden,
        reason: "They are very toxic if they are swallowed or inhaled. They collect in the body.",
        source: "a chemical dictionary, thallium nitrate: EC index 081-002-00-9, R 26/28 and 33",
    },
    ToxicElements {
        name: "uranium",
        symbols: &["U"],
        insoluble: None,
        severity: Forbidden,
        reason: "They are radioactive and harm the kidneys. Their dust must not be inhaled.",
        source: "a university's safety information sheet on uranyl acetate and uranyl nitrate",
    },
    ToxicElements {
        name: "radioactive",
        symbols: RADIOACTIVE,
        insoluble: None,
        severity: Forbidden,
        reason: "They are radioactive.",
        source: MEMORY,
    },
    ToxicElements {
        name: "osmium",
        symbols: &["Os"],
        insoluble: None,
        severity: Forbidden,
        reason: "In air, heat drives off an oxide that blinds.",
        source: "International Chemical Safety Card 0528 (osmium tetroxide)",
    },
    ToxicElements {
        name: "lead",
        symbols: &["Pb"],
        insoluble: None,
        severity: FumeCupboard,
        reason: "They harm the unborn child, the nerves, the blood and the kidneys. Heat drives off toxic fumes.",
        source: "International Chemical Safety Card on lead acetate",
    },
    ToxicElements {
        name: "nickel",
        symbols: &["Ni"],
        insoluble: None,
        severity: FumeCupboard,
        reason: "Their dust may cause cancer and asthma if it is inhaled. They may cause allergy of the skin.",
        source: "International Chemical Safety Card 0063 (nickel sulfate); a maker's data sheet on nickel chloride, \
                 which quotes the International Agency for Research on Cancer",
    },
    ToxicElements {
        name: "cobalt",
        symbols: &["Co"],
        insoluble: None,
        severity: FumeCupboard,
        reason: "Their dust may cause cancer and asthma if it is inhaled. They may cause allergy of the skin.",
        source: "safety data sheets of a drying agent and of a solution with cobalt chloride: may cause cancer by \
                 inhalation, and sensitization",
    },
    ToxicElements {
        name: "vanadium",
        symbols: &["V"],
        insoluble: None,
        severity: FumeCupboard,
        reason: "In air, heat leaves an oxide whose dust harms the lungs.",
        source: "a reference article on vanadium compounds; a safety data sheet of vanadium pentoxide (danger of serious damage \
                 to health by prolonged exposure through inhalation)",
    },
    ToxicElements {
        name: "antimony",
        symbols: &["Sb"],
        insoluble: None,
        severity: FumeCupboard,
        reason: "They are corrosive and irritant. They cause cancer in animals.",
        source: "a school district's list of prohibited chemicals, secondary science, 2015",
    },
    ToxicElements {
        name: "selenium",
        symbols: &["Se", "Te"],
        insoluble: None,
        severity: FumeCupboard,
        reason: "Heat drives off harmful vapours.",
        source: "a safety data sheet of selenium dioxide (toxic by inhalation and if swallowed); tellurium: from memory",
    },
    ToxicElements {
        name: "barium",
        symbols: &["Ba"],
        insoluble: Some(&BARIUM_SULFATE),
        severity: Care,
        reason: "If they are swallowed or inhaled, they harm the gut, the heart and the muscles.",
        source: "ATSDR, Medical management guidelines for barium and selected barium compounds",
    },
];
