//! The tables of standard atomic weights and of nuclide masses, value by value.

use effloresce::element::{Edition, StandardWeight, Values, nuclide_mass};
use effloresce::{AtomicWeights, Element, Ratio, Reading};

use crate::data::{self, Row};

/// The standard weight as the table's columns would write it.
fn columns(weight: StandardWeight) -> (&'static str, Option<Reading>, Option<Reading>) {
    match weight {
        StandardWeight::Interval { lower, upper } => ("interval", Some(lower), Some(upper)),
        StandardWeight::Value { value, uncertainty } => ("value", Some(value), Some(uncertainty)),
        StandardWeight::None => ("none", None, None),
    }
}

#[track_caller]
fn same(element: Element, what: &str, got: Option<Reading>, printed: Option<&str>) {
    let got = got.map(|reading| reading.to_string());
    assert_eq!(got.as_deref(), printed, "{element}: {what}");
}

#[track_caller]
fn check_2021(element: Element, row: &Row, edition: Edition) {
    let (kind, first, second) = columns(element.standard_weight(edition));
    assert_eq!(kind, row.get("kind"), "{element}");
    let names = if kind == "interval" {
        ["lower", "upper"]
    } else {
        ["value", "uncertainty"]
    };
    same(element, names[0], first, row.filled(names[0]));
    same(element, names[1], second, row.filled(names[1]));
    let abridged = element.abridged(edition);
    let (value, limit) = (abridged.map(|a| a.0), abridged.map(|a| a.1));
    same(element, "abridged", value, row.filled("abridged"));
    same(
        element,
        "abridged ±",
        limit,
        row.filled("abridged_uncertainty"),
    );
    let conventional = element.conventional(edition);
    same(
        element,
        "conventional",
        conventional,
        row.filled("conventional"),
    );
}

#[test]
fn all_118_weights_of_2021() {
    let rows = data::rows(data::ATOMIC_WEIGHTS);
    let mut kinds = [0; 3];
    for (element, row) in Element::ALL.iter().copied().zip(&rows) {
        assert_eq!(element.number().to_string(), row.get("z"));
        assert_eq!(element.symbol(), row.get("symbol"));
        assert_eq!(element.name(), row.get("name"));
        assert_eq!(Element::from_symbol(row.get("symbol")), Some(element));
        check_2021(element, row, Edition::Iupac2021);
        let kind = ["interval", "value", "none"]
            .iter()
            .position(|kind| *kind == row.get("kind"));
        kinds[kind.unwrap()] += 1;
    }
    assert_eq!((rows.len(), kinds), (118, [14, 70, 34]));
}

#[test]
fn all_118_weights_of_2024() {
    let revised = data::rows(data::REVISIONS_2024);
    let rows = data::rows(data::ATOMIC_WEIGHTS);
    let (mut unchanged, mut changed) = (0, 0);
    for (element, row) in Element::ALL.iter().copied().zip(&rows) {
        let revision = revised
            .iter()
            .find(|row| row.get("symbol") == element.symbol());
        let Some(revision) = revision else {
            check_2021(element, row, Edition::Iupac2024);
            unchanged += 1;
            continue;
        };
        // The row of 2021 is the one that the revision says it replaces.
        assert_eq!(row.get("value"), revision.get("value_2021"));
        assert_eq!(row.get("uncertainty"), revision.get("uncertainty_2021"));
        let (kind, value, uncertainty) = columns(element.standard_weight(Edition::Iupac2024));
        assert_eq!(kind, "value");
        same(element, "value", value, revision.filled("value_2024"));
        same(
            element,
            "±",
            uncertainty,
            revision.filled("uncertainty_2024"),
        );
        let (value, limit) = element.abridged(Edition::Iupac2024).unwrap();
        same(
            element,
            "abridged",
            Some(value),
            revision.filled("abridged_2024"),
        );
        let printed = revision.filled("abridged_uncertainty_2024");
        same(element, "abridged ±", Some(limit), printed);
        changed += 1;
    }
    assert_eq!((unchanged, changed), (115, 3));
}

