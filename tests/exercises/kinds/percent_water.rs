//! The percentage of water, from the formulas or names in the prompt.

use effloresce::Formula;
use effloresce::exercise::{Exercise, Exercises, Kind, Level};

use crate::paper::{formulas, molar_mass, numbers, waters};

fn percent(hydrate: &str) -> f64 {
    100.0 * waters(hydrate) * molar_mass("H2O") / molar_mass(hydrate)
}

fn solve(prompt: &str, _: &Exercise) -> f64 {
    let formulas = formulas(prompt);
    match formulas.as_slice() {
        [salt] if prompt.contains("for each formula unit") => {
            let water = numbers(prompt)[0] * molar_mass("H2O");
            100.0 * water / (molar_mass(salt) + water)
        }
        [hydrate] => percent(hydrate),
        [one, two] if prompt.contains("holds more") => percent(one).max(percent(two)),
        [one, two] => percent(one).min(percent(two)),
        _ if prompt.contains("for each formula unit") => {
            let name = prompt.split_once("When ").unwrap().1;
            let name = name.split_once(" crystallises").unwrap().0;
            let salt = Formula::from_name(name).unwrap().0.to_string();
            let water = numbers(prompt)[0] * molar_mass("H2O");
            100.0 * water / (molar_mass(&salt) + water)
        }
        _ if prompt.contains('“') => {
            let name = prompt.split(['“', '”']).nth(1).unwrap();
            percent(&Formula::from_name(name).unwrap().0.to_string())
        }
        _ => {
            let name = prompt.split_once(" of ").unwrap().1;
            let name = name.split(['.']).next().unwrap();
            let name = name.split(" is heated ").next().unwrap();
            percent(&Formula::from_name(name).unwrap().0.to_string())
        }
    }
}

#[test]
fn prompts_are_solved_again() {
    super::solve_again(Kind::PercentWater, &[1, 2, 3], solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::PercentWater);
    crate::sets::have_fair_options(Kind::PercentWater);
}

#[test]
fn a_salt_that_is_not_heated_has_problems_without_heating() {
    let exercises = |seed, level| {
        let exercises = Exercises::new(seed).kinds([Kind::PercentWater]);
        exercises
            .salts(["NiSO4·6H2O".parse().unwrap()])
            .level(level)
    };
    for seed in 0..30 {
        for level in [Level::OneStep, Level::SeveralSteps] {
            let problem = exercises(seed, level).problem(0).unwrap();
            assert!(!problem.prompt().contains("heated"), "{}", problem.prompt());
        }
    }
    let one_hydrate = Exercises::new(1)
        .kinds([Kind::PercentWater])
        .salts(["CuSO4".parse().unwrap()])
        .level(Level::Judgement);
    let error = one_hydrate.problem(0).unwrap_err();
    assert_eq!(
        error.to_string(),
        "`salts` (CuSO4) leaves no two hydrates to compare"
    );
}

#[test]
fn early_help_decides_nothing() {
    super::early_help_decides_nothing(Kind::PercentWater);
}

#[test]
fn feedback_stays_on_paper() {
    super::feedback_stays_on_paper(Kind::PercentWater, |_| false);
}
