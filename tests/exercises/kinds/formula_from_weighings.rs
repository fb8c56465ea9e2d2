//! The formula of a hydrate from the weighings of a crucible.

use effloresce::exercise::{Exercises, Kind, Level};

use super::formulas::{
    Found, answered, given, keep_to_the_salts, left, never_fail, ratio, salt, solve_again,
};
use crate::paper::{formulas, molar_mass};

fn solve(prompt: &str) -> Found {
    let mut masses = given(prompt);
    if let Some((before, criterion)) = prompt.split_once("differ by at most ") {
        // The criterion comes after the weighings, and the last two meet it.
        let criterion: f64 = criterion.split('\u{a0}').next().unwrap().parse().unwrap();
        masses.truncate(given(before).len());
        let [.., one, other] = masses[..] else {
            panic!("{prompt}")
        };
        let constant = (one - other).abs() < criterion * 1.0001;
        assert_eq!(constant, !prompt.contains("not constant yet"), "{prompt}");
    }
    let [empty, full, ref heated @ ..] = masses[..] else {
        panic!("{prompt}")
    };
    let hydrate = full - empty;
    if prompt.contains("in the end") {
        let whole = formulas(prompt)[0];
        let dry = whole.split('·').next().unwrap();
        return Found::Number(hydrate * molar_mass(dry) / molar_mass(whole));
    }
    let (last, before) = (heated[heated.len() - 1], heated[heated.len().max(2) - 2]);
    let used = if prompt.contains("lowest mass counts") {
        heated.iter().copied().fold(f64::MAX, f64::min)
    } else if prompt.contains("mean of the last two") {
        (last + before) / 2.0
    } else {
        last
    };
    let residue = used - empty;
    if prompt.contains("percentage by mass") {
        return Found::Number(100.0 * (hydrate - residue) / hydrate);
    }
    let salt = salt(prompt);
    let x = ratio(left(prompt, &salt), hydrate - residue, residue);
    answered(prompt, &salt, x)
}

#[test]
fn prompts_are_solved_again() {
    solve_again(Kind::FormulaFromWeighings, solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::FormulaFromWeighings);
    crate::sets::have_fair_options(Kind::FormulaFromWeighings);
}

#[test]
fn problems_keep_to_the_salts() {
    keep_to_the_salts(Kind::FormulaFromWeighings);
}

#[test]
fn no_seed_fails() {
    never_fail(Kind::FormulaFromWeighings);
}

#[test]
fn feedback_and_working_keep_to_the_masses_that_count() {
    let exercises = Exercises::new(9).kinds([Kind::FormulaFromWeighings]);
    let exercises = exercises.level(Level::Judgement);
    let mut seen = [0; 3];
    for place in 0..80 {
        let problem = exercises.problem(place).unwrap();
        let feedback = |code: &str| {
            let mut options = problem.options().iter();
            let option = options.find(|option| option.wrong_step() == Some(code));
            option.map_or("", |option| option.feedback())
        };
        match problem.form() {
            "lowest_weighing" | "mean_of_last_two" => {
                assert!(!feedback("first_heating_used").contains("Use the last"));
                seen[0] += 1;
            }
            "mass_not_yet_constant" => {
                let [relation, numbers, _] = problem.help();
                assert!(relation.starts_with("mass of hydrate: "), "{relation}");
                assert!(numbers.lines().next().unwrap().contains(" − "), "{numbers}");
                assert_eq!(feedback("one_water_counted"), "");
                assert_eq!(feedback("salt_water_swapped"), "");
                seen[1] += 1;
            }
            _ => seen[2] += 1,
        }
    }
    assert!(seen.iter().all(|count| *count > 5), "{seen:?}");
}
