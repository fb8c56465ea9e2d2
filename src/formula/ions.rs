//! The tables of metals, ions, molecules and common names.
//!
//! Sources. Names: Nomenclature of Inorganic Chemistry, IUPAC Recommendations 2005, Tables IR-8.1,
//! IR-8.2 and IX, from memory; that `hydrogencarbonate` and `dihydrogenphosphate` are accepted
//! was read there in IR-5.3.3, and the names of adducts in IR-5.5. Charges: general knowledge of
//! the elements, from memory. Older and other names: common practice, no source.

use crate::element::Element;

/// A metal and the charges of its ions.
pub(super) struct Metal {
    pub(super) symbol: &'static str,
    /// The usual charges. If there is only one, a name need not give it.
    pub(super) common: &'static [u8],
    /// Charges that are read only if the name gives them.
    pub(super) rare: &'static [u8],
    /// Whether a written name gives the charge.
    pub(super) numbered: bool,
}

impl Metal {
    pub(super) fn name(&self) -> &'static str {
        Element::from_symbol(self.symbol).map_or(self.symbol, Element::name)
    }

    pub(super) fn charges(&self) -> impl Iterator<Item = u8> + '_ {
        self.common.iter().chain(self.rare).copied()
    }

    pub(super) fn has(&self, charge: u8) -> bool {
        self.charges().any(|known| known == charge)
    }

    pub(super) fn of(symbol: &str) -> Option<&'static Metal> {
        METALS.iter().find(|metal| metal.symbol == symbol)
    }
}

/// A metal with one charge, which names leave out.
const fn one(symbol: &'static str, common: &'static [u8]) -> Metal {
    Metal {
        symbol,
        common,
        rare: &[],
        numbered: false,
    }
}

/// A metal with several charges, or with one that names give nevertheless.
const fn several(symbol: &'static str, common: &'static [u8], rare: &'static [u8]) -> Metal {
    Metal {
        symbol,
        common,
        rare,
        numbered: true,
    }
}

#[rustfmt::skip]
pub(super) const METALS: &[Metal] = &[
    one("Li", &[1]), one("Na", &[1]), one("K", &[1]), one("Rb", &[1]), one("Cs", &[1]),
    one("Be", &[2]), one("Mg", &[2]), one("Ca", &[2]), one("Sr", &[2]), one("Ba", &[2]),
    one("Ra", &[2]),
    one("Al", &[3]), one("Ga", &[3]),
    one("Sc", &[3]), one("Y", &[3]), one("La", &[3]),
    one("Zn", &[2]), one("Cd", &[2]), one("Ag", &[1]),
    one("Pr", &[3]), one("Nd", &[3]), one("Gd", &[3]), one("Tb", &[3]), one("Dy", &[3]),
    one("Ho", &[3]), one("Er", &[3]), one("Tm", &[3]), one("Lu", &[3]),
    one("Zr", &[4]), one("Hf", &[4]), one("Th", &[4]),
    several("Ti", &[3, 4], &[2]),
    several("V", &[2, 3, 4, 5], &[]),
    several("Nb", &[5], &[3, 4]),
    several("Ta", &[5], &[4]),
    several("Cr", &[2, 3], &[4, 6]),
    several("Mo", &[4, 6], &[2, 3, 5]),
    several("W", &[4, 6], &[2, 5]),
    several("Mn", &[2, 3, 4], &[7]),
    several("Re", &[3, 4, 5, 6, 7], &[]),
    several("Fe", &[2, 3], &[]),
    several("Co", &[2, 3], &[]),
    several("Ni", &[2], &[3]),
    several("Cu", &[1, 2], &[]),
    several("Ru", &[3, 4], &[8]),
    several("Rh", &[3], &[]),
    several("Pd", &[2, 4], &[]),
    several("Os", &[4, 8], &[]),
    several("Ir", &[3, 4], &[]),
    several("Pt", &[2, 4], &[]),
    several("Au", &[1, 3], &[]),
    several("Hg", &[1, 2], &[]),
    several("In", &[1, 3], &[]),
    several("Tl", &[1, 3], &[]),
    several("Sn", &[2, 4], &[]),
    several("Pb", &[2, 4], &[]),
    several("Bi", &[3], &[5]),
    several("Sb", &[3, 5], &[]),
    several("Ge", &[2, 4], &[]),
    several("Ce", &[3, 4], &[]),
    several("Sm", &[2, 3], &[]),
    several("Eu", &[2, 3], &[]),
    several("Yb", &[2, 3], &[]),
    several("U", &[4, 6], &[3, 5]),
];

