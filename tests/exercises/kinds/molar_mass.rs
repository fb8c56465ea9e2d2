//! The molar mass of a hydrate or its salt, from the formulas or names in the prompt.

use effloresce::Formula;
use effloresce::exercise::{ErrorKind, Exercise, Exercises, Kind};

use crate::paper::{formulas, molar_mass, numbers, waters};

fn formula(name: &str) -> String {
    Formula::from_name(name).unwrap().0.to_string()
}

fn solve(prompt: &str, _: &Exercise) -> f64 {
    let found = formulas(prompt);
    let water = molar_mass("H2O");
    match found.as_slice() {
        [salt] if prompt.contains("for each formula unit") => {
            molar_mass(salt) + numbers(prompt)[0] * water
        }
        [hydrate] if prompt.contains("without its water") => {
            molar_mass(hydrate) - waters(hydrate) * water
        }
        [hydrate] => molar_mass(hydrate),
        [one, two] => {
            let (one, two) = (molar_mass(one), molar_mass(two));
            match prompt.contains("greater") || prompt.contains("fewer") {
                true => one.max(two),
                false => one.min(two),
            }
        }
        _ if prompt.contains("for each formula unit") => {
            let name = prompt.split_once("When ").unwrap().1;
            let salt = formula(name.split_once(" crystallises").unwrap().0);
            molar_mass(&salt) + numbers(prompt)[0] * water
        }
        _ => {
            let name = match prompt.split(['“', '”']).nth(1) {
                Some(name) => name,
                None => prompt
                    .split_once(" of ")
                    .unwrap()
                    .1
                    .split('.')
                    .next()
                    .unwrap(),
            };
            let hydrate = formula(name);
            match prompt.contains("without its water") {
                true => molar_mass(&hydrate) - waters(&hydrate) * water,
                false => molar_mass(&hydrate),
            }
        }
    }
}

#[test]
fn prompts_are_solved_again() {
    super::solve_again(Kind::MolarMass, &[1, 2, 3], solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::MolarMass);
    crate::sets::have_fair_options(Kind::MolarMass);
}

#[test]
fn what_is_left_decides() {
    let copper = || "CuSO4·5H2O".parse().unwrap();
    let exercises = |seed| Exercises::new(seed).kinds([Kind::MolarMass]);
    for seed in 0..20 {
        let problem = exercises(seed)
            .salts([copper(), "MgSO4".parse().unwrap()])
            .problem(0)
            .unwrap();
        let request = format!("{:?}", problem.request());
        assert!(
            request.contains("CuSO4") || request.contains("MgSO4"),
            "{request}"
        );
    }
    let nothing = exercises(1)
        .salts([copper()])
        .avoid([copper()])
        .problem(0)
        .unwrap_err();
    assert_eq!(nothing.kind(), ErrorKind::Exhausted);
    assert!(nothing.to_string().contains("CuSO4"), "{nothing}");
}

#[test]
fn early_help_decides_nothing() {
    super::early_help_decides_nothing(Kind::MolarMass);
}
