//! The percentage of water, from the formulas or names in the prompt.

use effloresce::Formula;
use effloresce::exercise::{Exercise, Kind};

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
            let name = name
                .strip_suffix(" is heated until all of its water has left")
                .unwrap_or(name);
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
