//! Equations balanced again: the species are read out of the prompt, and the coefficients found by elimination.

use std::collections::{BTreeMap, BTreeSet};

use effloresce::Formula;
use effloresce::exercise::{Exercises, Kind, Level};

use crate::paper::{Term, equation};

/// The atoms and the charge of one formula unit, in twelfths, so that halves and thirds are whole.
fn contents(term: &Term) -> BTreeMap<String, i128> {
    let twelfths = |count: f64| (count * 12.0).round() as i128;
    let atoms = term.atoms.iter();
    let mut contents: BTreeMap<String, i128> = atoms
        .map(|(symbol, count)| (symbol.clone(), twelfths(*count)))
        .collect();
    contents.insert("charge".into(), twelfths(term.charge));
    contents
}

/// The smallest whole numbers that conserve all atoms and the charge; the only ones, up to a factor.
fn smallest(reactants: &[Term], products: &[Term]) -> Vec<i128> {
    let columns: Vec<BTreeMap<String, i128>> =
        reactants.iter().chain(products).map(contents).collect();
    let conserved: BTreeSet<&String> = columns.iter().flat_map(BTreeMap::keys).collect();
    let mut rows: Vec<Vec<i128>> = conserved
        .iter()
        .map(|what| {
            let counts = columns.iter().enumerate().map(|(index, column)| {
                let sign = if index < reactants.len() { 1 } else { -1 };
                sign * column.get(*what).copied().unwrap_or(0)
            });
            counts.collect()
        })
        .collect();
    let mut pivots = Vec::new();
    for column in 0..columns.len() {
        let next = pivots.len();
        let Some(row) = (next..rows.len()).find(|row| rows[*row][column] != 0) else {
            continue;
        };
        rows.swap(next, row);
        let pivot = rows[next].clone();
        for (_, row) in rows
            .iter_mut()
            .enumerate()
            .filter(|(index, _)| *index != next)
        {
            let factor = row[column];
            for (value, other) in row.iter_mut().zip(&pivot) {
                *value = *value * pivot[column] - factor * other;
            }
            let divisor = row.iter().fold(0, |a, b| gcd(a, *b)).max(1);
            row.iter_mut().for_each(|value| *value /= divisor);
        }
        pivots.push(column);
    }
    let free: Vec<usize> = (0..columns.len())
        .filter(|column| !pivots.contains(column))
        .collect();
    assert_eq!(free.len(), 1, "one way to balance, and no other");
    let multiple: i128 = pivots
        .iter()
        .enumerate()
        .map(|(row, column)| rows[row][*column].abs())
        .fold(1, |a, b| a / gcd(a, b) * b);
    let mut found = vec![multiple; columns.len()];
    for (row, column) in pivots.iter().enumerate() {
        found[*column] = -rows[row][free[0]] * multiple / rows[row][*column];
    }
    let divisor = found.iter().fold(0, |a, b| gcd(a, *b));
    found.iter().map(|count| count / divisor).collect()
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}

/// The formula of a name in a prompt.
fn formula(name: &str) -> String {
    let known = [
        ("water", "H2O"),
        ("carbon dioxide", "CO2"),
        ("hydrogen", "H2"),
        ("oxygen", "O2"),
        ("nitrogen", "N2"),
        ("hydrogen chloride", "HCl"),
        ("sulfuric acid", "H2SO4"),
        ("ammonia", "NH3"),
        ("methane", "CH4"),
        ("magnesium", "Mg"),
        ("zinc", "Zn"),
        ("iron", "Fe"),
        ("copper", "Cu"),
        ("silver", "Ag"),
        ("aluminium", "Al"),
        ("calcium", "Ca"),
        ("sodium", "Na"),
        ("carbon", "C"),
    ];
    match known.iter().find(|(known, _)| *known == name) {
        Some((_, formula)) => (*formula).to_string(),
        None => Formula::from_name(name)
            .unwrap_or_else(|_| panic!("{name}"))
            .0
            .to_string(),
    }
}

/// The species of a prompt, from its equation or from its names.
fn species(prompt: &str) -> [Vec<Term>; 2] {
    if let Some((_, names)) = prompt.split_once(" Before: ") {
        let (before, after) = names.trim_end_matches('.').split_once(". After: ").unwrap();
        let terms = |names: &str| {
            let names = names.replace(" and ", ", ");
            let names = names.split(", ").map(|name| Term::new(&formula(name)));
            names.collect::<Vec<Term>>()
        };
        return [terms(before), terms(after)];
    }
    equation(prompt.rsplit_once(": ").unwrap().1)
}

#[test]
fn prompts_are_solved_again() {
    let mut forms = BTreeSet::new();
    for level in Level::ALL {
        let exercises = Exercises::new(21).kinds([Kind::Balance]).level(level);
        for place in 0..60 {
            let problem = exercises.problem(place).unwrap();
            let (prompt, answer) = (problem.prompt(), problem.answer());
            let [before, after] = species(prompt);
            let right = smallest(&before, &after);
            let [one, other] = equation(&answer);
            let given: Vec<i128> = one
                .iter()
                .chain(&other)
                .map(|term| term.coefficient as i128)
                .collect();
            assert_eq!(given, right, "{prompt}: {answer}");
            let same = |one: &[Term], other: &[Term]| {
                one.iter()
                    .zip(other)
                    .all(|(one, other)| one.text == other.text)
                    && one.len() == other.len()
            };
            assert!(
                same(&one, &before) && same(&other, &after),
                "{prompt}: {answer}"
            );
            assert!(!prompt.ends_with(&format!(": {answer}")));
            assert!(right.iter().any(|count| *count > 1), "{prompt}");
            forms.insert(problem.form().to_string());
        }
    }
    assert_eq!(forms.len(), 6, "{forms:?}");
}

#[test]
fn problems_are_various() {
    crate::sets::are_various(Kind::Balance);
}

#[test]
fn salts_decide_what_is_left() {
    let silver = Exercises::new(1)
        .kinds([Kind::Balance])
        .salts(["AgNO3".parse().unwrap()]);
    for place in 0..30 {
        let problem = silver.problem(place).unwrap();
        assert!(problem.answer().contains("AgNO3"), "{}", problem.answer());
    }
    let error = silver
        .avoid(["AgNO3".parse().unwrap()])
        .problem(0)
        .unwrap_err();
    assert_eq!(
        error.to_string(),
        "`salts` (AgNO3) and `avoid` (AgNO3) leave no equation"
    );
}
