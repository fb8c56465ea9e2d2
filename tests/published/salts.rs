//! The degrees and enthalpies of the catalogue of salts, against a handbook's table and a second one.

use effloresce::gravimetry::{known_hydrates, salt_facts};
use effloresce::{Formula, Ratio};

use crate::calc::formula;
use crate::data;

/// Rows of the handbook that the catalogue has otherwise, with its salt and degree.
const PRINTED_OTHERWISE: [(&str, &str, &str); 2] = [
    // The salt of 3CdSO4·8H2O has 8/3 waters for each CdSO4.
    ("CdSO4·8H2O", "CdSO4", "8/3"),
    ("Co2F6·2H2O", "CoF3", "1"),
];

/// It melts far below the freezing point of water, and is not a salt.
const NOT_A_SALT: &str = "HCl·2H2O";

/// The salt and the degree of a hydrate as the catalogue counts them.
fn salt_and_degree(text: &str) -> (Formula, Ratio) {
    match PRINTED_OTHERWISE.iter().find(|row| row.0 == text) {
        Some((_, salt, degree)) => (formula(salt), degree.parse().unwrap()),
        None => formula(text).one_formula_unit().unwrap(),
    }
}

#[test]
fn every_hydrate_of_the_handbook_is_known() {
    let rows = data::rows(data::HANDBOOK);
    let hydrates = rows
        .iter()
        .filter(|row| row.get("name").ends_with("hydrate"));
    let mut count = 0;
    for text in hydrates.map(|row| row.get("formula")) {
        count += 1;
        if text == NOT_A_SALT {
            assert!(salt_facts(&formula("HCl")).is_none());
            continue;
        }
        let (salt, degree) = salt_and_degree(text);
        assert!(known_hydrates(&salt).contains(&degree), "{text}");
        let facts = salt_facts(&salt).unwrap();
        assert_eq!(facts.no_hydrate_source(), None, "{text}");
        let source = facts.hydrate_source(&degree).unwrap();
        assert!(!source.contains("memory"), "{text}: {source}");
    }
    assert_eq!(count, 163);
}

/// The solids of the table of enthalpies, with their row.
fn solids() -> Vec<(Formula, Ratio, data::Row)> {
    let rows = data::rows(data::THERMOCHEMISTRY).into_iter();
    let solids = rows.filter(|row| row.get("formula") != "H2O");
    let named = solids.map(|row| {
        let text = row.get("formula");
        let (salt, degree) = match formula(text).waters() {
            Some(_) => salt_and_degree(text),
            None => (formula(text), Ratio::ZERO),
        };
        (salt, degree, row)
    });
    named.collect()
}

#[test]
fn every_hydrate_of_the_second_table_is_known() {
    let mut count = 0;
    for (salt, degree, _) in solids().iter().filter(|(_, degree, _)| !degree.is_zero()) {
        assert!(known_hydrates(salt).contains(degree), "{salt}·{degree}");
        count += 1;
    }
    assert_eq!(count, 80);
}

/// Of the hemihydrate the table has two forms. Heating in air leaves the second.
const OTHER_FORM: &str = "calcium sulfate hemihydrate (alpha)";

#[test]
fn only_confirmed_enthalpies_are_facts() {
    let (mut confirmed, mut left_out) = (0, 0);
    for (salt, degree, row) in solids() {
        let facts = salt_facts(&salt).unwrap_or_else(|| panic!("{salt}"));
        let enthalpy = facts.enthalpy_of_formation(&degree);
        if row.get("name") == OTHER_FORM {
            continue;
        }
        if row.get("status") == "verified" {
            let units = if row.get("formula").starts_with('3') {
                3
            } else {
                1
            };
            let enthalpy = enthalpy.unwrap_or_else(|| panic!("{salt}·{degree}"));
            let printed: Ratio = row.get("dHf_kJ_mol").parse().unwrap();
            assert_eq!(enthalpy.value() * &Ratio::from(units), printed, "{salt}");
            assert!(!enthalpy.is_from_memory());
            confirmed += 1;
        } else {
            assert_eq!(enthalpy, None, "{salt}·{degree}: {}", row.get("status"));
            left_out += 1;
        }
    }
    assert_eq!((confirmed, left_out), (84, 38));
}

#[test]
fn salts_without_a_hydrate_are_known() {
    for text in ["K2SO4", "NaCl", "KNO3", "NH4Cl", "KCl", "K2Cr2O7"] {
        let facts = salt_facts(&formula(text)).unwrap();
        assert!(facts.known_hydrates().is_empty(), "{text}");
        assert!(facts.no_hydrate_source().is_some(), "{text}");
    }
}
