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

/// The first stage of help names no formula that is to be found, and of two substances both, as the prompt does.
fn early_help_decides_nothing(kind: Kind) {
    for seed in 0..60 {
        let exercises = Exercises::new(seed).kinds([kind]);
        let named = exercises.clone().level(Level::SeveralSteps).problem(0);
        let named = named.unwrap();
        let [help, ..] = named.help();
        assert!(crate::paper::formulas(help).is_empty(), "{help}");
        let compared = exercises.level(Level::Judgement).problem(0).unwrap();
        let [help, _, solution] = compared.help();
        let two = crate::paper::formulas(compared.prompt());
        for text in [help, solution] {
            let places: Vec<_> = two.iter().map(|hydrate| text.find(hydrate)).collect();
            assert!(places.len() == 2 && places.is_sorted(), "{text}");
            assert!(!places.contains(&None), "{text}");
        }
    }
}

/// No feedback of a problem without a bench speaks of a crucible, of heating, or of masses of one's own.
fn feedback_stays_on_paper(kind: Kind, has_bench: impl Fn(&Exercise) -> bool) {
    for level in Level::ALL {
        let exercises = Exercises::new(4).kinds([kind]).level(level);
        for place in 0..80 {
            let problem = exercises.problem(place).unwrap();
            let on_paper = problem.options().iter().filter(|_| !has_bench(&problem));
            for feedback in on_paper.map(effloresce::exercise::Choice::feedback) {
                for word in ["heating", "crucible", "your own", "has left", "textbook"] {
                    assert!(!feedback.contains(word), "{}\n{feedback}", problem.prompt());
                }
            }
        }
    }
}
