//! Rules by ions from which heat or acid drives off more than water.

use super::super::salts::Severity::{Care, Forbidden, FumeCupboard, Ordinary};
use super::rule::Effect::{Risk, Unfit};
use super::rule::{HALIDES, Hydrate, MEMORY, PRACTICE, Rule, SaltSet};

/// Metals whose hydrated halides lose hydrogen halide before all water is gone.
#[rustfmt::skip]
const HYDROLYSED: &[&str] = &[
    "Be", "Mg", "Al", "Ga", "In", "Sc", "Y", "La", "Ce", "Pr", "Nd", "Sm", "Eu", "Gd", "Tb", "Dy", "Ho", "Er", "Tm",
    "Yb", "Lu", "Ti", "Zr", "Hf", "Th", "U", "V", "Nb", "Ta", "Cr", "Mo", "W", "Re", "Fe", "Zn", "Ge", "Sn", "Sb",
    "Bi", "Ru", "Rh", "Pd", "Os", "Ir", "Pt", "Au", "Si", "B", "P", "Te",
];

const HYDROLYSIS: &str = "Q.-Z. Huang et al., J. Inorg. Mater. 2010 (MgCl2); The thermal decomposition of the heavier rare \
    earth metal chloride hydrates, J. Inorg. Nucl. Chem. 9; E. Barraud et al., J. Solid State Chem. 2006 (HfCl4)";

fn is_hydrolysed(hydrate: &Hydrate, halogen: &str) -> bool {
    hydrate.ions.has_loose(&[halogen]) && hydrate.ions.has_element(HYDROLYSED)
}

/// Metals whose anhydrous halides give off halogen or hydrogen halide if they are heated further in air.
const OVERHEATED: [&str; 5] = ["Mn", "Co", "Ni", "Cu", "Cd"];

fn is_overheated(hydrate: &Hydrate, halogen: &str) -> bool {
    hydrate.ions.has_loose(&[halogen]) && hydrate.ions.has_element(&OVERHEATED)
}

/// Metals whose carbonates a burner does not decompose.
const STABLE_CARBONATES: [&str; 6] = ["Na", "K", "Rb", "Cs", "Ba", "Sr"];

/// Metals whose hydroxides are strong bases.
const STRONG_BASES: [&str; 9] = ["Li", "Na", "K", "Rb", "Cs", "Ca", "Sr", "Ba", "Tl"];

/// Chlorides and the like that react violently with water if they are dry.
#[rustfmt::skip]
static VIOLENT_HALIDES: SaltSet = SaltSet::new(&[
    "AlCl3", "AlBr3", "AlI3", "TiCl4", "SnCl4", "SiCl4", "ZrCl4", "BCl3", "BBr3", "PCl3", "PCl5", "SbCl5",
]);

/// Oxides that react violently with water.
static VIOLENT_OXIDES: SaltSet = SaltSet::new(&["P4O10", "Na2O", "K2O", "Li2O", "Rb2O", "Cs2O"]);

/// Carbides that give off a gas that burns with water.
static CARBIDES: SaltSet = SaltSet::new(&["CaC2", "SrC2", "BaC2", "Na2C2", "Al4C3"]);

/// The fluoride that does not dissolve.
static CALCIUM_FLUORIDE: SaltSet = SaltSet::new(&["CaF2"]);

/// Elements that bind hydroxide in a mineral or in a complex ion, such as `[Sn(OH)6]`.
const BIND_HYDROXIDE: [&str; 10] = ["B", "C", "Si", "P", "S", "Ge", "Sn", "Sb", "Te", "Pt"];

/// Whether a hydroxide is a strong base: of such a metal, or of a quaternary ammonium ion.
fn is_strong_base(hydrate: &Hydrate) -> bool {
    let ions = &hydrate.ions;
    let is_quaternary = ions.has_loose(&["N"]) && ions.has_element(&["C"]) && !ions.has_metal();
    let is_of_metal = ions.has_element(&STRONG_BASES) && !ions.has_element(&BIND_HYDROXIDE);
    ions.has(&["OH"]) && (is_of_metal || is_quaternary)
}

pub(super) fn is_sulfide(hydrate: &Hydrate) -> bool {
    let ions = &hydrate.ions;
    ions.has(&["HS"]) || ions.has_loose(&["S"]) && !ions.has_loose(&["O"])
}

