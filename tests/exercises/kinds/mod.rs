//! The printed prompts solved again: one file a kind.

mod balance;
mod empirical;
mod error_analysis;
mod factor;
mod formula_from_masses;
mod formula_from_percent;
mod formula_from_weighings;
mod formulas;
mod heat;
mod mixture;
mod molar_mass;
mod percent_water;
mod reaction;
mod stages;

use effloresce::exercise::{Exercise, Exercises, Kind, Level};

/// Solves 60 problems of each level with numbers for answers. `solve` sees the prompt only.
pub(crate) fn solve_again(kind: Kind, levels: &[u32], solve: impl Fn(&str, &Exercise) -> f64) {
    let mut solved = 0;
    for level in levels {
        let exercises = Exercises::new(20)
            .kinds([kind])
            .level(Level::new(*level).unwrap());
        for place in 0..60 {
            let problem = exercises.problem(place).unwrap();
            let found = solve(problem.prompt(), &problem);
            agrees(&problem, found);
            solved += 1;
        }
    }
    assert_eq!(solved, 60 * levels.len());
}

/// Compares a number found on paper with the answer of a problem.
fn agrees(problem: &Exercise, found: f64) {
    let answer: f64 = problem.answer().parse().unwrap();
    let figures = asked_figures(problem.prompt());
    let magnitude = answer.abs().log10().floor() as i32;
    let unit = 10_f64.powi(magnitude + 1 - figures);
    assert!(
        (found - answer).abs() <= 0.5000001 * unit,
        "{}: {found} is not {answer}",
        problem.prompt()
    );
    let tolerance = problem.tolerance().unwrap();
    assert!(tolerance.low().to_f64() <= found && found <= tolerance.high().to_f64());
}

/// The number in "Give your answer to 3 significant figures."
fn asked_figures(prompt: &str) -> i32 {
    let (before, _) = prompt.rsplit_once(" significant figures.").expect(prompt);
    before
        .rsplit(' ')
        .next()
        .and_then(|word| word.parse().ok())
        .expect(prompt)
}
