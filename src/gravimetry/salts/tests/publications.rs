//! Checks of the rows against the publications that they come from.

use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::catalogue::{catalogue, rows, salt_facts};
use super::super::fact::Fact;
use super::super::salt_facts::SaltFacts;
use super::super::source::Source;
use super::super::{HeatingStage, Suitability, decomposition, known_hydrates};
use crate::formula::Formula;

fn facts(text: &str) -> &'static SaltFacts {
    let salt: Formula = text.parse().unwrap();
    salt_facts(&salt).unwrap_or_else(|| panic!("{text}"))
}

/// The stages of a salt as text: from, to and the two temperatures.
fn stages(text: &str, source: &str) -> Vec<String> {
    let stages = facts(text).stages().iter();
    stages
        .filter(|stage| stage.source().contains(source))
        .map(|stage| {
            let (lowest, highest) = stage.celsius();
            format!("{} → {}: {lowest} to {highest}", stage.from(), stage.to())
        })
        .collect()
}

#[test]
fn stages_are_those_of_the_publication() {
    // J. Inorg. Mater. 2010, 25 (3), 306, abstract: 69 °C, 129 °C, 167 °C to 235 °C, 415 °C.
    assert_eq!(
        stages("MgCl2", "J. Inorg. Mater."),
        [
            "MgCl2·6H2O → MgCl2·4H2O: 69 to 69",
            "MgCl2·4H2O → MgCl2·2H2O: 129 to 129",
            "MgCl2·2H2O → Mg(OH)Cl: 167 to 235",
            "MgCl2 → MgO: 415 to 415",
        ]
    );
    // J. Therm. Anal. Calorim. 2019, abstract: 350 K to 410 K and 325 K to 500 K.
    assert_eq!(
        stages("CuCl2", "s10973-019-08307-4"),
        ["CuCl2·2H2O → CuCl2: 77 to 137"]
    );
    assert_eq!(
        stages("MnCl2", "s10973-019-08307-4"),
        ["MnCl2·4H2O → MnCl2: 52 to 227"]
    );
    // Thermochim. Acta 2001, 370, 65, abstract: 315 K, 440 K, 500 K; above 580 K the nitrate decomposes.
    assert_eq!(
        stages("Ni(NO3)2", "2001, 370, 65"),
        [
            "Ni(NO3)2·6H2O → Ni(NO3)2·3H2O: 42 to 167",
            "Ni(NO3)2·3H2O → Ni(NO3)2: 167 to 227",
        ]
    );
    // Thermochim. Acta 2004, 409, 79, abstract: 162 °C, 479 °C and 684 °C.
    assert_eq!(
        stages("CaC2O4", "2004, 409, 79"),
        [
            "CaC2O4·H2O → CaC2O4: 161 to 162",
            "CaC2O4 → CaCO3: 479 to 479",
            "CaC2O4 → CaO: 684 to 684",
        ]
    );
    // Front. Chem. Sci. Eng. 2012, 6 (3), abstract: 337.23 K, 430.99 K, 433.83 K.
    assert_eq!(
        stages("Na3C6H5O7", "2012, 6 (3)"),
        [
            "Na3C6H5O7·5H2O → Na3C6H5O7·2H2O: 64 to 64",
            "Na3C6H5O7·2H2O → Na3C6H5O7: 158 to 161",
        ]
    );
    // Z. Anorg. Allg. Chem. 2013, 639, 59, abstract: 332 K to 349 K, 361 K to 367 K, 375 K to 380 K.
    assert_eq!(
        stages("MgBr2", "2013, 639, 59"),
        [
            "MgBr2·6H2O → MgBr2·4H2O: 59 to 76",
            "MgBr2·4H2O → MgBr2·2H2O: 88 to 94",
            "MgBr2·2H2O → MgBr2·H2O: 102 to 107",
        ]
    );
    // J. Chem. Soc., Faraday Trans. 1 1985, 81, 1761, abstract: 336 K to 400 K.
    assert_eq!(
        stages("Na2CO3", "1985, 81, 1761"),
        ["Na2CO3·H2O → Na2CO3: 63 to 127"]
    );
}

