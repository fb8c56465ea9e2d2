//! The formula of a hydrate from two masses.

use effloresce::exercise::{Exercise, Exercises, Kind, Level};

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

#[test]
fn feedback_stays_on_paper() {
    let has_bench = |problem: &Exercise| problem.prompt().contains("heated");
    super::feedback_stays_on_paper(Kind::FormulaFromMasses, has_bench);
}

#[test]
fn water_taken_up_leaves_no_residue() {
    for place in 0..60 {
        let exercises = Exercises::new(8).kinds([Kind::FormulaFromMasses]);
        let problem = exercises.level(Level::OneStep).problem(place).unwrap();
        if problem.prompt().contains("takes up") {
            assert!(!problem.help().concat().contains("residue"), "{problem:?}");
        }
    }
}

/// A phosphate loses water of its own if it is heated too much.
#[test]
fn phosphates_are_heated_gently() {
    for kind in [Kind::FormulaFromMasses, Kind::FormulaFromWeighings] {
        let exercises = Exercises::new(8).kinds([kind]);
        let exercises = exercises.salts(["NaH2PO4".parse().unwrap()]);
        for place in 0..20 {
            let problem = exercises.problem(place).unwrap();
            let prompt = problem.prompt();
            assert!(
                !prompt.contains("heat") || prompt.contains(" gently "),
                "{prompt}"
            );
        }
    }
}

/// Who finds out which hydrate it is needs the steps to its formula, too.
#[test]
fn the_hydrate_is_found_before_its_percentage() {
    let mut seen = 0;
    for kind in [Kind::FormulaFromMasses, Kind::FormulaFromPercent] {
        let exercises = Exercises::new(8).kinds([kind]).level(Level::Judgement);
        for place in 0..40 {
            let problem = exercises.problem(place).unwrap();
            if problem.form() == "expected_percent" {
                let steps = problem.working().steps();
                let formula = steps.iter().position(|step| step.relation() == "so");
                assert_eq!(formula, Some(steps.len() - 3));
                seen += 1;
            }
        }
    }
    assert!(seen > 10, "{seen}");
}

/// A label names hydrates that are known.
#[test]
fn no_label_names_an_invented_hydrate() {
    for kind in [Kind::FormulaFromMasses, Kind::FormulaFromPercent] {
        let exercises = Exercises::new(8).kinds([kind]).level(Level::Judgement);
        for place in 0..60 {
            let problem = exercises.problem(place).unwrap();
            assert!(
                problem.prompt().starts_with("The label")
                    || problem.prompt().starts_with("The balance"),
                "{}",
                problem.prompt()
            );
        }
    }
}
