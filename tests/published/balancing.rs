//! Equations with their coefficients: molecular, net ionic, half-reactions, hydrates, puzzles.

use effloresce::Ratio;
use effloresce::reaction::{Balanced, Balancer, Equation};

use crate::data::{self, Example};
use crate::example::{Answer, Answers, Tally, run};

pub(crate) const SHELF: &str = "balancing";

/// The equation of a row; its reactants and products as the row spells them, with these
/// coefficients where there are any.
fn equation(example: &Example, coefficients: Option<&[String]>) -> Equation {
    let [reactants, products] = ["reactants", "products"].map(|side| example.list(side));
    let species = reactants.iter().chain(&products).copied();
    let species: Vec<String> = match coefficients {
        None => species.map(str::to_owned).collect(),
        Some(counts) => {
            assert_eq!(counts.len(), species.clone().count(), "{}", example.id);
            let each = species.zip(counts);
            each.map(|(formula, n)| format!("{n} {formula}")).collect()
        }
    };
    let (left, right) = species.split_at(reactants.len());
    let text = format!("{} -> {}", left.join(" + "), right.join(" + "));
    text.parse()
        .unwrap_or_else(|error| panic!("{}: {text}: {error}", example.id))
}

/// What the row fixes, if it fixes anything.
fn balance(example: &Example) -> Balanced {
    let equation = equation(example, None);
    let mut balance = Balancer::of(&equation);
    for (species, count) in example.inputs["fixed"].as_object().into_iter().flatten() {
        let count = count.to_string().parse().unwrap();
        balance = balance.fix(&species.parse().unwrap(), count).unwrap();
    }
    let balanced = balance.run();
    balanced.unwrap_or_else(|error| panic!("{}: {error}", example.id))
}

/// The printed coefficients.
fn printed(example: &Example) -> Vec<String> {
    let whole = example.expected["coefficients"].as_array();
    let list = whole.or(example.expected["coefficients_fractional"].as_array());
    let list = list.unwrap_or_else(|| panic!("{}: no coefficients", example.id));
    let text = |one: &serde_json::Value| match one.as_str() {
        Some(text) => text.to_owned(),
        None => one.to_string(),
    };
    list.iter().map(text).collect()
}

fn fraction(value: &Ratio) -> String {
    match value.to_parts() {
        Some((above, 1)) => above.to_string(),
        Some((above, below)) => format!("{above}/{below}"),
        None => panic!("no coefficient is as large"),
    }
}

/// How many independent balances an equation has.
fn nullity(equation: &Equation) -> usize {
    equation
        .balance()
        .map_or_else(|error| error.nullity(), |_| 1)
}

pub(crate) fn work_out(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let balanced = balance(example);
    let found = balanced.coefficients();
    let whole = found.iter().enumerate();
    answers.extend(whole.map(|(place, n)| {
        let key = format!("coefficients/{place}");
        (key, Answer::Number(n.clone()))
    }));
    // Where fractions are printed: the same proportions, the first species as it is printed.
    let printed = printed(example);
    let first: Ratio = printed[0].parse().unwrap();
    for (place, n) in found.iter().enumerate() {
        let scaled = (n * &first).checked_div(&found[0]).unwrap();
        let key = format!("coefficients_fractional/{place}");
        answers.insert(key, Answer::Text(fraction(&scaled)));
    }
    let nullity = nullity(&equation(example, None));
    let nullity = Ratio::from(i128::try_from(nullity).unwrap());
    answers.insert("nullity".to_owned(), Answer::Number(nullity));
    let check = equation(example, Some(&printed)).check().unwrap();
    let balances = Answer::Flag(check.is_balanced());
    answers.insert("printed_balances".to_owned(), balances);
    answers
}

#[test]
fn every_row() {
    let tally = run(SHELF, &[]);
    let expected = Tally {
        exact: 58,
        tolerance: 0,
        source_error: 0,
        definition: 0,
        printed: 279,
        recomputed: 391,
    };
    assert_eq!(tally, expected);
}

/// The other way round the coefficients are the same, the other way round.
#[test]
fn and_reversed() {
    let mut rows = 0;
    for example in data::examples() {
        if example.shelf != SHELF || !example.inputs["fixed"].is_null() {
            continue;
        }
        rows += 1;
        let forward = equation(&example, None);
        let found = forward.balance().unwrap();
        let back = forward.reversed().balance().unwrap();
        let (left, right) = found.coefficients().split_at(forward.reactants().len());
        assert_eq!(
            back.coefficients(),
            [right, left].concat(),
            "{}",
            example.id
        );
    }
    assert_eq!(rows, 57);
}

/// A coefficient one too large anywhere, and the equation is seen to be off.
#[test]
fn a_wrong_coefficient_is_seen() {
    let mut tried = 0;
    for example in data::examples() {
        if example.shelf != SHELF {
            continue;
        }
        for place in 0..printed(&example).len() {
            let mut wrong = printed(&example);
            let more = &wrong[place].parse().unwrap() + &Ratio::ONE;
            wrong[place] = fraction(&more);
            let check = equation(&example, Some(&wrong)).check().unwrap();
            assert!(!check.is_balanced(), "{}: {wrong:?}", example.id);
            tried += 1;
        }
    }
    assert_eq!(tried, 279);
}