/// Stages of one salt from one hydrate to another on which two publications differ, with the reason.
const DIFFERENT: [(&str, &str); 5] = [
    // A warming curve, and what two handbooks call the temperature above which the water leaves.
    ("CuSO4·5H2O", "CuSO4·3H2O"),
    ("CuSO4·H2O", "CuSO4"),
    // Anhydrous at 320 °C by NIOSH, at 350 °C to 400 °C by a supplier. The last water leaves slowly.
    ("Na2B4O7·10H2O", "Na2B4O7"),
    // Kept at 80 °C in thermogravimetry, and a handbook's temperature at which the water leaves.
    ("Li2SO4·H2O", "Li2SO4"),
    // The beginning of the loss in nitrogen, and a handbook's temperature.
    ("FeSO4·7H2O", "FeSO4·4H2O"),
];

/// The rate of heating moves a stage by as much, in degrees Celsius (from memory).
const RATE: u16 = 15;

#[test]
fn two_publications_agree_within_the_wider_range() {
    let (mut pairs, mut different) = (0, BTreeSet::new());
    for facts in catalogue().values() {
        let mut by_ends: BTreeMap<(String, String), Vec<&HeatingStage>> = BTreeMap::new();
        for stage in facts.stages() {
            let ends = (stage.from().to_string(), stage.to().to_string());
            by_ends.entry(ends).or_default().push(stage);
        }
        for ((from, to), stages) in by_ends {
            for pair in stages.windows(2) {
                if pair[0].source() == pair[1].source() {
                    continue;
                }
                pairs += 1;
                let ((low, high), (from_low, from_high)) = (pair[0].celsius(), pair[1].celsius());
                if low > from_high + RATE || from_low > high + RATE {
                    different.insert((from.clone(), to.clone()));
                }
            }
        }
    }
    assert!(pairs >= 5, "{pairs}");
    let expected = DIFFERENT.map(|(from, to)| (from.to_string(), to.to_string()));
    assert_eq!(different, BTreeSet::from(expected));
}

#[test]
fn decompositions_are_those_of_the_publication() {
    let last = |text: &str| {
        let found = decomposition(&text.parse().unwrap()).unwrap();
        let celsius = found.marked_from_celsius();
        (found.residue().to_string(), celsius, found.gases())
    };
    // J. Therm. Anal. 1994, 42, 1155, abstract.
    assert_eq!(
        last("Ni(CH3COO)2"),
        ("NiO".into(), Some(330), "C2H4O2 + C3H6O + CO2 + CO")
    );
    // J. Therm. Anal. Calorim. 2016, 123, 145, abstract.
    assert_eq!(last("MgNH4PO4"), ("Mg2P2O7".into(), Some(250), "NH3"));
    // J. Therm. Anal. Calorim. 2015, doi 10.1007/s10973-015-4756-0, abstract.
    assert_eq!(last("MgCO3"), ("MgO".into(), Some(350), "CO2"));
    // From Hu for the hydrolysis; the chlorine that leaves in dry air is from memory.
    assert_eq!(last("CoCl2").2, "HCl + Cl2");
}

#[test]
fn grave_hazards_are_named() {
    for (salt, code) in [
        ("CuCl2", "H318"),
        ("Na3PO4", "H318"),
        ("CoCl2", "H350i"),
        ("NiCl2", "H350i"),
        ("Pb(CH3COO)2", "H360"),
        ("BaCl2", "H301"),
        ("SnCl2", "H314"),
        ("LiCl", "H302"),
        ("LiBr", "H317"),
    ] {
        let statements = facts(salt).hazard_statements();
        let found = statements.iter().any(|own| own.value().code() == code);
        assert!(found, "{salt}: {code}");
    }
    // Sources from before the codes give words.
    for salt in ["Ca(NO3)2", "Al(NO3)3", "Fe(NO3)3"] {
        let words = facts(salt).hazard_words().unwrap().value();
        assert!(words.contains("irritates"), "{salt}: {words}");
    }
}

