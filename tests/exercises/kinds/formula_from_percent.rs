//! The formula of a hydrate from its percentage of water.

use effloresce::exercise::{Exercises, Kind, Level, OwnSalts};

use super::formulas::{
    Found, answered, given, keep_to_the_salts, left, never_fail, ratio, salt, solve_again,
};

fn solve(prompt: &str) -> Found {
    let salt = salt(prompt);
    let (lost, stays) = match given(prompt)[..] {
        [percent] => (percent, 100.0 - percent),
        [whole, part] => (whole - part, part),
        _ => panic!("{prompt}"),
    };
    let x = ratio(left(prompt, &salt), lost, stays);
    answered(prompt, &salt, x)
}

#[test]
fn prompts_are_solved_again() {
    solve_again(Kind::FormulaFromPercent, solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::FormulaFromPercent);
    crate::sets::have_fair_options(Kind::FormulaFromPercent);
}

#[test]
fn problems_keep_to_the_salts() {
    keep_to_the_salts(Kind::FormulaFromPercent);
}

#[test]
fn no_seed_fails() {
    never_fail(Kind::FormulaFromPercent);
}

#[test]
fn an_authors_hydrate_need_not_be_in_the_catalogue() {
    let salts = OwnSalts::read("hydrate\nNaBr·3H2O\nK2S2O3·5H2O\n".as_bytes()).unwrap();
    for level in Level::ALL {
        let exercises = Exercises::new(1)
            .kinds([Kind::FormulaFromPercent])
            .level(level)
            .own_salts(salts.clone());
        for place in 0..20 {
            let problem = exercises.problem(place).unwrap();
            if let Found::Formula(found) = solve(problem.prompt()) {
                assert_eq!(problem.answer(), found, "{}", problem.prompt());
            }
        }
    }
}

#[test]
fn feedback_stays_on_paper() {
    super::feedback_stays_on_paper(Kind::FormulaFromPercent, |problem| {
        problem.form() == "lower_hydrate_left"
    });
}

#[test]
fn the_working_starts_from_100_g() {
    for place in 0..40 {
        let exercises = Exercises::new(9).kinds([Kind::FormulaFromPercent]);
        let problem = exercises.level(Level::SeveralSteps).problem(place).unwrap();
        if problem.form() != "shares_from_name" {
            let [relation, numbers, _] = problem.help();
            assert!(relation.contains("100 g − m(H2O)"), "{relation}");
            assert!(
                numbers.contains(" g/mol") && numbers.contains(" mol / "),
                "{numbers}"
            );
        }
    }
}
