//! Rules by ions that oxidise or explode.

use super::super::salts::Severity::{Forbidden, FumeCupboard};
use super::rule::Effect::{Risk, Unfit};
use super::rule::{HALIDES, Hydrate, MEMORY, Rule, SaltSet};

/// Ions that oxidise.
#[rustfmt::skip]
const OXIDIZERS: &[&str] = &[
    "NO3", "NO2", "ClO", "ClO2", "ClO3", "ClO4", "BrO", "BrO3", "BrO4", "IO", "IO3", "IO4", "MnO4", "CrO4", "Cr2O7",
    "O2", "S2O8",
];

/// Peroxodisulfates, which a formula that counts atoms does not show.
static PEROXODISULFATES: SaltSet = SaltSet::new(&["Na2S2O8", "K2S2O8", "(NH4)2S2O8"]);

/// Solids that oxidise by a metal in a high oxidation state.
static HIGH_OXIDES: SaltSet = SaltSet::new(&[
    "NaBiO3", "KBiO3", "K2FeO4", "Na2FeO4", "BaFeO4", "Ce(SO4)2", "PbO2",
]);

/// Ions and molecules that burn, apart from organic ones.
#[rustfmt::skip]
const FUELS: &[&str] = &[
    "NH4", "NH3", "NH2", "N2H4", "NH2OH", "H2PO2", "HPO3", "CN", "SCN", "HS", "S2O3", "S2O4",
];

/// Whether something in the solid oxidises what burns.
pub(super) fn oxidizes(hydrate: &Hydrate) -> bool {
    let ions = &hydrate.ions;
    let is_known = hydrate.is_one_of(&HIGH_OXIDES) || hydrate.is_one_of(&PEROXODISULFATES);
    ions.has(OXIDIZERS) || ions.has_element(&["Xe"]) || is_known
}

/// Whether something in the solid burns. A metal that is an element does, too.
pub(super) fn burns(hydrate: &Hydrate) -> bool {
    let ions = &hydrate.ions;
    let is_metal = matches!(ions.elements(), [element] if element.is_metal());
    is_metal || ions.is_organic() || ions.has(FUELS) || ions.has_loose(&["S", "P"])
}

/// Metals that take the oxygen of other oxides, and those oxides.
pub(super) const ACTIVE: &[&str] = &[
    "Al", "Mg", "Ca", "Sr", "Ba", "Be", "Li", "Na", "K", "Zn", "Ti", "Zr", "Si",
];
#[rustfmt::skip]
static GIVE_OXYGEN: SaltSet = SaltSet::new(&[
    "Fe2O3", "Fe3O4", "FeO", "CuO", "Cu2O", "MnO2", "Mn2O3", "Mn3O4", "MnO", "Cr2O3", "NiO", "CoO", "Co3O4", "PbO", "Pb3O4",
    "PbO2", "SnO2", "Ag2O", "Bi2O3", "V2O5", "MoO3", "WO3", "SiO2",
]);

/// Whether the solid is a metal that burns with the oxygen of another oxide.
pub(super) fn takes_oxygen(hydrate: &Hydrate) -> bool {
    matches!(hydrate.ions.elements(), [own] if ACTIVE.contains(&own.symbol()))
}

/// Whether the solid is an oxide that gives its oxygen to such a metal.
pub(super) fn gives_oxygen(hydrate: &Hydrate) -> bool {
    hydrate.ions.has_element(&["O"]) && hydrate.is_one_of(&GIVE_OXYGEN)
}

/// The rule for one solid.
pub(super) const OXIDIZER_WITH_FUEL: Rule = Rule {
    name: "oxidizer_with_fuel",
    applies: |h| oxidizes(h) && burns(h),
    severity: Forbidden,
    effect: Unfit,
    reason: "It holds an oxidiser and something that burns. It can catch fire or explode when it is heated.",
    gases: "",
    source: "National Research Council, Prudent Practices in the Laboratory: Handling and Disposal of Chemicals, \
             1995, p. 171",
};

