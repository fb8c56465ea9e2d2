//! Formulas in many spellings, and texts that are none.

use std::collections::BTreeMap;

use effloresce::element::{Edition, Values};
use effloresce::number::TieRule;
use effloresce::{AtomicWeights, Formula, Ratio};

use crate::data;

/// `[2H]20 Na2 O14 S1` as counts by atom.
fn counts(text: &str) -> BTreeMap<String, Ratio> {
    let atoms = text.split(' ').map(|atom| {
        let label = atom.find(']').map_or(0, |at| at + 1);
        let digit = atom[label..].find(|c: char| c.is_ascii_digit()).unwrap() + label;
        let (symbol, count) = atom.split_at(digit);
        (symbol.to_owned(), count.parse().unwrap())
    });
    atoms.collect()
}

#[track_caller]
fn mass(formula: &Formula, weights: &AtomicWeights) -> Ratio {
    let mass = formula.molar_mass(weights).unwrap();
    assert_eq!(mass.edition(), weights.edition());
    mass.exact().to_places(6, TieRule::Even).value()
}

#[test]
fn vectors() {
    let of_2021 = AtomicWeights::new(Edition::Iupac2021);
    let of_2024 = AtomicWeights::new(Edition::Iupac2024);
    let full = of_2021.clone().values(Values::Full);
    let mut ran: BTreeMap<String, usize> = BTreeMap::new();
    let mut revised = 0;
    for row in data::rows(data::FORMULA_VECTORS) {
        let text = row.get("formula");
        let formula: Formula = text.parse().unwrap_or_else(|e| panic!("{text}: {e}"));
        let composition = formula.composition().unwrap();
        let found: BTreeMap<_, _> = composition
            .iter()
            .map(|(atom, count)| (atom.to_string(), count.clone()))
            .collect();
        assert_eq!(found, counts(row.get("composition")), "{text}");
        assert_eq!(composition.hill(), row.get("hill"), "{text}");
        let charge = formula.charge().map(|charge| charge.to_string());
        assert_eq!(charge.as_deref(), Some(row.get("charge")), "{text}");
        for (column, weights) in [
            ("molar_mass", &of_2021),
            ("molar_mass_2024", &of_2024),
            ("molar_mass_full", &full),
        ] {
            let printed: Ratio = row.get(column).parse().unwrap();
            assert_eq!(mass(&formula, weights), printed, "{text}: {column}");
        }
        if row.get("molar_mass") != row.get("molar_mass_2024") {
            assert!(row.get("composition").contains("Zr"), "{text}");
            revised += 1;
        }
        // The canonical text is the same formula, and its own canonical text.
        let canonical = formula.to_string();
        let again: Formula = canonical
            .parse()
            .unwrap_or_else(|e| panic!("{canonical}: {e}"));
        assert_eq!(again, formula, "{text}");
        assert_eq!(again.to_string(), canonical, "{text}");
        // The lenient reading of a text that the strict one accepts is the same formula, and not doubtful.
        let (lenient, notes) = Formula::read(text).unwrap();
        assert_eq!(lenient, formula, "{text}");
        let mut doubts = notes.iter().filter(|note| note.code() != "bracketed_water");
        assert_eq!(doubts.next(), None, "{text}");
        *ran.entry(row.get("category").to_owned()).or_default() += 1;
    }
    let ran: Vec<_> = ran.iter().map(|(kind, n)| (kind.as_str(), *n)).collect();
    let expected = [
        ("adduct", 33),
        ("brackets", 48),
        ("complex", 48),
        ("fractional", 25),
        ("hydrate", 89),
        ("hydrate-dots", 15),
        ("hydrate-spelling", 12),
        ("ion", 21),
        ("isotope", 31),
        ("simple", 60),
        ("solvate", 31),
    ];
    assert_eq!(ran, expected);
    assert_eq!(revised, 4);
}

/// The code of a refused text, if its kind does not give it.
const OTHER_CODES: [(&str, &str); 4] = [
    ("Cu(SO4", "unbalanced_bracket"),
    ("CuSO4)", "unbalanced_bracket"),
    ("(Cu]SO4", "unbalanced_bracket"),
    ("[Fe(CN]6)", "unbalanced_bracket"),
];

#[test]
fn rejects() {
    let weights = AtomicWeights::default();
    let mut ran: BTreeMap<String, usize> = BTreeMap::new();
    for row in data::rows(data::FORMULA_REJECTS) {
        let (text, kind) = (row.get("text"), row.get("kind"));
        let implied = match kind {
            "syntax" | "charge" => "bad_formula",
            "unknown_symbol" => "unknown_element",
            "no_weight" => "no_standard_weight",
            "unknown_count" => "unknown_degree",
            "ambiguous" => "suspect_case",
            other => panic!("{text}: no such kind: {other}"),
        };
        let code = OTHER_CODES
            .iter()
            .find(|(other, _)| *other == text)
            .map_or(implied, |(_, code)| code);
        let error = match kind {
            // These read well, strictly too, and have no molar mass.
            "no_weight" | "unknown_count" => {
                let formula: Formula = text.parse().unwrap_or_else(|e| panic!("{text}: {e}"));
                assert!(Formula::read(text).is_ok(), "{text}");
                formula.molar_mass(&weights).unwrap_err()
            }
            // This reads, with a note; strict reading refuses it.
            "ambiguous" => {
                let (formula, notes) = Formula::read(text).unwrap();
                let noted: Vec<_> = notes.iter().map(|note| note.code().to_owned()).collect();
                assert_eq!(noted, [code], "{text}");
                assert!(formula.molar_mass(&weights).is_ok(), "{text}");
                let error = text.parse::<Formula>().unwrap_err();
                assert_eq!(error.code(), "ambiguous_notation", "{text}: {error}");
                assert!(error.help().is_some(), "{text}: {error}");
                *ran.entry(kind.to_owned()).or_default() += 1;
                continue;
            }
            // These do not read at all, strictly or leniently.
            _ => {
                assert!(text.parse::<Formula>().is_err(), "{text}");
                Formula::read(text).expect_err(text)
            }
        };
        assert_eq!(
            error.code(),
            code,
            "{text}: {error} ({})",
            row.get("reason")
        );
        if kind != "no_weight" && kind != "unknown_count" {
            assert!(error.help().is_some(), "{text}: {error}");
            let span = error.span().unwrap_or_else(|| panic!("{text}: no span"));
            assert!(span.end <= text.len(), "{text}: {span:?}");
        }
        *ran.entry(kind.to_owned()).or_default() += 1;
    }
    let ran: Vec<_> = ran.iter().map(|(kind, n)| (kind.as_str(), *n)).collect();
    let expected = [
        ("ambiguous", 1),
        ("charge", 3),
        ("no_weight", 9),
        ("syntax", 19),
        ("unknown_count", 5),
        ("unknown_symbol", 8),
    ];
    assert_eq!(ran, expected);
}