/// Whether a sulfide is one of ammonium or of a metal whose hydroxide is a strong base.
fn is_soluble_sulfide(hydrate: &Hydrate) -> bool {
    hydrate.ions.has_element(&STRONG_BASES) || hydrate.ions.has(&["NH4"])
}

/// Whether the solid gives off an acid or is one, apart from salts of ammonium.
fn is_loose_acid(h: &Hydrate) -> bool {
    let anion = h.ions.has_loose(&HALIDES) || !h.ions.has(&["NH4"]);
    let is_acid = anion && !h.ions.is_organic() && !is_boric_acid(h);
    h.ions.has_loose(&["H"]) && !h.ions.has_metal() && is_acid
}

/// Organic acids that are solids.
#[rustfmt::skip]
static ORGANIC_ACIDS: SaltSet = SaltSet::new(&[
    "H2C2O4", "C6H8O7", "C4H6O6", "C4H6O5", "C4H4O4", "C4H6O4", "C3H4O4", "C7H6O2", "C7H6O3", "C6H8O6",
]);

/// Whether the solid is an acid that sets free the acid of another salt.
pub(super) fn is_acid(hydrate: &Hydrate) -> bool {
    let ions = &hydrate.ions;
    let is_acid_salt = ions.has(&["HSO4", "S2O7", "HC2O4", "H2PO4", "C4H5O6"]);
    is_acid_salt || is_loose_acid(hydrate) || hydrate.is_one_of(&ORGANIC_ACIDS)
}

/// Whether there is only boron, hydrogen and oxygen. Boric acid is weak.
fn is_boric_acid(hydrate: &Hydrate) -> bool {
    let mut elements = hydrate.ions.elements().iter();
    elements.all(|element| ["B", "H", "O"].contains(&element.symbol()))
        && hydrate.ions.has_element(&["B"])
}

fn is_carbide(hydrate: &Hydrate) -> bool {
    hydrate.ions.has_element(&["C"]) && hydrate.is_one_of(&CARBIDES)
}

fn is_violent_halide(hydrate: &Hydrate) -> bool {
    hydrate.ions.has_loose(&HALIDES) && hydrate.is_one_of(&VIOLENT_HALIDES)
}

/// Whether the dry salt reacts violently with water.
pub(super) fn reacts_with_water(hydrate: &Hydrate) -> bool {
    is_violent_halide(hydrate) || is_carbide(hydrate) || hydrate.is_one_of(&VIOLENT_OXIDES)
}

/// Organic ions of the tables apart from oxalate.
#[rustfmt::skip]
const OTHER_ORGANIC: &[&str] = &[
    "HC2O4", "HCOO", "C2H3O2", "C4H4O6", "C4H5O6", "C6H5O7", "C3H5O3", "C7H5O2",
];

/// Whether an oxalate of metals has no other carbon. It decomposes to oxides of carbon alone.
fn is_metal_oxalate(hydrate: &Hydrate) -> bool {
    let ions = &hydrate.ions;
    let has_more = ions.has(OTHER_ORGANIC) || ions.has_loose(&["C", "H"]) || ions.is_inferred();
    ions.has(&["C2O4"]) && hydrate.ions.has_metal() && !has_more
}

