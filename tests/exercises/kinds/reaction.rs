//! Amounts in reactions, from the equation, the numbers and the formulas in the prompt.

use effloresce::Formula;
use effloresce::exercise::{Exercise, Exercises, Kind, Level};

use crate::paper::{Term, equation, formulas, molar_mass, numbers, waters};

/// The species of the equation in a prompt.
fn species(prompt: &str) -> Vec<Term> {
    let (_, rest) = prompt.split_once("The equation is ").expect(prompt);
    let [mut before, after] = equation(rest.split_once(". ").unwrap().0);
    before.extend(after);
    before
}

fn words(text: &str) -> Vec<&str> {
    let words = text.split_whitespace();
    words
        .map(|word| word.trim_end_matches([',', '.', ';']))
        .collect()
}

/// The species that a text names first.
fn named<'s>(words: &[&str], species: &'s [Term]) -> &'s Term {
    let mut found = words
        .iter()
        .filter_map(|word| species.iter().find(|one| one.text == *word));
    found.next().unwrap_or_else(|| panic!("{words:?}"))
}

/// What a text gives: each species with its mass in grams and its amount in moles.
fn supplies<'s>(text: &str, species: &'s [Term]) -> Vec<(&'s Term, f64, f64)> {
    let words = words(text);
    let number = |word: &str| word.parse::<f64>().ok();
    let mut found = Vec::new();
    for (place, pair) in words.windows(2).enumerate() {
        let Some(value) = number(pair[0]) else {
            continue;
        };
        let rest = &words[place + 2..];
        let of_grams = |one: &'s Term, grams: f64| (one, grams, grams / molar_mass(&one.text));
        match (pair[1], rest) {
            ("g", ["of", "a", "sample", "that", "is", percent, "%", formula, ..]) => {
                let one = named(&[*formula], species);
                found.push(of_grams(one, value * number(percent).unwrap() / 100.0));
            }
            ("g", rest) => found.push(of_grams(named(rest, species), value)),
            ("mol", rest) => {
                let one = named(rest, species);
                found.push((one, value * molar_mass(&one.text), value));
            }
            (
                "L",
                [
                    "of",
                    "a",
                    concentration,
                    "mol/L",
                    "solution",
                    "of",
                    formula,
                    ..,
                ],
            ) => {
                let one = named(&[*formula], species);
                let moles = value * number(concentration).unwrap();
                found.push((one, moles * molar_mass(&one.text), moles));
            }
            _ => {}
        }
    }
    found
}

/// The amount of reaction that the supplies allow, and the species that limits it.
fn extent<'s>(supplies: &[(&'s Term, f64, f64)]) -> (f64, &'s Term) {
    let extents = supplies
        .iter()
        .map(|(one, _, moles)| (moles / one.coefficient, *one));
    extents
        .min_by(|one, other| one.0.total_cmp(&other.0))
        .unwrap()
}

/// The text between the equation and the question, and the question.
fn given_and_asked(prompt: &str) -> (&str, &str) {
    let (_, rest) = prompt.split_once("The equation is ").unwrap();
    let (_, rest) = rest.split_once(". ").unwrap();
    rest.split_once("Work out ").unwrap()
}

fn limiting(prompt: &str, _: &Exercise) -> f64 {
    let species = species(prompt);
    let (given, asked) = given_and_asked(prompt);
    let supplies = supplies(given, &species);
    let (extent, _) = extent(&supplies);
    let to = named(&words(asked), &species);
    let formed = extent * to.coefficient;
    if asked.starts_with("the amount") {
        return formed;
    }
    let mass = formed * molar_mass(&to.text);
    if asked.contains("that is left") {
        let at_first = supplies
            .iter()
            .find(|(one, ..)| one.text == to.text)
            .unwrap()
            .1;
        return at_first - mass;
    }
    assert!(asked.contains("that forms"), "{prompt}");
    mass
}

fn percent_yield(prompt: &str, _: &Exercise) -> f64 {
    let species = species(prompt);
    let (given, _) = given_and_asked(prompt);
    let (given, obtained) = given.split_once(" It gives ").unwrap();
    let (product, obtained, _) = supplies(obtained, &species)[0];
    let (extent, _) = extent(&supplies(given, &species));
    100.0 * obtained / (extent * product.coefficient * molar_mass(&product.text))
}

