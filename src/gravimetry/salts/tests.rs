use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::catalogue::{heat_remark, key, known, plateaus, products};
use super::known::KNOWN;
use super::plateaus::{Atmosphere, PLATEAUS};
use super::products::{HEAT_REMARKS, PRODUCTS};
use super::source::Source;
use super::{Decomposition, decomposition, decompositions, known_hydrates, plateau_hydrates};
use crate::element::{AtomicWeights, Element};
use crate::formula::Formula;
use crate::number::Ratio;

/// The salts that teaching laboratories heat.
const DOZEN: [&str; 17] = [
    "CuSO4",
    "MgSO4",
    "CoCl2",
    "CoSO4",
    "NiSO4",
    "ZnSO4",
    "FeSO4",
    "MnSO4",
    "CaSO4",
    "BaCl2",
    "Na2CO3",
    "Na2SO4",
    "KAl(SO4)2",
    "CuCl2",
    "MgCl2",
    "Na2S2O3",
    "H2C2O4",
];

fn formula(text: &str) -> Formula {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

#[test]
fn every_row_parses_and_ascends() {
    let rows: usize = known().values().map(Vec::len).sum();
    assert_eq!(rows, KNOWN.len());
    let none = PLATEAUS.iter().filter(|row| row.1.is_none()).count();
    let met: usize = plateaus().values().map(Vec::len).sum();
    assert_eq!(met + none, PLATEAUS.len());
    let left: usize = products().values().map(Vec::len).sum();
    assert_eq!(left, PRODUCTS.len());
    for (salt, degrees) in known().iter().chain(plateaus()) {
        assert!(degrees.is_sorted_by(|a, b| a < b), "{salt}");
    }
    for (salt, text, _) in HEAT_REMARKS {
        let found = heat_remark(&formula(salt)).map(|(text, _)| text);
        assert_eq!(found, Some(*text), "{salt}");
    }
    let acetate = "CH3COONa".parse().unwrap();
    assert_eq!(known_hydrates(&acetate), [Ratio::from(3)]);
    assert_eq!(known_hydrates(&"NaCl".parse().unwrap()), []);
    assert_eq!(plateau_hydrates(&acetate), [Ratio::from(3)]);
}

#[test]
fn facts_about_heating_are_complete() {
    for text in DOZEN {
        let salt = formula(text);
        let known = known_hydrates(&salt);
        assert!(!known.is_empty(), "{text} has no degree");
        assert!(
            plateaus().contains_key(&key(&salt).unwrap()),
            "{text}: no fact about plateaus"
        );
        assert!(
            decomposition(&salt).is_some() != heat_remark(&salt).is_some(),
            "{text}: what heat leaves is in one row"
        );
    }
    for (salt, degrees) in plateaus() {
        let highest = known().get(salt).and_then(|known| known.last());
        for degree in degrees {
            assert!(highest.is_some_and(|high| degree < high), "{salt}·{degree}");
        }
    }
    // A salt has one row only if heating reaches no lower hydrate.
    for (salt, ..) in PLATEAUS.iter().filter(|row| row.1.is_none()) {
        assert!(plateau_hydrates(&formula(salt)).is_empty(), "{salt}");
    }
}

fn non_metal(element: Element) -> bool {
    ["H", "C", "N", "O", "S", "Cl", "Br"].contains(&element.symbol())
}

#[test]
fn residues_keep_the_metals() {
    for row in PRODUCTS {
        let salt = formula(row.salt).composition().unwrap();
        let residue = formula(row.residue).composition().unwrap();
        let per_salt: Ratio = row.per_salt.parse().unwrap();
        let name = format!("{} → {}", row.salt, row.residue);
        let mut metals = 0;
        for (atom, count) in salt.iter().filter(|(a, _)| !non_metal(a.element())) {
            assert_eq!(*count, &per_salt * &residue.count(atom), "{name}: {atom}");
            metals += 1;
        }
        assert!(metals > 0, "{name}");
        for (atom, _) in &residue {
            let from_air = ["H", "O"].contains(&atom.element().symbol());
            assert!(
                from_air || !salt.count(atom).is_zero(),
                "{name}: {atom} came from nowhere"
            );
        }
        // What the solid loses, the gases hold; oxygen may have come or gone with water or air.
        let gases: BTreeSet<Element> = row
            .gases
            .split(" + ")
            .filter(|gas| !gas.is_empty())
            .flat_map(|gas| {
                let gas = formula(gas).composition().unwrap();
                gas.iter()
                    .map(|(atom, _)| atom.element())
                    .collect::<Vec<_>>()
            })
            .filter(|e| !["H", "O"].contains(&e.symbol()))
            .collect();
        let lost: BTreeSet<Element> = salt
            .iter()
            .filter(|(atom, count)| **count != &per_salt * &residue.count(*atom))
            .map(|(atom, _)| atom.element())
            .filter(|e| !["H", "O"].contains(&e.symbol()))
            .collect();
        assert_eq!(gases, lost, "{name}");
        if let Some((celsius, _)) = row.marked {
            assert!((50..1500).contains(&celsius), "{name}: {celsius}");
        }
    }
}

#[test]
fn later_residues_are_lighter() {
    let weights = AtomicWeights::default();
    let per_mole = |d: &Decomposition| {
        let molar = d.residue().molar_mass(&weights).unwrap();
        d.per_salt() * &molar.exact()
    };
    let mut pairs = 0;
    for salt in PRODUCTS.iter().map(|row| formula(row.salt)) {
        for pair in decompositions(&salt).windows(2) {
            assert!(per_mole(&pair[1]) < per_mole(&pair[0]), "{salt}");
            pairs += 1;
        }
    }
    assert!(pairs >= 5, "{pairs}");
    // By hand: 24.305 + 15.999.
    let magnesia = decomposition(&formula("MgSO4")).unwrap();
    assert_eq!(per_mole(magnesia).to_plain(), "40.304");
    // 4 Na2S2O3 → 3 Na2SO4 + Na2S5 loses nothing.
    let hypo = formula("Na2S2O3");
    let molar = hypo.molar_mass(&weights).unwrap();
    assert_eq!(per_mole(decomposition(&hypo).unwrap()), molar.exact());
}

#[test]
fn every_source_has_a_name_and_a_row() {
    let mut used: Vec<Source> = Vec::new();
    used.extend(KNOWN.iter().map(|row| row.2));
    used.extend(PLATEAUS.iter().map(|row| row.3));
    for row in PRODUCTS {
        used.push(row.source);
        used.extend(row.marked.map(|(_, source)| source));
    }
    used.extend(HEAT_REMARKS.iter().map(|row| row.2));
    used.extend(super::cautions::sources());
    for source in Source::ALL {
        let name = source.publication();
        assert!(name.trim().len() > 10 && !name.contains("http") && !name.contains("www"));
        assert!(used.contains(source), "no row rests on {name}");
    }
    let names: BTreeSet<&str> = Source::ALL.iter().map(|s| s.publication()).collect();
    assert_eq!(names.len(), Source::ALL.len(), "two sources of one name");
    let recalled = [
        Source::Memory,
        Source::CrcMemory,
        Source::NbsMemory,
        Source::Practice,
    ];
    for source in recalled {
        let name = source.publication();
        assert!(
            name.contains("memory") || name.contains("no source"),
            "{name}"
        );
    }
}

#[test]
fn plateaus_by_atmosphere() {
    let vapour = PLATEAUS
        .iter()
        .filter(|row| row.2 == Atmosphere::Vapour)
        .map(|row| format!("{}·{}H2O", row.0, row.1.unwrap_or_default()));
    let vapour: Vec<String> = vapour.collect();
    assert_eq!(
        vapour,
        ["MgSO4·1H2O", "MgSO4·2H2O", "MgSO4·3H2O", "CaSO4·0.5H2O"]
    );
    let found: Vec<String> = plateau_hydrates(&formula("ZnO4S"))
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(found, ["1", "4", "6"], "found in any spelling");
}

#[test]
fn out_of_a_burners_reach() {
    let reach = |salt| decomposition(&formula(salt)).map(Decomposition::within_reach);
    assert_eq!(reach("CuSO4"), Some(true));
    assert_eq!(reach("CoCl2"), Some(true));
    assert_eq!(reach("MgSO4"), Some(false));
    assert_eq!(reach("CaSO4"), Some(false));
    assert_eq!(reach("BaCl2"), None);
}