#[test]
fn forty_salts_are_known_in_full() {
    let in_full = catalogue().values().filter(|facts| {
        let heat = !facts.decompositions().is_empty() || facts.heat_remark().is_some();
        let heat = heat || facts.safe_up_to_celsius().is_some();
        facts.suitability().is_some() && facts.waste().is_some() && heat
    });
    let names: Vec<String> = in_full.map(|facts| facts.salt().to_string()).collect();
    assert!(names.len() >= 40, "{}: {names:?}", names.len());
    let staged = catalogue().values().filter(|f| !f.stages().is_empty());
    assert!(staged.count() >= 35);
}

#[test]
fn a_salt_from_which_another_gas_leaves_is_not_suitable() {
    for facts in catalogue().values() {
        let nitrate = facts.salt().to_string().contains("NO3)");
        let suits = facts
            .suitability()
            .is_some_and(|suitability| *suitability.value() != Suitability::Unfit);
        assert!(!(nitrate && suits), "{}", facts.salt());
    }
}

/// Hydrates of the CRC Handbook, Physical Constants of Inorganic Compounds.
#[test]
fn hydrates_of_the_handbook_are_known() {
    for (salt, waters) in [
        ("MgI2", "8"),
        ("(NH4)10W12O41", "5"),
        ("K3[Co(NO2)6]", "1.5"),
        ("Ba(ClO4)2", "3"),
        ("Na2HAsO4", "7"),
        ("Na2SeO4", "10"),
        ("Zn(HCOO)2", "2"),
        ("2ZnO·3B2O3", "5"),
        ("Na3SbS4", "9"),
    ] {
        let known = known_hydrates(&salt.parse().unwrap());
        let expected = waters.parse().unwrap();
        assert!(known.contains(&expected), "{salt}·{waters}H2O");
    }
    let hydrated = catalogue().values();
    let hydrated = hydrated.filter(|facts| !facts.known_hydrates().is_empty());
    assert!(hydrated.count() >= 150);
}

/// The numbers of a fact: degrees, temperatures, enthalpies, proportions and codes of hazards.
fn numbers(fact: &Fact) -> usize {
    match fact {
        Fact::Degree(_) | Fact::Plateau(_) | Fact::VapourPlateau(_) | Fact::Enthalpy(..) => 1,
        Fact::MarkedFrom(_) | Fact::SafeUpTo(_) | Fact::MeltsInItsWater(_, Some(_)) => 1,
        Fact::Stage(_, _, [lowest, highest], _) => 1 + usize::from(lowest != highest),
        Fact::Residue(..) => 1,
        Fact::Hazards(codes) => codes.len(),
        _ => 0,
    }
}

#[test]
fn at_most_one_number_in_ten_is_from_memory() {
    let (mut recalled, mut all) = (0, 0);
    for row in rows() {
        all += numbers(&row.fact);
        if row.source.is_from_memory() {
            recalled += numbers(&row.fact);
        }
    }
    assert!(recalled * 10 <= all, "{recalled} of {all}");
    assert!(all >= 400, "{all}");
}

#[test]
fn a_publication_that_cannot_be_traced_says_so() {
    let mut untraced = 0;
    for source in Source::ALL {
        let name = source.publication();
        let is_nameless = ["a ", "an "]
            .iter()
            .any(|article| name.starts_with(article));
        if is_nameless || name.contains("abstract") {
            let says_so = name.contains("not noted") || name.contains("ACNP");
            assert!(says_so, "{name}");
            untraced += 1;
        }
        for vague in ["text-book", "journal abstract"] {
            assert!(!name.contains(vague), "{name}");
        }
    }
    assert!(untraced >= 5);
}