/// An ion of several atoms, or an anion of one.
pub(super) struct Ion {
    pub(super) name: &'static str,
    pub(super) formula: &'static str,
    /// The size of the charge, without its sign.
    pub(super) charge: u8,
    /// Other ways to write the formula.
    pub(super) spellings: &'static [&'static str],
    /// Other names.
    pub(super) names: &'static [(&'static str, Usage)],
}

impl Ion {
    /// Whether the ion is a single atom, so that a count needs no brackets.
    pub(super) fn is_atom(&self) -> bool {
        Element::from_symbol(self.formula).is_some()
    }

    /// Whether this text is the formula, apart from brackets around the whole.
    pub(super) fn is_written(&self, text: &str) -> bool {
        let bare = self
            .formula
            .strip_prefix('[')
            .and_then(|f| f.strip_suffix(']'));
        bare.unwrap_or(self.formula) == text || self.spellings.contains(&text)
    }
}

/// How a name compares with that of the recommendations.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Usage {
    /// The same name.
    Current,
    /// The same name in another spelling, or another systematic name.
    Other,
    /// A name of former times.
    Old,
    /// A common name of a whole salt.
    Common,
    /// A charge without its brackets.
    Bare,
}

use Usage::{Old, Other};

const fn ion(name: &'static str, formula: &'static str, charge: u8) -> Ion {
    Ion {
        name,
        formula,
        charge,
        spellings: &[],
        names: &[],
    }
}

impl Ion {
    const fn also_written(mut self, spellings: &'static [&'static str]) -> Ion {
        self.spellings = spellings;
        self
    }

    const fn also_called(mut self, names: &'static [(&'static str, Usage)]) -> Ion {
        self.names = names;
        self
    }
}

/// The mercury(I) ion, which is a pair of atoms.
pub(super) const DIMERCURY: &str = "Hg2";

#[rustfmt::skip]
pub(super) const CATIONS: &[Ion] = &[
    ion("ammonium", "NH4", 1).also_written(&["H4N"]),
    ion("mercury(I)", DIMERCURY, 2),
    ion("uranyl", "UO2", 2),
    ion("vanadyl", "VO", 2),
    ion("titanyl", "TiO", 2),
    ion("zirconyl", "ZrO", 2),
];

