//! The hazard statements of the catalogue of salts, against six lists of classifications.

use std::collections::BTreeSet;

use effloresce::gravimetry::salt_facts;

use crate::calc::formula;
use crate::data;

/// The statements on one hazard, the gravest first. One that is graver, or the same, holds.
const HAZARDS: [&[&str]; 14] = [
    &["H271", "H272"],
    &["H300", "H301", "H302", "H303"],
    &["H310", "H311", "H312"],
    &["H314", "H315", "H316"],
    &["H317"],
    &["H314", "H318", "H319", "H320"],
    &["H330", "H331", "H332"],
    &["H334"],
    &["H335"],
    &["H340", "H341"],
    &["H350i", "H350", "H351"],
    &["H360FD", "H360Df", "H360D", "H360F", "H361d", "H361f"],
    &["H372", "H373"],
    &["H410", "H411", "H412", "H400", "H401", "H402"],
];

/// What a list classifies more gravely than the catalogue, with the reason.
const MILDER: [(&str, &str, &str); 3] = [
    // The card is on the anhydrous salt, and no other list calls it corrosive. The catalogue says so in words.
    ("CaCl2", "cards", "H303"),
    ("CaCl2", "cards", "H314"),
    ("CaCl2", "cards", "H335"),
];

fn codes_of(salt: &str) -> BTreeSet<&'static str> {
    let facts = salt_facts(&formula(salt)).unwrap_or_else(|| panic!("{salt}"));
    let statements = facts.hazard_statements().iter();
    statements.map(|own| own.value().code()).collect()
}

/// Whether a code of `codes` is on the same hazard, and at least as grave.
fn holds(codes: &BTreeSet<&str>, listed: &str) -> bool {
    HAZARDS.iter().any(|hazard| {
        let Some(place) = hazard.iter().position(|code| *code == listed) else {
            return false;
        };
        hazard[..=place].iter().any(|code| codes.contains(code))
    })
}

#[test]
fn no_statement_is_milder_than_in_the_lists() {
    let mut milder = Vec::new();
    let mut compared = 0;
    for row in data::rows(data::HAZARD_STATEMENTS) {
        let codes = codes_of(row.get("salt"));
        for listed in row.get("codes").split(' ') {
            compared += 1;
            if !holds(&codes, listed) {
                milder.push((
                    row.get("salt").to_owned(),
                    row.get("list").to_owned(),
                    listed.to_owned(),
                ));
            }
        }
    }
    let expected = MILDER.map(|(salt, list, code)| (salt.into(), list.into(), code.into()));
    assert_eq!(milder, expected);
    assert_eq!(compared, 299);
}

/// The statements of the catalogue whose hazard each of at least two lists classifies for that salt.
#[test]
fn forty_statements_are_in_two_lists() {
    let rows = data::rows(data::HAZARD_STATEMENTS);
    let salts: BTreeSet<&str> = rows.iter().map(|row| row.get("salt")).collect();
    let (mut all, mut in_one, mut in_two) = (0, 0, 0);
    for salt in salts {
        for code in codes_of(salt) {
            let hazards = || HAZARDS.iter().filter(|hazard| hazard.contains(&code));
            let lists: BTreeSet<&str> = rows
                .iter()
                .filter(|row| row.get("salt") == salt)
                .filter(|row| {
                    let mut listed = row.get("codes").split(' ');
                    listed.any(|listed| hazards().any(|hazard| hazard.contains(&listed)))
                })
                .map(|row| row.get("list"))
                .collect();
            all += 1;
            in_one += usize::from(!lists.is_empty());
            in_two += usize::from(lists.len() >= 2);
        }
    }
    assert_eq!((all, in_one, in_two), (230, 206, 41));
}

/// A statement that no publication supports says so. These are all.
#[test]
fn statements_from_memory_are_few_and_say_so() {
    let mut recalled = Vec::new();
    for salt in ["MnCl2", "MnSO4", "Zn(CH3COO)2", "Fe2(SO4)3"] {
        let facts = salt_facts(&formula(salt)).unwrap();
        for own in facts
            .hazard_statements()
            .iter()
            .filter(|own| own.is_from_memory())
        {
            assert!(own.source().ends_with("(from memory)"), "{}", own.source());
            recalled.push(format!("{salt} {}", own.value().code()));
        }
    }
    assert_eq!(
        recalled,
        [
            "MnCl2 H301",
            "MnCl2 H318",
            "MnCl2 H373",
            "MnCl2 H411",
            "MnSO4 H318",
            "Zn(CH3COO)2 H318",
            "Fe2(SO4)3 H290",
            "Fe2(SO4)3 H302",
            "Fe2(SO4)3 H315",
            "Fe2(SO4)3 H318",
        ]
    );
}
