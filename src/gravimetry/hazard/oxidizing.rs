//! Rules by ions that oxidise or explode.

use super::super::salts::Severity::{Forbidden, FumeCupboard};
use super::rule::Effect::{Risk, Unfit};
use super::rule::{Hydrate, MEMORY, Rule};

/// Ions that oxidise.
#[rustfmt::skip]
const OXIDIZERS: &[&str] = &[
    "NO3", "NO2", "ClO", "ClO2", "ClO3", "ClO4", "BrO", "BrO3", "BrO4", "IO", "IO3", "IO4", "MnO4", "CrO4", "Cr2O7",
    "O2", "S2O8",
];

/// Ions and molecules that burn, apart from organic ones.
#[rustfmt::skip]
const FUELS: &[&str] = &[
    "NH4", "NH3", "NH2", "N2H4", "NH2OH", "H2PO2", "HPO3", "CN", "SCN", "[Fe(CN)6]", "HS", "S2O3", "S2O4",
];

fn burns(hydrate: &Hydrate<'_>) -> bool {
    let ions = &hydrate.ions;
    ions.is_organic() || ions.has(FUELS) || ions.has_loose(&["S", "P"])
}

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "oxidizer_with_fuel",
        applies: |h| h.ions.has(OXIDIZERS) && burns(h),
        severity: Forbidden,
        effect: Unfit,
        reason: "it holds an oxidiser together with something that burns, and can catch fire or explode when heated",
        gases: "",
        source: "National Research Council, Prudent Practices in the Laboratory: Handling and Disposal of Chemicals, \
                 1995, p. 171",
    },
    Rule {
        name: "azide",
        applies: |h| h.ions.has(&["N3"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "azides can explode when they are heated or struck",
        gases: "N2 + HN3",
        source: "a school district's list of prohibited chemicals, secondary science, 2015 (azides of heavy metals)",
    },
    Rule {
        name: "fulminate",
        applies: |h| h.ions.has(&["CNO"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "fulminates explode when they are heated or struck",
        gases: "",
        source: MEMORY,
    },
    Rule {
        name: "hydrazine",
        applies: |h| h.ions.has(&["N2H4", "NH2OH"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "salts of hydrazine and hydroxylamine are toxic and can explode when heated",
        gases: "N2H4 + NH3",
        source: MEMORY,
    },
    Rule {
        name: "chromate",
        applies: |h| h.ions.has(&["CrO4", "Cr2O7"]),
        severity: Forbidden,
        effect: Risk,
        reason: "dust of chromates and dichromates causes cancer of the lung, and it harms the skin",
        gases: "",
        source: "National Institute for Occupational Safety and Health: all chromium(VI) compounds are occupational \
                 carcinogens",
    },
    Rule {
        name: "perchlorate",
        applies: |h| h.ions.has(&["ClO4"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "perchlorates oxidise strongly when hot, and explode with anything that burns",
        gases: "O2 + Cl2",
        source: "a fire code's examples of oxidizer classes (perchlorates); safety data sheets of magnesium perchlorate \
                 (H272)",
    },
    Rule {
        name: "chlorate",
        applies: |h| h.ions.has(&["ClO3", "ClO2"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "chlorates and chlorites give off oxygen when hot, and may cause fire or explosion",
        gases: "O2 + ClO2",
        source: "a safety data sheet of potassium chlorate (H271)",
    },
    Rule {
        name: "hypochlorite",
        applies: |h| h.ions.has(&["ClO", "BrO", "IO"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "hypochlorites can decompose violently when heated, and chlorine is toxic",
        gases: "Cl2 + O2",
        source: "International Chemical Safety Card 0638 (calcium hypochlorite); International Maritime Dangerous Goods \
                 Code, special provision 314",
    },
    Rule {
        name: "bromate",
        applies: |h| h.ions.has(&["BrO3", "BrO4"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "bromates oxidise strongly when hot, and may cause cancer",
        gases: "O2 + Br2",
        source: MEMORY,
    },
    Rule {
        name: "permanganate",
        applies: |h| h.ions.has(&["MnO4"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "permanganates give off oxygen and hot dust, and some decompose explosively when heated",
        gases: "O2",
        source: "a data sheet of zinc permanganate, fire hazard",
    },
    Rule {
        name: "iodate",
        applies: |h| h.ions.has(&["IO3", "IO4"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "iodates and periodates oxidise when hot, and give off oxygen and iodine",
        gases: "O2 + I2",
        source: MEMORY,
    },
    Rule {
        name: "nitrate",
        applies: |h| h.ions.has(&["NO3"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "nitrates decompose and give off oxides of nitrogen",
        gases: "NO2 + O2",
        source: "International Chemical Safety Card 1000 (lead nitrate), as quoted in a database of occupational hazards",
    },
    Rule {
        name: "nitrite",
        applies: |h| h.ions.has(&["NO2"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "nitrites are toxic, and decompose into oxides of nitrogen",
        gases: "NO2 + NO",
        source: "CLEAPSS, Hazcard 93, sodium and potassium nitrate(III), 2007",
    },
    Rule {
        name: "peroxide",
        applies: |h| h.ions.has(&["O2", "S2O8"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "peroxides give off oxygen when heated, and can start a fire",
        gases: "O2",
        source: "a school district's list of prohibited chemicals, secondary science, 2015 (barium peroxide)",
    },
];
