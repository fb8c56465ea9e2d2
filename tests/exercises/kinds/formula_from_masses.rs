//! The formula of a hydrate from two masses.

use effloresce::exercise::Kind;

use super::formulas::{
    Found, answered, given, keep_to_the_salts, left, never_fail, ratio, salt, solve_again,
};

fn solve(prompt: &str) -> Found {
    let salt = salt(prompt);
    let masses = given(prompt);
    let [one, other] = masses[..] else {
        panic!("{prompt}")
    };
    let (hydrate, residue) = (one.max(other), one.min(other));
    let x = ratio(left(prompt, &salt), hydrate - residue, residue);
    answered(prompt, &salt, x)
}

#[test]
fn prompts_are_solved_again() {
    solve_again(Kind::FormulaFromMasses, solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::FormulaFromMasses);
    crate::sets::have_fair_options(Kind::FormulaFromMasses);
}

#[test]
fn problems_keep_to_the_salts() {
    keep_to_the_salts(Kind::FormulaFromMasses);
}

#[test]
fn no_seed_fails() {
    never_fail(Kind::FormulaFromMasses);
}
