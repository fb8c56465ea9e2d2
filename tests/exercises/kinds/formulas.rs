//! The formula of a hydrate, or what leads to it: the arithmetic on paper, and the salts of the prompts.

use effloresce::Formula;
use effloresce::exercise::{ErrorKind, Exercise, Exercises, Kind, Level};

use crate::paper::{atoms, formulas, molar_mass, numbers, waters};

/// What somebody finds on paper.
pub(crate) enum Found {
    Number(f64),
    Formula(String),
}

/// The salt that a prompt is about, by its formula or its name after one of these words.
pub(crate) fn salt(prompt: &str) -> String {
    let after = ["hydrate of ", "of anhydrous ", "It says ", "They say "];
    let start = after.iter().find_map(|word| prompt.split_once(word));
    let (_, rest) = start.expect(prompt);
    let ends = [
        " takes", " is ", " holds", " in a", " gently", ". ", " or ", ", ",
    ];
    let end = ends.iter().filter_map(|end| rest.find(end)).min();
    let text = &rest[..end.expect(prompt)];
    let formula = match text.parse::<Formula>() {
        Ok(formula) => formula.to_string(),
        Err(_) => Formula::from_name(text).expect(prompt).0.to_string(),
    };
    let dry = formula.split('·').next().unwrap();
    dry.to_string()
}

/// The hydrates on a label that is hard to read, or of benches that do not agree.
pub(crate) fn label(prompt: &str) -> Vec<String> {
    let says = ["It says ", "They say "];
    let Some((_, rest)) = says.iter().find_map(|says| prompt.split_once(says)) else {
        return Vec::new();
    };
    let text = rest.split_once(". ").unwrap().0;
    let read = |text: &str| match text.parse::<Formula>() {
        Ok(formula) => formula.to_string(),
        Err(_) => Formula::from_name(text).expect(prompt).0.to_string(),
    };
    text.split(", ")
        .flat_map(|part| part.split(" or "))
        .map(read)
        .collect()
}

/// The amount of water for each mole of a salt, from the masses of water lost and of what is left. `left` is the
/// lower hydrate that is left, or the salt.
pub(crate) fn ratio(left: &str, lost: f64, stays: f64) -> f64 {
    waters(left) + (lost / molar_mass("H2O")) / (stays / molar_mass(left))
}

/// The answer from a ratio, as the prompt asks for it.
pub(crate) fn answered(prompt: &str, salt: &str, ratio: f64) -> Found {
    if prompt.contains("Do not round") {
        return Found::Number(ratio);
    }
    let distance = |hydrate: &String| (waters(hydrate) - ratio).abs();
    let label = label(prompt);
    let nearest = label
        .iter()
        .min_by(|a, b| distance(a).total_cmp(&distance(b)));
    let formula = match nearest {
        Some(hydrate) => hydrate.clone(),
        None => {
            // Halves are possible if the ratio is nearer to one than to any whole number.
            let halves = (ratio * 2.0).round() / 2.0;
            match halves {
                1.0 => format!("{salt}·H2O"),
                halves => format!("{salt}·{halves}H2O"),
            }
        }
    };
    match prompt.contains("exactly this hydrate") {
        true => {
            let water = waters(&formula) * molar_mass("H2O");
            Found::Number(100.0 * water / molar_mass(&formula))
        }
        false => Found::Formula(formula),
    }
}

/// The lower hydrate that a prompt names, or the salt.
pub(crate) fn left<'p>(prompt: &'p str, salt: &'p str) -> &'p str {
    let hydrates = formulas(prompt).into_iter();
    let mut lower = hydrates.filter(|formula| waters(formula) > 0.0);
    match label(prompt).is_empty() {
        true => lower.next().unwrap_or(salt),
        false => salt,
    }
}

/// Solves 60 problems of each level. `solve` sees the prompt only.
pub(crate) fn solve_again(kind: Kind, solve: impl Fn(&str) -> Found) {
    let (mut numbers, mut formulas) = (0, 0);
    for level in Level::ALL {
        let exercises = Exercises::new(20).kinds([kind]).level(level);
        for place in 0..60 {
            let problem = exercises.problem(place).unwrap();
            match solve(problem.prompt()) {
                Found::Number(found) => {
                    super::agrees(&problem, found);
                    numbers += 1;
                }
                Found::Formula(found) => {
                    // A name does not tell the order of the cations.
                    let parts = |formula: &str| (atoms(formula).expect(formula), waters(formula));
                    assert_eq!(
                        parts(&problem.answer()),
                        parts(&found),
                        "{}",
                        problem.prompt()
                    );
                    assert_eq!(problem.tolerance(), None);
                    formulas += 1;
                }
            }
        }
    }
    assert_eq!(numbers + formulas, 180);
    assert!(numbers > 40 && formulas > 40, "{numbers} {formulas}");
}

/// Every level gives a problem for each of many seeds, on several balances.
pub(crate) fn never_fail(kind: Kind) {
    for level in Level::ALL {
        for seed in 0..300 {
            let problem = Exercises::new(seed).kinds([kind]).level(level).problem(0);
            assert!(problem.is_ok(), "{kind} {seed}: {:?}", problem.err());
        }
        for step in ["0.0001", "0.002", "0.005", "0.01", "0.05"] {
            let exercises = Exercises::new(7).kinds([kind]).level(level);
            let exercises = exercises.readability(step.parse().unwrap()).unwrap();
            for place in 0..30 {
                let problem = exercises.problem(place);
                assert!(
                    problem.is_ok(),
                    "{kind} {step} {place}: {:?}",
                    problem.err()
                );
            }
        }
    }
}

/// What is left decides, and a draw from nothing names the constraint.
pub(crate) fn keep_to_the_salts(kind: Kind) {
    let [blue, epsom] = ["CuSO4", "MgSO4"].map(|salt| salt.parse::<Formula>().unwrap());
    for level in Level::ALL {
        let exercises = Exercises::new(5).kinds([kind]).level(level);
        for (wanted, text) in [(&blue, "CuSO4"), (&epsom, "MgSO4")] {
            let exercises = exercises.clone().salts([wanted.clone()]);
            for place in 0..20 {
                assert_eq!(subject(&exercises.problem(place).unwrap()), text);
            }
        }
        let avoiding = exercises.clone().avoid([epsom.clone()]);
        for place in 0..40 {
            let problem = avoiding.problem(place).unwrap();
            assert_ne!(subject(&problem), "MgSO4");
        }
        let nothing = exercises.salts([blue.clone()]).avoid([blue.clone()]);
        let error = nothing.problem(0).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Exhausted);
        assert!(error.to_string().contains("CuSO4"), "{error}");
    }
}

fn subject(problem: &Exercise) -> String {
    match problem.prompt().split_once(" heats ") {
        Some((_, rest)) if !rest.starts_with("a hydrate") => {
            rest.split('·').next().unwrap().to_string()
        }
        _ => salt(problem.prompt()),
    }
}

/// The numbers of a prompt without that of the significant figures.
pub(crate) fn given(prompt: &str) -> Vec<f64> {
    let text = prompt.split("Give your answer").next().unwrap();
    numbers(text)
}
