//! The formula of a hydrate from the weighings of a crucible.

use effloresce::exercise::Kind;

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