#[rustfmt::skip]
pub(super) const ANIONS: &[Ion] = &[
    // Of one atom.
    ion("hydride", "H", 1),
    ion("fluoride", "F", 1),
    ion("chloride", "Cl", 1),
    ion("bromide", "Br", 1),
    ion("iodide", "I", 1),
    ion("oxide", "O", 2),
    ion("sulfide", "S", 2),
    ion("selenide", "Se", 2),
    ion("telluride", "Te", 2),
    ion("nitride", "N", 3),
    ion("phosphide", "P", 3),
    ion("arsenide", "As", 3),
    ion("antimonide", "Sb", 3),
    // Oxygen and hydrogen.
    ion("peroxide", "O2", 2),
    ion("superoxide", "O2", 1).also_called(&[("hyperoxide", Old)]),
    ion("hydroxide", "OH", 1).also_written(&["HO"]),
    ion("hydrogensulfide", "HS", 1).also_written(&["SH"]).also_called(&[("bisulfide", Old), ("hydrosulfide", Old)]),
    // Nitrogen.
    ion("azide", "N3", 1),
    ion("amide", "NH2", 1),
    ion("nitrite", "NO2", 1).also_called(&[("nitrate(III)", Other)]),
    ion("nitrate", "NO3", 1).also_called(&[("nitrate(V)", Other)]),
    // Carbon.
    ion("cyanide", "CN", 1).also_written(&["NC"]),
    ion("cyanate", "OCN", 1).also_written(&["NCO"]),
    ion("thiocyanate", "SCN", 1).also_written(&["NCS", "CNS"]).also_called(&[("rhodanide", Old), ("sulfocyanide", Old)]),
    ion("carbonate", "CO3", 2),
    ion("hydrogencarbonate", "HCO3", 1).also_called(&[("bicarbonate", Old)]),
    ion("formate", "HCOO", 1).also_written(&["CHO2", "HCO2", "OOCH"]).also_called(&[("methanoate", Other)]),
    ion("acetate", "C2H3O2", 1).also_written(&["CH3COO", "CH3CO2", "O2CCH3", "OOCCH3", "H3CCOO"])
        .also_called(&[("ethanoate", Other)]),
    ion("oxalate", "C2O4", 2).also_called(&[("ethanedioate", Other)]),
    ion("hydrogenoxalate", "HC2O4", 1).also_called(&[("bioxalate", Old), ("binoxalate", Old)]),
    ion("tartrate", "C4H4O6", 2),
    ion("hydrogentartrate", "C4H5O6", 1).also_written(&["HC4H4O6"]).also_called(&[("bitartrate", Old)]),
    ion("citrate", "C6H5O7", 3),
    ion("lactate", "C3H5O3", 1),
    ion("benzoate", "C7H5O2", 1).also_written(&["C6H5COO", "C6H5CO2"]),
    // Boron and silicon.
    // The recommendations call it borate, but sellers write borate for each of these three.
    ion("orthoborate", "BO3", 3),
    ion("metaborate", "BO2", 1),
    ion("tetraborate", "B4O7", 2).also_called(&[("biborate", Old), ("pyroborate", Old)]),
    ion("tetrafluoridoborate", "BF4", 1).also_called(&[("tetrafluoroborate", Other),
        ("fluoroborate", Old),
        ("fluoborate", Old),]),
    ion("metasilicate", "SiO3", 2),
    ion("silicate", "SiO4", 4).also_called(&[("orthosilicate", Old)]),
    ion("hexafluoridosilicate", "SiF6", 2).also_called(&[("hexafluorosilicate", Other), ("fluosilicate", Old), ("silicofluoride", Old)]),
    // Phosphorus and arsenic.
    ion("phosphate", "PO4", 3).also_called(&[("phosphate(V)", Other), ("orthophosphate", Old)]),
    ion("hydrogenphosphate", "HPO4", 2).also_called(&[("monohydrogenphosphate", Other), ("biphosphate", Old)]),
    ion("dihydrogenphosphate", "H2PO4", 1),
    ion("diphosphate", "P2O7", 4).also_called(&[("pyrophosphate", Old)]),
    ion("metaphosphate", "PO3", 1),
    ion("phosphonate", "HPO3", 2).also_written(&["PHO3"]),
    ion("phosphinate", "H2PO2", 1).also_written(&["PH2O2"]).also_called(&[("hypophosphite", Old)]),
    ion("arsenate", "AsO4", 3),
    ion("hydrogenarsenate", "HAsO4", 2),
    ion("dihydrogenarsenate", "H2AsO4", 1),
    ion("arsenite", "AsO3", 3),
    // Sulfur and selenium.
    ion("sulfite", "SO3", 2).also_called(&[("sulfate(IV)", Other)]),
    ion("hydrogensulfite", "HSO3", 1).also_called(&[("bisulfite", Old)]),
    ion("sulfate", "SO4", 2).also_called(&[("sulfate(VI)", Other)]),
    ion("hydrogensulfate", "HSO4", 1).also_called(&[("bisulfate", Old)]),
    ion("thiosulfate", "S2O3", 2),
    ion("dithionite", "S2O4", 2).also_called(&[("hydrosulfite", Old)]),
    ion("disulfite", "S2O5", 2).also_called(&[("metabisulfite", Old), ("pyrosulfite", Old)]),
    ion("dithionate", "S2O6", 2),
    ion("disulfate", "S2O7", 2).also_called(&[("pyrosulfate", Old)]),
    ion("peroxydisulfate", "S2O8", 2).also_called(&[("peroxodisulfate", Other), ("persulfate", Old)]),
    ion("selenite", "SeO3", 2),
    ion("selenate", "SeO4", 2),
    // Halogens.
    ion("hypochlorite", "ClO", 1).also_written(&["OCl"]).also_called(&[("chlorate(I)", Other)]),
    ion("chlorite", "ClO2", 1).also_called(&[("chlorate(III)", Other)]),
    ion("chlorate", "ClO3", 1).also_called(&[("chlorate(V)", Other)]),
    ion("perchlorate", "ClO4", 1).also_called(&[("chlorate(VII)", Other)]),
    ion("hypobromite", "BrO", 1).also_written(&["OBr"]),
    ion("bromate", "BrO3", 1).also_called(&[("bromate(V)", Other)]),
    ion("perbromate", "BrO4", 1),
    ion("hypoiodite", "IO", 1).also_written(&["OI"]),
    ion("iodate", "IO3", 1).also_called(&[("iodate(V)", Other)]),
    ion("periodate", "IO4", 1).also_called(&[("iodate(VII)", Other)]),
    // Metals.
    ion("vanadate", "VO4", 3).also_called(&[("orthovanadate", Old)]),
    ion("metavanadate", "VO3", 1),
    ion("chromate", "CrO4", 2).also_called(&[("chromate(VI)", Other)]),
    ion("dichromate", "Cr2O7", 2).also_called(&[("dichromate(VI)", Other), ("bichromate", Old)]),
    ion("molybdate", "MoO4", 2).also_called(&[("molybdate(VI)", Other)]),
    ion("tungstate", "WO4", 2).also_called(&[("tungstate(VI)", Other), ("wolframate", Old)]),
    ion("permanganate", "MnO4", 1).also_called(&[("manganate(VII)", Other)]),
    ion("manganate", "MnO4", 2).also_called(&[("manganate(VI)", Other)]),
    ion("perrhenate", "ReO4", 1),
    ion("hexacyanidoferrate(II)", "[Fe(CN)6]", 4)
        .also_called(&[("hexacyanoferrate(II)", Other), ("ferrocyanide", Old)]),
    ion("hexacyanidoferrate(III)", "[Fe(CN)6]", 3)
        .also_called(&[("hexacyanoferrate(III)", Other), ("ferricyanide", Old)]),
];

