mod complete;
mod publications;

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::catalogue::{catalogue, rows, salt_facts, salts};
use super::fact::Fact;
use super::hazard_statement::HazardStatement;
use super::salt_facts::SaltFacts;
use super::source::{Read, Source};
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
    for rows in salts() {
        let salt = rows[0].salt;
        let mut facts = SaltFacts::new(salt).unwrap_or_else(|| panic!("{salt}"));
        for row in rows {
            assert!(facts.add(row).is_some(), "{salt}: a row does not parse");
        }
        for degrees in [facts.known_hydrates(), facts.plateaus().unwrap_or(&[])] {
            assert!(degrees.is_sorted_by(|a, b| a < b), "{salt}");
        }
        let degrees = rows
            .iter()
            .filter(|row| matches!(row.fact, Fact::Degree(_)));
        assert!(degrees.count() >= facts.known_hydrates().len());
        assert_eq!(salt_facts(&formula(salt)), Some(&facts));
    }
    assert_eq!(
        catalogue().len(),
        salts().count(),
        "the rows of a salt are not in one place"
    );
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
            salt_facts(&salt).unwrap().plateaus().is_some(),
            "{text}: no fact about plateaus"
        );
        assert!(
            decomposition(&salt).is_some() != salt_facts(&salt).unwrap().heat_remark().is_some(),
            "{text}: what heat leaves is in one row"
        );
    }
    for facts in catalogue().values() {
        let salt = facts.salt();
        let highest = facts.known_hydrates().last();
        for degree in facts.plateaus().unwrap_or(&[]) {
            assert!(highest.is_some_and(|high| degree < high), "{salt}·{degree}");
        }
    }
    // A salt has one row only if heating reaches no lower hydrate.
    for row in rows().filter(|row| matches!(row.fact, Fact::NoPlateau)) {
        let salt = row.salt;
        assert!(plateau_hydrates(&formula(salt)).is_empty(), "{salt}");
    }
}

/// The salts with a decomposition, and their decompositions.
fn overheated() -> impl Iterator<Item = (&'static Formula, &'static Decomposition)> {
    let all = catalogue().values();
    all.flat_map(|facts| facts.decompositions().iter().map(|d| (facts.salt(), d)))
}

fn non_metal(element: Element) -> bool {
    ["H", "C", "N", "O", "S", "Cl", "Br"].contains(&element.symbol())
}

#[test]
fn residues_keep_the_metals() {
    let residues = rows().filter(|row| matches!(row.fact, Fact::Residue(..)));
    assert_eq!(overheated().count(), residues.count());
    for (salt, overheated) in overheated() {
        let name = format!("{salt} → {}", overheated.residue());
        let salt = salt.composition().unwrap();
        let residue = overheated.residue().composition().unwrap();
        let per_salt = overheated.per_salt();
        let mut metals = 0;
        for (atom, count) in salt.iter().filter(|(a, _)| !non_metal(a.element())) {
            assert_eq!(*count, per_salt * &residue.count(atom), "{name}: {atom}");
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
        let gases: BTreeSet<Element> = overheated
            .gases()
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
            .filter(|(atom, count)| **count != per_salt * &residue.count(*atom))
            .map(|(atom, _)| atom.element())
            .filter(|e| !["H", "O"].contains(&e.symbol()))
            .collect();
        assert_eq!(gases, lost, "{name}");
        if let Some(celsius) = overheated.marked_from_celsius() {
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
    for salt in catalogue().values().map(SaltFacts::salt) {
        for pair in decompositions(salt).windows(2) {
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
    let used: Vec<Source> = rows().map(|row| row.source).collect();
    for source in Source::ALL {
        let name = source.publication();
        assert!(name.trim().len() > 10 && !name.contains("http") && !name.contains("www"));
        assert!(used.contains(source), "no row rests on {name}");
    }
    let names: BTreeSet<&str> = Source::ALL.iter().map(|s| s.publication()).collect();
    assert_eq!(names.len(), Source::ALL.len(), "two sources of one name");
    for source in Source::ALL {
        let name = source.publication();
        let says_so = name.contains("memory") || name.contains("no source");
        assert_eq!(source.read() == Read::Recalled, says_so, "{name}");
    }
}

#[test]
fn plateaus_by_atmosphere() {
    let vapour = rows().filter_map(|row| match row.fact {
        Fact::VapourPlateau(waters) => Some(format!("{}·{waters}H2O", row.salt)),
        _ => None,
    });
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

#[test]
fn hazard_statements_have_words() {
    for row in rows() {
        if let Fact::Hazards(codes) = row.fact {
            assert!(codes.is_sorted_by(|a, b| a < b), "{}", row.salt);
            assert!(codes.iter().all(|code| HazardStatement::of(code).is_some()));
        }
    }
}

#[test]
fn ranges_of_temperature_ascend() {
    for stage in catalogue().values().flat_map(SaltFacts::stages) {
        let (lowest, highest) = stage.celsius();
        let name = format!("{} → {}", stage.from(), stage.to());
        assert!(lowest <= highest && highest < 1500, "{name}");
        assert!(!stage.conditions().contains("  "), "{name}");
    }
}

#[test]
fn stages_begin_with_what_is_there() {
    let staged = catalogue()
        .values()
        .filter(|facts| !facts.stages().is_empty());
    assert!(staged.count() >= 55);
    // A stage begins with the salt, a hydrate that is known, or one that an earlier stage leaves.
    for facts in catalogue().values() {
        let mut reached = Vec::new();
        for stage in facts.stages() {
            let waters = stage.from().waters().unwrap_or_default();
            let is_known = waters.is_zero() || facts.known_hydrates().contains(&waters);
            assert!(
                is_known || reached.contains(stage.from()),
                "{}",
                stage.from()
            );
            reached.push(stage.to().clone());
        }
    }
}