fn sample_mass(prompt: &str, _: &Exercise) -> f64 {
    if prompt.starts_with("The equation is ") {
        let species = species(prompt);
        let (given, asked) = given_and_asked(prompt);
        let given = given.split(" Bench ").next().unwrap();
        let (from, _, moles) = supplies(given, &species)[0];
        let to = named(&words(asked), &species);
        return moles / from.coefficient * to.coefficient * molar_mass(&to.text);
    }
    let formulas = formulas(prompt);
    let hydrate = formulas
        .iter()
        .find(|formula| formula.contains('·'))
        .copied();
    let numbers = numbers(prompt);
    let salt = || {
        formulas
            .iter()
            .find(|formula| !formula.contains('·'))
            .copied()
            .unwrap()
    };
    let moles = match numbers[..] {
        _ if prompt.contains("smaller mass") => {
            let masses = formulas.iter().map(|formula| molar_mass(formula));
            return numbers[0] * masses.min_by(f64::total_cmp).unwrap();
        }
        [litres, concentration, ..] if prompt.contains("mol/L") => litres * concentration,
        [grams, percent, ..] if prompt.contains("% ") || prompt.contains("\u{a0}%") => {
            grams * percent / 100.0 / molar_mass(salt())
        }
        [grams, ..] if prompt.contains("g of water") => {
            grams / molar_mass("H2O") / waters(hydrate.unwrap())
        }
        [moles, ..] if prompt.contains("mol of water") => moles / waters(hydrate.unwrap()),
        [grams, ..] if prompt.contains("anhydrous") => grams / molar_mass(salt()),
        [moles, ..] => moles,
        [] => panic!("{prompt}"),
    };
    match hydrate {
        Some(hydrate) => moles * molar_mass(hydrate),
        None => {
            let name = prompt
                .split_once(" of ")
                .unwrap()
                .1
                .split('.')
                .next()
                .unwrap();
            moles * molar_mass(&Formula::from_name(name).unwrap().0.to_string())
        }
    }
}

#[test]
fn percent_yields_are_solved_again() {
    super::solve_again(Kind::Yield, &[1, 2, 3], percent_yield);
}

#[test]
fn sample_masses_are_solved_again() {
    super::solve_again(Kind::SampleMass, &[1, 2, 3], sample_mass);
}

#[test]
fn masses_in_reactions_are_solved_again() {
    super::solve_again(Kind::Limiting, &[1, 2], limiting);
    let exercises = Exercises::new(20)
        .kinds([Kind::Limiting])
        .level(Level::Judgement);
    let mut reactants = 0;
    for place in 0..80 {
        let problem = exercises.problem(place).unwrap();
        if problem.form() != "which_limits" {
            super::agrees(&problem, limiting(problem.prompt(), &problem));
            continue;
        }
        let species = species(problem.prompt());
        let (given, _) = given_and_asked(problem.prompt());
        let (_, first) = extent(&supplies(given, &species));
        assert_eq!(first.text, problem.answer(), "{}", problem.prompt());
        reactants += 1;
    }
    assert!(reactants >= 10, "{reactants}");
}

#[test]
fn problems_are_various() {
    for kind in [Kind::Limiting, Kind::Yield, Kind::SampleMass] {
        crate::sets::are_various(kind);
    }
}

#[test]
fn options_are_fair() {
    for kind in [Kind::Limiting, Kind::Yield, Kind::SampleMass] {
        crate::sets::have_fair_options(kind);
    }
}

#[test]
fn salts_decide_what_is_left() {
    let silver: Formula = "AgNO3".parse().unwrap();
    for kind in [Kind::Limiting, Kind::Yield, Kind::SampleMass] {
        let exercises = Exercises::new(3).kinds([kind]).salts([silver.clone()]);
        for place in 0..20 {
            let problem = exercises.problem(place).unwrap();
            assert!(problem.prompt().contains("AgNO3"), "{}", problem.prompt());
        }
        let error = exercises.avoid([silver.clone()]).problem(0).unwrap_err();
        let message = error.to_string();
        assert!(
            message.starts_with("`salts` (AgNO3) and `avoid` (AgNO3) leave no "),
            "{message}"
        );
    }
    let borax: Formula = "Na2B4O7".parse().unwrap();
    let exercises = Exercises::new(3).kinds([Kind::SampleMass]).salts([borax]);
    for place in 0..20 {
        let problem = exercises.problem(place).unwrap();
        let about = format!("{:?}", problem.request().fields());
        assert!(about.contains("Na2B4O7"), "{}", problem.prompt());
    }
}