/// Anions whose salts of two cations have, as a rule, the simplest ratio in which the charges
/// cancel: alums, Tutton's salts, dolomite, struvite, microcosmic salt. The rule does not hold for
/// chlorides ((NH4)2CuCl4) and oxalates (K3Fe(C2O4)3). From memory.
pub(super) const OF_DOUBLE_SALTS: &[&str] = &["SO4", "SeO4", "CO3", "PO4", "AsO4", "HPO4"];

/// Hydrates whose usual name counts the waters of a double formula, with that formula.
pub(super) const DOUBLE_FORMULAS: &[(&str, &str)] = &[("CdSO4·8H2O", "3CdSO4·8H2O")];

/// Names that sellers use for several salts, with two of these. Such a name is refused.
pub(super) const AMBIGUOUS_NAMES: &[(&str, &str, &str)] = &[
    ("ammonium molybdate", "(NH4)2MoO4", "(NH4)6Mo7O24"),
    ("ammonium tungstate", "(NH4)2WO4", "(NH4)10W12O41"),
];

/// Other names of metals' ions: the metal, and the charge if the name gives it.
#[rustfmt::skip]
pub(super) const METAL_SYNONYMS: &[(&str, &str, Option<u8>, Usage)] = &[
    ("aluminum", "Al", None, Other),
    ("cesium", "Cs", None, Other),
    ("wolfram", "W", None, Old),
    ("ferrous", "Fe", Some(2), Old), ("ferric", "Fe", Some(3), Old),
    ("cuprous", "Cu", Some(1), Old), ("cupric", "Cu", Some(2), Old),
    ("stannous", "Sn", Some(2), Old), ("stannic", "Sn", Some(4), Old),
    ("plumbous", "Pb", Some(2), Old), ("plumbic", "Pb", Some(4), Old),
    ("mercurous", "Hg", Some(1), Old), ("mercuric", "Hg", Some(2), Old),
    ("cobaltous", "Co", Some(2), Old), ("cobaltic", "Co", Some(3), Old),
    ("nickelous", "Ni", Some(2), Old), ("nickelic", "Ni", Some(3), Old),
    ("chromous", "Cr", Some(2), Old), ("chromic", "Cr", Some(3), Old),
    ("manganous", "Mn", Some(2), Old), ("manganic", "Mn", Some(3), Old),
    ("aurous", "Au", Some(1), Old), ("auric", "Au", Some(3), Old),
    ("cerous", "Ce", Some(3), Old), ("ceric", "Ce", Some(4), Old),
    ("thallous", "Tl", Some(1), Old), ("thallic", "Tl", Some(3), Old),
    ("titanous", "Ti", Some(3), Old), ("titanic", "Ti", Some(4), Old),
    ("uranous", "U", Some(4), Old),
    ("argentous", "Ag", Some(1), Old),
];