pub(super) const RULES: &[Rule] = &[
    OXIDIZER_WITH_FUEL,
    Rule {
        name: "explosive",
        applies: |h| h.ions.may_explode(),
        severity: Forbidden,
        effect: Unfit,
        reason: "Its atoms are as in a nitro compound, a picrate or a nitric ester. Many of these explode when they are heated.",
        gases: "",
        source: "CRC Handbook of Chemistry and Physics, section 16, classes of laboratory chemicals that may explode; M. \
                 Matsukawa et al., J. Jpn. Explos. Soc. 65 (1) (lead picrates); which proportions of atoms: common \
                 practice, no source",
    },
    Rule {
        name: "nitrogen_halide",
        applies: |h| {
            let is_halide = h.ions.has_loose(&HALIDES) && h.ions.has_loose(&["N"]);
            let is_other = h.ions.has(&["NH4"]) || h.ions.has_element(&["C", "O", "P", "S", "B"]);
            is_halide && !is_other && !h.ions.has_metal()
        },
        severity: Forbidden,
        effect: Unfit,
        reason: "Compounds of nitrogen with a halogen explode, some at a touch.",
        gases: "",
        source: "CRC Handbook of Chemistry and Physics, section 16, classes of laboratory chemicals that may explode \
                 (N-halogen compounds)",
    },
    Rule {
        name: "xenon",
        applies: |h| h.ions.has_element(&["Xe"]) && h.ions.has_element(&["O"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Compounds of xenon with oxygen can explode. They oxidise strongly.",
        gases: "",
        source: MEMORY,
    },
    Rule {
        name: "high_oxide",
        applies: |h| h.is_one_of(&HIGH_OXIDES),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "It oxidises strongly and can set fire to what burns. Some give off oxygen when they are hot.",
        gases: "O2",
        source: "a chemical dictionary, cerium(IV) sulfate tetrahydrate (keep from what burns); examples of oxidizer \
                 classes (lead dioxide); bismuthates and ferrates: from memory",
    },
    Rule {
        name: "azide",
        applies: |h| h.ions.has(&["N3"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Azides can explode when they are heated or struck.",
        gases: "N2 + HN3",
        source: "a school district's list of prohibited chemicals, secondary science, 2015 (azides of heavy metals)",
    },
    Rule {
        name: "fulminate",
        applies: |h| h.ions.has(&["CNO"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Fulminates explode when they are heated or struck.",
        gases: "",
        source: MEMORY,
    },
    Rule {
        name: "hydrazine",
        applies: |h| h.ions.has(&["N2H4", "NH2OH"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Salts of hydrazine and hydroxylamine are toxic. They can explode when they are heated.",
        gases: "N2H4 + NH3",
        source: "International Chemical Safety Cards 0897 and 0898 (hydroxylamine sulfates); explosion, and hydrazine: from \
                 memory",
    },
    Rule {
        name: "chromate",
        applies: |h| h.ions.has(&["CrO4", "Cr2O7"]),
        severity: Forbidden,
        effect: Risk,
        reason: "Dust of chromates and dichromates causes cancer of the lung. It harms the skin.",
        gases: "",
        source: "National Institute for Occupational Safety and Health: all chromium(VI) compounds are occupational \
                 carcinogens",
    },
    Rule {
        name: "perchlorate",
        applies: |h| h.ions.has(&["ClO4"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Hot perchlorates oxidise strongly. They explode with anything that burns.",
        gases: "O2 + Cl2",
        source: "a fire code's examples of oxidizer classes (perchlorates); safety data sheets of magnesium perchlorate \
                 (H272)",
    },
    Rule {
        name: "chlorate",
        applies: |h| h.ions.has(&["ClO3", "ClO2"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Hot chlorates and chlorites give off oxygen. They may cause fire or explosion.",
        gases: "O2 + ClO2",
        source: "a safety data sheet of potassium chlorate (H271)",
    },
    Rule {
        name: "hypobromite",
        applies: |h| h.ions.has(&["BrO", "IO"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Hypobromites and hypoiodites can decompose violently when they are heated. Bromine and iodine are toxic.",
        gases: "halogen + O2",
        source: MEMORY,
    },
    Rule {
        name: "hypochlorite",
        applies: |h| h.ions.has(&["ClO"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Hypochlorites can decompose violently when they are heated. Chlorine is toxic.",
        gases: "Cl2 + O2",
        source: "International Chemical Safety Card 0638 (calcium hypochlorite); International Maritime Dangerous Goods \
                 Code, special provision 314",
    },
    Rule {
        name: "bromate",
        applies: |h| h.ions.has(&["BrO3", "BrO4"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Hot bromates oxidise strongly. They may cause cancer.",
        gases: "O2 + Br2",
        source: "safety data sheets of potassium bromate (oxidising solid, may cause cancer); a data sheet of inorganic bromates",
    },
    Rule {
        name: "permanganate",
        applies: |h| h.ions.has(&["MnO4"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Hot permanganates give off oxygen and dust. Some decompose explosively.",
        gases: "O2",
        source: "a data sheet of zinc permanganate, fire hazard",
    },
    Rule {
        name: "iodate",
        applies: |h| h.ions.has(&["IO3", "IO4"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Hot iodates and periodates oxidise, and give off oxygen and iodine.",
        gases: "O2 + I2",
        source: "a reference article on potassium iodate (oxidiser, H272, decomposes at 560 °C); the gases: from memory",
    },
    Rule {
        name: "nitrate",
        applies: |h| h.ions.has(&["NO3"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Nitrates decompose and give off oxides of nitrogen, which are toxic.",
        gases: "NO2 + O2",
        source: "International Chemical Safety Card 1000 (lead nitrate), as quoted in a database of occupational hazards",
    },
    Rule {
        name: "nitrite",
        applies: |h| h.ions.has(&["NO2"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Nitrites are toxic. They decompose and give off oxides of nitrogen.",
        gases: "NO2 + NO",
        source: "CLEAPSS, Hazcard 93, sodium and potassium nitrate(III), 2007",
    },
    Rule {
        name: "peroxide",
        applies: |h| h.ions.has(&["O2", "S2O8"]) || h.is_one_of(&PEROXODISULFATES),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Hot peroxides give off oxygen. They can start a fire.",
        gases: "O2",
        source: "a school district's list of prohibited chemicals, secondary science, 2015 (barium peroxide)",
    },
];