/// The first stage of help has the relations, and which of two reactants limits is for the pupil to find.
#[test]
fn the_relations_do_not_name_the_limiting_reactant() {
    for (kind, level) in [
        (Kind::Limiting, Level::SeveralSteps),
        (Kind::Limiting, Level::Judgement),
        (Kind::Yield, Level::SeveralSteps),
        (Kind::Yield, Level::Judgement),
    ] {
        let exercises = Exercises::new(77).kinds([kind]).level(level);
        for place in 0..100 {
            let problem = exercises.problem(place).unwrap();
            let relations = &problem.help()[0];
            let from_two = relations.contains("limiting reactant: ");
            let names = relations.lines().any(|line| {
                let (_, relation) = line.split_once(": ").unwrap();
                relation.contains(" / ν(") && !relation.ends_with(" / ν(limiting)")
            });
            assert!(!from_two || !names, "{}\n{relations}", problem.prompt());
        }
    }
}

/// The solutions in the problems of some seeds: litres, moles in a litre, and what is dissolved.
fn solutions(kind: Kind) -> Vec<(f64, f64, String)> {
    let mut found = Vec::new();
    for level in Level::ALL {
        let exercises = Exercises::new(77).kinds([kind]).level(level);
        for place in 0..100 {
            let problem = exercises.problem(place).unwrap();
            let words = words(problem.prompt());
            for place in words.windows(2).enumerate() {
                let (place, ["L", "of"]) = (place.0, place.1) else {
                    continue;
                };
                let number = |index: usize| words[index].parse().unwrap();
                let solute = words[place + 7..].iter();
                let solute = solute.filter(|word| word.chars().any(char::is_uppercase));
                let solute = solute.clone().next().unwrap().to_string();
                found.push((number(place - 1), number(place + 3), solute));
            }
        }
    }
    found
}

/// Solubilities at 20 °C in moles in a litre, rounded up (from memory of handbook tables).
const SOLUBLE: [(&str, f64); 12] = [
    ("Na2SO4", 1.4),
    ("K2SO4", 0.65),
    ("BaCl2", 1.7),
    ("Na3PO4", 0.75),
    ("Na2CO3", 2.0),
    ("Sr(OH)2", 0.15),
    ("Ba(OH)2", 0.25),
    ("KAl(SO4)2", 0.24),
    ("Na2HPO4", 0.55),
    ("Ca(OH)2", 0.0),
    ("Mg2P2O7", 0.0),
    ("CaSO4", 0.0),
];

#[test]
fn solutions_can_be_made_and_hold_no_crystals() {
    for kind in [Kind::Limiting, Kind::Yield, Kind::SampleMass] {
        let found = solutions(kind);
        assert!(found.len() >= 15, "{kind}: {}", found.len());
        for (litres, concentration, solute) in found {
            assert!(!solute.contains('·'), "{solute}");
            // Sodium hydrogencarbonate does not crystallise from dilute solutions.
            assert_ne!(solute, "NH4HCO3");
            let limit = SOLUBLE.iter().find(|(salt, _)| *salt == solute);
            let limit = limit.map_or(2.0, |(_, limit)| *limit);
            assert!(concentration <= limit, "{concentration} mol/L {solute}");
            // Steps of 5 mL.
            let steps = litres * 200.0;
            assert!((steps - steps.round()).abs() < 1e-9, "{litres} L");
        }
    }
}

#[test]
fn masses_are_those_of_a_school() {
    for readability in ["0.01", "0.1"] {
        for kind in [Kind::Limiting, Kind::Yield, Kind::SampleMass, Kind::Factor] {
            let exercises = Exercises::new(77).kinds([kind]);
            let exercises = exercises.readability(readability.parse().unwrap()).unwrap();
            for place in 0..100 {
                let problem = exercises.problem(place).unwrap();
                let words = words(problem.prompt());
                for (place, pair) in words.windows(2).enumerate() {
                    let (Ok(grams), "g") = (pair[0].parse::<f64>(), pair[1]) else {
                        continue;
                    };
                    let rest = words[place + 2..].iter().take(4);
                    let silver = rest.clone().any(|word| ["silver", "AgNO3"].contains(word));
                    let most = if silver { 5.0 } else { 25.0 };
                    assert!(grams <= most, "{}", problem.prompt());
                }
            }
        }
    }
    // No school takes 100 g for one yield, so that a balance that shows whole grams gives no problem.
    let coarse = Exercises::new(1).kinds([Kind::Yield]);
    let coarse = coarse.readability("1".parse().unwrap()).unwrap();
    let error = coarse.problem(0).unwrap_err();
    assert!(error.to_string().contains("too coarse"), "{error}");
    assert!(error.help().unwrap().contains("smaller step"), "{error:?}");
}