/// The molecules of adducts, by name and formula.
pub(super) const MOLECULES: &[(&str, &str)] = &[
    ("water", "H2O"),
    ("ammonia", "NH3"),
    ("hydrogen peroxide", "H2O2"),
    ("hydrogen chloride", "HCl"),
    ("oxalic acid", "H2C2O4"),
    ("sulfur dioxide", "SO2"),
    ("carbon dioxide", "CO2"),
    ("boron trifluoride", "BF3"),
    ("phosphorus(V) chloride", "PCl5"),
    ("argon", "Ar"),
    ("krypton", "Kr"),
    ("xenon", "Xe"),
];

/// Common names of whole salts. Common practice, no source.
pub(super) const COMMON_NAMES: &[(&str, &str)] = &[
    ("potassium alum", "KAl(SO4)2·12H2O"),
    ("potash alum", "KAl(SO4)2·12H2O"),
    ("ammonium alum", "NH4Al(SO4)2·12H2O"),
    ("chrome alum", "KCr(SO4)2·12H2O"),
    ("iron alum", "NH4Fe(SO4)2·12H2O"),
    ("mohr s salt", "(NH4)2Fe(SO4)2·6H2O"),
    ("mohr salt", "(NH4)2Fe(SO4)2·6H2O"),
    ("blue vitriol", "CuSO4·5H2O"),
    ("green vitriol", "FeSO4·7H2O"),
    ("white vitriol", "ZnSO4·7H2O"),
    ("epsom salt", "MgSO4·7H2O"),
    ("epsom salts", "MgSO4·7H2O"),
    ("glauber s salt", "Na2SO4·10H2O"),
    ("glauber salt", "Na2SO4·10H2O"),
    ("washing soda", "Na2CO3·10H2O"),
    ("baking soda", "NaHCO3"),
    ("gypsum", "CaSO4·2H2O"),
    ("plaster of paris", "CaSO4·0.5H2O"),
    ("borax", "Na2B4O7·10H2O"),
    ("rochelle salt", "KNaC4H4O6·4H2O"),
];

/// The formula of a name in a table. Letters may be of either case.
pub(super) fn formula_of(table: &[(&str, &'static str)], name: &str) -> Option<&'static str> {
    let row = table.iter().find(|(own, _)| own.eq_ignore_ascii_case(name));
    row.map(|(_, formula)| *formula)
}

/// The anion of this name, and how the name is used. Letters may be of either case.
pub(super) fn anion_named(name: &str) -> Option<(&'static Ion, Usage)> {
    ANIONS.iter().find_map(|ion| {
        let names = [(ion.name, Usage::Current)].into_iter();
        let mut names = names.chain(ion.names.iter().copied());
        let (_, usage) = names.find(|(other, _)| other.eq_ignore_ascii_case(name))?;
        Some((ion, usage))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Formula;
    use alloc::collections::BTreeSet;
    use alloc::string::ToString;

    #[test]
    fn every_row_is_sound() {
        let mut names = BTreeSet::new();
        for metal in METALS {
            let element = Element::from_symbol(metal.symbol).unwrap();
            assert!(element.is_metal() || matches!(metal.symbol, "Sb" | "Ge"));
            assert!(metal.charges().all(|charge| (1..=8).contains(&charge)));
            assert!(metal.numbered || metal.common.len() == 1 && metal.rare.is_empty());
            assert!(names.insert(metal.name()), "{}", metal.symbol);
        }
        for ion in CATIONS.iter().chain(ANIONS) {
            assert!((1..=4).contains(&ion.charge), "{}", ion.name);
            for formula in [&ion.formula].into_iter().chain(ion.spellings) {
                let (read, _) = Formula::read(formula).unwrap();
                let (same, _) = Formula::read(ion.formula).unwrap();
                let hill = |f: &Formula| f.composition().unwrap().hill();
                assert_eq!(hill(&read), hill(&same), "{formula}");
            }
            assert!(names.insert(ion.name), "{}", ion.name);
            for (name, _) in ion.names {
                assert!(names.insert(name), "{name}");
            }
        }
        for (name, symbol, charge, _) in METAL_SYNONYMS {
            let metal = Metal::of(symbol).unwrap();
            assert!(charge.is_none_or(|charge| metal.has(charge)), "{name}");
            assert!(names.insert(name), "{name}");
        }
        for (name, formula) in MOLECULES.iter().chain(COMMON_NAMES) {
            assert_eq!(formula.parse::<Formula>().unwrap().to_string(), *formula);
            assert!(names.insert(name), "{name}");
        }
        assert!(names.len() > 200, "{} names", names.len());
    }
}