/// Ions that give off sulfur dioxide.
pub(super) const SULFITES: &[&str] = &["SO3", "HSO3", "S2O3", "S2O4", "S2O5", "S2O6"];

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "dithionite",
        applies: |h| h.ions.has(&["S2O4"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "It heats itself in air or with a little water, and can catch fire. It gives off sulfur dioxide.",
        gases: "SO2",
        source: "International Chemical Safety Card 1717 (sodium dithionite: combustible, heats itself, no water)",
    },
    Rule {
        name: "carbon_disulfide",
        applies: |h| h.ions.has(&["CS2"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Acid or heat sets free carbon disulfide, which is toxic and catches fire very easily.",
        gases: "CS2",
        source: "CAMEO Chemicals, Reactive Group Datasheet 12: Thiocarbamate Esters and Salts",
    },
    Rule {
        name: "cyanide",
        applies: |h| h.ions.has(&["CN"]) && !h.ions.is_hexacyanoferrate(),
        severity: Forbidden,
        effect: Unfit,
        reason: "Cyanides are extremely toxic. Heat, moisture or acid sets free hydrogen cyanide.",
        gases: "HCN",
        source: "CAMEO Chemicals, Reactive Group Datasheet 11: Cyanides, Inorganic",
    },
    Rule {
        name: "hexacyanoferrate",
        applies: |h| h.ions.is_hexacyanoferrate(),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Strong heat or hot acid sets free hydrogen cyanide, which is extremely toxic. The salt itself is hardly toxic.",
        gases: "HCN",
        source: "Chemical Laboratory Information Profile, potassium hexacyanoferrate(II) trihydrate, J. Chem. Educ. 2009, \
                 86, 801",
    },
    Rule {
        name: "thiocyanate",
        applies: |h| h.ions.has(&["SCN"]),
        severity: Forbidden,
        effect: Unfit,
        reason: "Heated thiocyanates give off toxic fumes, including hydrogen cyanide and sulfur dioxide.",
        gases: "HCN + SO2",
        source: "International Chemical Safety Card 1671 (thiocyanic acid); a supplier's guide to thiocyanates",
    },
    Rule {
        name: "cyanate",
        applies: |h| h.ions.has(&["OCN"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Cyanates react with hot water and give off ammonia and carbon dioxide.",
        gases: "NH3 + CO2",
        source: MEMORY,
    },
    Rule {
        name: "fluoride",
        applies: |h| h.ions.has_element(&["F"]) && !h.is_one_of(&CALCIUM_FLUORIDE),
        severity: Forbidden,
        effect: Unfit,
        reason: "Fluorides are toxic. With hot water they give hydrogen fluoride, which burns deep and attacks glass.",
        gases: "HF",
        source: "CAMEO Chemicals, Reactive Group Datasheet 48: Fluoride Salts, Soluble",
    },
    Rule {
        name: "calcium_fluoride",
        applies: |h| h.is_one_of(&CALCIUM_FLUORIDE),
        severity: Care,
        effect: Risk,
        reason: "It does not dissolve and is less toxic than other fluorides. Hot acid sets free hydrogen fluoride.",
        gases: "",
        source: "European Food Safety Authority, as quoted in a comparison with sodium fluoride; hot acid: from memory",
    },
    Rule {
        name: "carbonyl",
        applies: |h| h.ions.has(&["CO"]) && h.ions.has_metal(),
        severity: Forbidden,
        effect: Unfit,
        reason: "Metal carbonyls give off carbon monoxide and vapours that are extremely toxic.",
        gases: "CO",
        source: "Encyclopaedia of Occupational Health and Safety, Metal carbonyls (especially nickel carbonyl)",
    },
    Rule {
        name: "hydride",
        applies: |h| {
            let is_hydride = h.ions.has_loose(&["H"]) && !h.ions.has_loose(&HALIDES);
            let burns = h.ions.has(&["NH2"]) || is_hydride;
            burns && h.ions.has_metal() && !h.ions.has_element(&["O", "S", "F", "C"])
        },
        severity: Forbidden,
        effect: Unfit,
        reason: "Hydrides and amides of metals react with water and can catch fire.",
        gases: "H2",
        source: "a school authority's list of chemicals, hydrides (react with water, not recommended for schools); amides: from \
                 memory",
    },
    Rule {
        name: "water_reactive",
        applies: is_violent_halide,
        severity: FumeCupboard,
        effect: Risk,
        reason: "Dry, it reacts violently with water. It gives off hydrogen chloride, or hydrogen bromide or iodide. It \
                 burns the skin and the eyes. Do not add water to it.",
        gases: "",
        source: "CAMEO Chemicals, aluminum chloride, anhydrous (reacts violently or explosively with water); International \
                 Chemical Safety Card 1125 (no contact with water); other halides: from memory",
    },
    Rule {
        name: "water_reactive",
        applies: is_carbide,
        severity: Forbidden,
        effect: Unfit,
        reason: "With water or damp air it gives off acetylene or methane, which can catch fire or explode. Do not add water \
                 to it.",
        gases: "",
        source: "International Chemical Safety Card 0406 (calcium carbide); other carbides: from memory",
    },
    Rule {
        name: "water_reactive",
        applies: |h| h.is_one_of(&VIOLENT_OXIDES),
        severity: FumeCupboard,
        effect: Risk,
        reason: "It reacts violently with water. It burns the skin and the eyes.",
        gases: "",
        source: "a university's list of chemicals that react with water (phosphorus pentoxide); oxides of alkali metals: from \
                 memory",
    },
    Rule {
        name: "nitride",
        applies: |h| {
            h.ions.has_loose(&["N"]) && h.ions.has_metal() && !h.ions.has_element(&["O", "C", "H"])
        },
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Nitrides of metals give off ammonia with water.",
        gases: "NH3",
        source: MEMORY,
    },
    Rule {
        name: "phosphine",
        applies: |h| {
            let is_phosphide =
                h.ions.has_loose(&["P"]) && !h.ions.has_element(&["O", "F", "Cl", "Br", "I"]);
            h.ions.has(&["H2PO2", "HPO3"]) || is_phosphide
        },
        severity: Forbidden,
        effect: Unfit,
        reason: "Heat or water sets free phosphine, which is very toxic and catches fire in air.",
        gases: "PH3",
        source: "a chemical dictionary, sodium phosphinate hydrate: decomposes at 150 °C to 250 °C, to phosphine and other gases",
    },
    Rule {
        name: "sulfide",
        applies: |h| is_sulfide(h) && is_soluble_sulfide(h),
        severity: Forbidden,
        effect: Unfit,
        reason: "Sulfides that dissolve are corrosive. Moisture or acid sets free hydrogen sulfide, which is very toxic.",
        gases: "H2S + SO2",
        source: "CLEAPSS, Student safety sheet 59, hydrogen sulfide and other sulfides; National Industrial Chemicals \
                 Notification and Assessment Scheme, Soluble sulfide salts, 2015",
    },
    Rule {
        name: "sulfide",
        applies: |h| is_sulfide(h) && !is_soluble_sulfide(h),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Sulfides give off hydrogen sulfide, which is very toxic, or burn to sulfur dioxide.",
        gases: "H2S + SO2",
        source: "a chemical dictionary, sodium hydrosulfide: decomposes to hydrogen sulfide",
    },
    Rule {
        name: "oxalate",
        applies: |h| h.ions.has(&["C2O4", "HC2O4"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Oxalates are harmful. They give off carbon monoxide, which is toxic and has no smell.",
        gases: "CO + CO2",
        source: "a maker's notes on oxalic acid (carbon dioxide, carbon monoxide and water above 189 °C); International \
                 Chemical Safety Card 0707 (oxalic acid dihydrate)",
    },
    Rule {
        name: "formate",
        applies: |h| h.ions.has(&["HCOO"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Formates give off carbon monoxide, which is toxic and has no smell.",
        gases: "CO + CO2",
        source: MEMORY,
    },
    Rule {
        name: "ammonium",
        applies: |h| h.ions.has(&["NH4", "NH3"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Heat drives off ammonia, which harms the eyes and the lungs.",
        gases: "NH3",
        source: PRACTICE,
    },
    Rule {
        name: "halide",
        applies: |h| is_hydrolysed(h, "Cl"),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Hydrogen chloride leaves with the water.",
        gases: "HCl",
        source: HYDROLYSIS,
    },
    Rule {
        name: "halide",
        applies: |h| is_hydrolysed(h, "Br"),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Hydrogen bromide leaves with the water.",
        gases: "HBr",
        source: MEMORY,
    },
    Rule {
        name: "halide",
        applies: |h| is_hydrolysed(h, "I"),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Hydrogen iodide leaves with the water.",
        gases: "HI",
        source: MEMORY,
    },
    Rule {
        name: "overheated_halide",
        applies: |h| is_overheated(h, "Br"),
        severity: FumeCupboard,
        effect: Risk,
        reason: "If it is heated too far in air, it gives off bromine or hydrogen bromide.",
        gases: "Br2 + HBr",
        source: "CAMEO Chemicals, cobaltous bromide (toxic fumes of bromine when it decomposes); hydrogen bromide, and other \
                 metals: from memory",
    },
    Rule {
        name: "overheated_halide",
        applies: |h| is_overheated(h, "I"),
        severity: FumeCupboard,
        effect: Risk,
        reason: "If it is heated too far in air, it gives off iodine or hydrogen iodide.",
        gases: "I2 + HI",
        source: MEMORY,
    },
    Rule {
        name: "overheated_halide",
        applies: |h| is_overheated(h, "Cl"),
        severity: FumeCupboard,
        effect: Risk,
        reason: "If it is heated too far in air, it gives off chlorine or hydrogen chloride.",
        gases: "Cl2 + HCl",
        source: "dehydration and decomposition of CuCl2·2H2O in air and nitrogen, journal abstract; L. Hu et al., Inorg. \
                 Chem. Ind. 2010 (CoCl2); a maker's data sheet on nickel chloride. Chlorine from CoCl2: from memory",
    },
    Rule {
        name: "halogen",
        applies: |h| matches!(h.ions.elements(), [own] if HALIDES.contains(&own.symbol())),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Chlorine, bromine and iodine are toxic. They leave with the water, or before it.",
        gases: "halogen",
        source: MEMORY,
    },
    Rule {
        name: "iodide",
        applies: |h| h.ions.has_loose(&["I"]) && !h.ions.has(&["IO3", "IO4"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Air sets free iodine from a hot iodide. The vapour is harmful.",
        gases: "I2",
        source: MEMORY,
    },
    Rule {
        name: "sulfite",
        applies: |h| h.ions.has(SULFITES),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Sulfites and thiosulfates give off sulfur dioxide, and take up oxygen from the air.",
        gases: "SO2",
        source: "a safety data sheet of potassium sulfite (contact with acids liberates toxic gas); decomposition: from \
                 memory",
    },
    Rule {
        name: "hydrogensulfate",
        applies: |h| h.ions.has(&["HSO4", "S2O7"]),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Hydrogensulfates are corrosive. They lose more than their water, and then give off sulfur trioxide.",
        gases: "SO3",
        source: "an encyclopaedia, hydrogen sulfates: they melt to disulfates, which lose SO3 on further heating",
    },
    Rule {
        name: "acid",
        applies: is_loose_acid,
        severity: FumeCupboard,
        effect: Unfit,
        reason: "An acid is corrosive. It leaves with the water as a vapour or a mist.",
        gases: "acid vapour",
        source: MEMORY,
    },
    Rule {
        name: "organic",
        applies: |h| h.ions.is_organic() && !is_metal_oxalate(h) && !is_carbide(h),
        severity: FumeCupboard,
        effect: Unfit,
        reason: "Organic ions decompose in a flame. Many of them char, and many give off vapours that burn.",
        gases: "organic vapours + CO2",
        source: "International Chemical Safety Card on lead acetate (acetic acid); otherwise common practice, no source",
    },
    Rule {
        name: "strong_base",
        applies: is_strong_base,
        severity: Care,
        effect: Unfit,
        reason: "The hydroxide is corrosive and spits when it melts. It takes up carbon dioxide from the air.",
        gases: "",
        source: "a data page on lithium hydroxide (corrosive, takes up carbon dioxide from the air); other bases: from memory",
    },
    Rule {
        name: "hydroxide",
        applies: |h| h.ions.has(&["OH"]) && h.ions.has_metal() && !is_strong_base(h),
        severity: Ordinary,
        effect: Unfit,
        reason: "A hydroxide loses water of its own. So the loss is not water of crystallization alone.",
        gases: "",
        source: MEMORY,
    },
    Rule {
        name: "hydrogencarbonate",
        applies: |h| h.ions.has(&["HCO3"]),
        severity: Ordinary,
        effect: Unfit,
        reason: "A hydrogencarbonate loses carbon dioxide, and water of its own.",
        gases: "CO2",
        source: MEMORY,
    },
    Rule {
        name: "carbonate",
        applies: |h| {
            let mut metals = h
                .ions
                .elements()
                .iter()
                .filter(|element| element.is_metal());
            h.ions.has(&["CO3"]) && metals.any(|e| !STABLE_CARBONATES.contains(&e.symbol()))
        },
        severity: Ordinary,
        effect: Unfit,
        reason: "A burner decomposes most carbonates. Carbon dioxide leaves.",
        gases: "CO2",
        source: "course notes on the thermal decomposition of metal carbonates (those of sodium and potassium stand a burner); \
                 others: from memory",
    },
    Rule {
        name: "hydrogenphosphate",
        applies: |h| h.ions.has(&["HPO4", "H2PO4"]),
        severity: Ordinary,
        effect: Risk,
        reason: "If it is heated too far, a hydrogenphosphate loses water of its own.",
        gases: "",
        source: MEMORY,
    },
];
