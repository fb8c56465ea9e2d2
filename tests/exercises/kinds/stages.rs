//! Heating in stages, from the formulas or names in the prompt.

use effloresce::Formula;
use effloresce::exercise::{Exercise, Exercises, Kind, Level};

use crate::paper::{atoms, formulas, molar_mass, numbers};

/// The percentage of the starting mass that is left, residue by residue.
fn left(solids: &[String]) -> Vec<f64> {
    let start = atoms(&solids[0]).unwrap();
    let part = |residue: &String| {
        let (metal, count) = atoms(residue)
            .unwrap()
            .into_iter()
            .find(|(symbol, _)| !["H", "C", "N", "O"].contains(&symbol.as_str()))
            .unwrap();
        100.0 * start[&metal] / count * molar_mass(residue) / molar_mass(&solids[0])
    };
    solids[1..].iter().map(part).collect()
}

fn between<'p>(prompt: &'p str, before: &str, after: &str) -> &'p str {
    let rest = prompt.split_once(before).expect(prompt).1;
    rest.split_once(after).expect(prompt).0
}

/// The solids that are named, the first with its mass before it.
fn named(prompt: &str) -> Vec<String> {
    let start = between(prompt, "\u{a0}g of ", " in stages");
    let residues = between(prompt, "First it becomes ", ". Write").split(", then ");
    let names = std::iter::once(start).chain(residues);
    names
        .map(|name| name.strip_prefix("anhydrous ").unwrap_or(name))
        .map(|name| Formula::from_name(name).unwrap().0.to_string())
        .collect()
}

/// The only residue that the words fit.
fn found(prompt: &str, left: &[f64]) -> usize {
    let words = between(prompt, "By then, ", " of the mass ");
    let share = |word: &str| {
        let names = [
            "a tenth",
            "a fifth",
            "a quarter",
            "a third",
            "two fifths",
            "half",
        ];
        let more = ["three fifths", "two thirds", "three quarters"];
        let shares = [0.1, 0.2, 0.25, 1.0 / 3.0, 0.4, 0.5, 0.6, 2.0 / 3.0, 0.75];
        let named = names.iter().chain(&more).position(|name| *name == word);
        100.0 * shares[named.expect(word)]
    };
    let (mut low, mut high) = (0.0, 100.0);
    for part in words.split(" but ") {
        match part.strip_prefix("more than ") {
            Some(word) => low = share(word),
            None => high = share(part.strip_prefix("less than ").expect(part)),
        }
    }
    let of_mass = |left: f64| match prompt.contains("of the mass is left. Decide") {
        true => left,
        false => 100.0 - left,
    };
    let fits = |index: &usize| low < of_mass(left[*index]) && of_mass(left[*index]) < high;
    let fitting: Vec<usize> = (0..left.len()).filter(fits).collect();
    assert_eq!(fitting.len(), 1, "{prompt}");
    fitting[0]
}

fn solve(prompt: &str, _: &Exercise) -> f64 {
    let solids = match prompt.contains("Write the formulas") {
        true => named(prompt),
        false => formulas(prompt).into_iter().map(String::from).collect(),
    };
    let left = left(&solids);
    let ordinals = ["first stage", "second stage", "third stage"];
    let stage = match prompt.contains("Decide") {
        true => found(prompt, &left),
        false => ordinals
            .iter()
            .position(|stage| prompt.contains(stage))
            .unwrap_or(0),
    };
    let before = if stage == 0 { 100.0 } else { left[stage - 1] };
    if prompt.contains("mass that leaves") {
        before - left[stage]
    } else if prompt.contains("mass that has left") {
        100.0 - left[stage]
    } else if prompt.contains("percentage of the starting mass that is left") {
        left[stage]
    } else {
        numbers(prompt)[0] * left[stage] / 100.0
    }
}

#[test]
fn prompts_are_solved_again() {
    super::solve_again(Kind::Stages, &[1, 2, 3], solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::Stages);
    crate::sets::have_fair_options(Kind::Stages);
}

#[test]
fn what_salts_and_avoid_leave_decides() {
    let stages = |salt: &str| {
        let exercises = Exercises::new(3).kinds([Kind::Stages]);
        exercises.salts([salt.parse::<Formula>().unwrap()]).set(12)
    };
    for salt in ["CaCl2", "BaBr2", "CuSO4·5H2O"] {
        let set = stages(salt).unwrap();
        let salt = salt.split('·').next().unwrap();
        assert!(set.problems().iter().all(|problem| {
            let named = problem.form() == "mass_from_names";
            named || problem.prompt().contains(salt)
        }));
    }
    let error = stages("NiSO4").unwrap_err().to_string();
    assert_eq!(
        error,
        "`salts` (NiSO4) leaves no solid that loses mass in stages"
    );
    let avoiding = Exercises::new(3)
        .kinds([Kind::Stages])
        .avoid(["MgSO4".parse().unwrap()]);
    let set = avoiding.set(100).unwrap();
    assert!(
        set.problems()
            .iter()
            .all(|problem| !problem.prompt().contains("MgSO4"))
    );
    assert!(
        set.problems()
            .iter()
            .all(|problem| !problem.prompt().contains("CuSO4"))
    );
}

/// The first stage of help does not decide which residue it is, and the working does.
#[test]
fn the_first_help_does_not_name_the_residue() {
    let exercises = Exercises::new(12)
        .kinds([Kind::Stages])
        .level(Level::Judgement);
    let mut judged = 0;
    for problem in exercises.set(60).unwrap().problems() {
        if !problem.prompt().contains("Decide") {
            continue;
        }
        judged += 1;
        let solids = formulas(problem.prompt());
        let help = &problem.help()[0];
        assert!(solids.iter().all(|solid| !help.contains(solid)), "{help}");
        let left = left(
            &solids
                .iter()
                .map(|solid| (*solid).into())
                .collect::<Vec<String>>(),
        );
        let found = solids[1 + found(problem.prompt(), &left)];
        let mut steps = problem.working().steps().iter();
        let residue = steps.find(|step| step.what() == "residue").unwrap();
        assert_eq!(residue.result(), found, "{}", problem.prompt());
    }
    assert!(judged > 20);
}

#[test]
fn what_is_left_is_the_residue() {
    let exercises = Exercises::new(12)
        .kinds([Kind::Stages])
        .level(Level::OneStep);
    for problem in exercises.set(30).unwrap().problems() {
        let solids = formulas(problem.prompt());
        let (start, residue) = (solids[0], solids[1]);
        let what = problem.working().steps().last().unwrap().what();
        let right = [
            format!("mass of {residue} left"),
            format!("percentage left as {residue}"),
            format!("percentage lost by {start}"),
        ];
        assert!(right.iter().any(|right| right == what), "{what}");
    }
}