/// What a calculation uses, column by column.
#[test]
fn the_columns_of_a_table() {
    let mut ran = 0;
    for row in data::rows(data::ATOMIC_WEIGHTS) {
        let element: Element = row.get("symbol").parse().unwrap();
        let table = AtomicWeights::new(Edition::Iupac2021);
        let weight = |values| {
            let found = table.clone().values(values).weight(element);
            found.map(|weight| weight.value().clone())
        };
        let Some(abridged) = row.filled("abridged") else {
            let error = weight(Values::Abridged).unwrap_err();
            assert_eq!(error.code(), "no_standard_weight", "{element}");
            assert!(error.help().is_some(), "{element}");
            continue;
        };
        let conventional = row.filled("conventional").unwrap_or(abridged);
        let full = row.filled("value").unwrap_or(abridged);
        assert_eq!(weight(Values::Abridged).unwrap(), abridged.parse().unwrap());
        assert_eq!(
            weight(Values::Conventional).unwrap(),
            conventional.parse().unwrap()
        );
        assert_eq!(weight(Values::Full).unwrap(), full.parse().unwrap());
        ran += 1;
    }
    assert_eq!(ran, 84);
}

#[test]
fn nuclide_masses() {
    let rows = data::rows(data::ISOTOPES);
    for row in &rows {
        let element: Element = row.get("symbol").parse().unwrap();
        let number: u16 = row.get("mass_number").parse().unwrap();
        let (mass, uncertainty) = nuclide_mass(element, number).unwrap();
        same(element, row.get("nuclide"), Some(mass), row.filled("mass"));
        same(
            element,
            row.get("nuclide"),
            Some(uncertainty),
            row.filled("uncertainty"),
        );
    }
    assert_eq!(rows.len(), 76);
}

/// What a package's weight agrees with, worked out from the crate's tables.
fn agreement(element: Element, weight: &Ratio) -> &'static str {
    let full = |edition| AtomicWeights::new(edition).values(Values::Full);
    let ours = |edition| Some(full(edition).weight(element).ok()?.value().clone());
    let (then, now) = (ours(Edition::Iupac2021), ours(Edition::Iupac2024));
    let Some((then, now)) = then.zip(now) else {
        return "no standard weight";
    };
    match (*weight == then, *weight == now) {
        (true, true) => "both",
        (true, false) => "2021",
        (false, true) => "2024",
        (false, false) => {
            // Editions differ by little: what differs by more is no atomic weight.
            let share = weight.checked_div(&now).unwrap().to_f64();
            assert!((share - 1.0).abs() < 1e-4, "{element}: {weight:?}");
            "other edition"
        }
    }
}

/// Element by element against two general reference packages: 150 of their 168 standard weights are
/// those of both editions, 6 those that 2024 revised, 12 of an earlier edition.
#[test]
fn weights_against_two_packages() {
    let rows = data::rows(data::PACKAGES);
    let mut found = std::collections::BTreeMap::new();
    for (element, row) in Element::ALL.iter().copied().zip(&rows) {
        assert_eq!(row.get("z"), element.number().to_string());
        assert_eq!(row.get("symbol"), element.symbol());
        for package in ["a", "b"] {
            let weight: Ratio = row.get(package).parse().unwrap();
            let agrees = agreement(element, &weight);
            let said = row.get(&format!("{package}_agrees"));
            assert_eq!(said, agrees, "{element}, package {package}");
            *found.entry((package, agrees)).or_insert(0) += 1;
        }
    }
    assert_eq!(rows.len(), 118);
    let found: Vec<_> = found.into_iter().collect();
    let expected = [
        (("a", "2021"), 3),
        (("a", "both"), 69),
        (("a", "no standard weight"), 34),
        (("a", "other edition"), 12),
        (("b", "2021"), 3),
        (("b", "both"), 81),
        (("b", "no standard weight"), 34),
    ];
    assert_eq!(found, expected);
    // A false weight would be told.
    let oxygen: Element = "O".parse().unwrap();
    assert_eq!(
        agreement(oxygen, &"15.998".parse().unwrap()),
        "other edition"
    );
    let far = std::panic::catch_unwind(|| agreement(oxygen, &"16.1".parse().unwrap()));
    assert!(far.is_err());
}
