//! Mixtures, from the masses and formulas or names in the prompt.

use std::collections::BTreeSet;

use effloresce::Formula;
use effloresce::exercise::{Exercise, Exercises, Kind, Level};

use crate::paper::{atoms, formulas, molar_mass, numbers};

/// The elements that no gas takes along.
fn kept(formula: &str) -> BTreeSet<String> {
    let symbols = atoms(formula).unwrap().into_keys();
    symbols
        .filter(|symbol| !["H", "C", "O"].contains(&symbol.as_str()))
        .collect()
}

/// The share of a solid that is lost when it becomes its residue.
fn loss(solid: &str, residue: &str) -> f64 {
    let metal = kept(solid).into_iter().next().unwrap();
    let units = atoms(solid).unwrap()[&metal] / atoms(residue).unwrap()[&metal];
    1.0 - units * molar_mass(residue) / molar_mass(solid)
}

fn solve(prompt: &str, _: &Exercise) -> f64 {
    let masses = numbers(prompt);
    let lost = (masses[0] - masses[1]) / masses[0];
    if prompt.contains("All the water of the ") {
        let name = prompt.split_once("All the water of the ").unwrap().1;
        let name = name.split_once(" leaves").unwrap().0;
        let hydrate = Formula::from_name(name).unwrap().0.to_string();
        let salt = hydrate.split_once('·').unwrap().0;
        return 100.0 * lost / loss(&hydrate, salt);
    }
    let solids = formulas(prompt);
    match solids.as_slice() {
        // The first becomes the fourth.
        [one, _, _, residue, ..]
            if prompt.contains("does not change") && prompt.contains("Heating turns") =>
        {
            100.0 * lost / loss(one, residue)
        }
        [one, _, _, residue] if prompt.contains("impure") => {
            100.0 - 100.0 * lost / loss(one, residue)
        }
        [one, _, salt, ..] if prompt.contains("in the store") => 100.0 * lost / loss(one, salt),
        [one, other, residue] => {
            let loser = [one, other]
                .into_iter()
                .find(|solid| *solid != residue && kept(solid) == kept(residue));
            let first = 100.0 * lost / loss(loser.unwrap(), residue);
            let other = prompt.contains("of the other one");
            if other { 100.0 - first } else { first }
        }
        [one, other, _, one_left, _, other_left, asked] => {
            let (own, rest) = (loss(one, one_left), loss(other, other_left));
            let first = 100.0 * (lost - rest) / (own - rest);
            if asked == one { first } else { 100.0 - first }
        }
        _ => panic!("{prompt}"),
    }
}

#[test]
fn prompts_are_solved_again() {
    super::solve_again(Kind::Mixture, &[2, 3], solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::Mixture);
    crate::sets::have_fair_options(Kind::Mixture);
}

#[test]
fn what_salts_and_avoid_leave_decides() {
    let mixtures = |salt: &str| {
        let exercises = Exercises::new(4).kinds([Kind::Mixture]);
        exercises.salts([salt.parse::<Formula>().unwrap()]).set(12)
    };
    for salt in ["CaCl2·2H2O", "CuSO4"] {
        let set = mixtures(salt).unwrap();
        let asked = salt.split('·').next().unwrap();
        let components = |problem: &Exercise| format!("{:?}", problem.request().fields());
        assert!(
            set.problems()
                .iter()
                .all(|problem| components(problem).contains(asked))
        );
    }
    let error = mixtures("NiSO4").unwrap_err().to_string();
    assert_eq!(
        error,
        "`salts` (NiSO4) leaves no mixture that the loss on heating solves"
    );
    let avoiding = Exercises::new(4)
        .kinds([Kind::Mixture])
        .avoid(["NaCl".parse().unwrap()]);
    let set = avoiding.set(100).unwrap();
    assert!(
        set.problems()
            .iter()
            .all(|problem| !problem.prompt().contains("NaCl"))
    );
    assert!(
        set.problems()
            .iter()
            .all(|problem| !problem.prompt().contains("CuSO4"))
    );
}

/// The first stage of help does not decide which solid loses mass, and the working does.
#[test]
fn the_first_help_does_not_name_the_loser() {
    let exercises = Exercises::new(13)
        .kinds([Kind::Mixture])
        .level(Level::Judgement);
    let mut judged = 0;
    for problem in exercises.set(40).unwrap().problems() {
        if !problem.prompt().contains("Decide") {
            continue;
        }
        judged += 1;
        let [one, other, residue] = formulas(problem.prompt())[..] else {
            panic!("{}", problem.prompt())
        };
        let help = &problem.help()[0];
        assert!(!help.contains(one) && !help.contains(other), "{help}");
        let loser = [one, other]
            .into_iter()
            .find(|solid| kept(solid) == kept(residue) && *solid != residue);
        assert_eq!(
            problem.working().steps()[0].result(),
            loser.unwrap(),
            "{}",
            problem.prompt()
        );
    }
    assert!(judged > 10);
}

/// A substance that is called impure is at least two thirds of the sample.
#[test]
fn an_impurity_is_at_most_a_third() {
    let exercises = Exercises::new(14)
        .kinds([Kind::Mixture])
        .level(Level::SeveralSteps);
    let set = exercises.set(60).unwrap();
    let impure = set
        .problems()
        .iter()
        .filter(|problem| problem.prompt().contains("impure"));
    let shares: Vec<f64> = impure
        .map(|problem| problem.answer().parse().unwrap())
        .collect();
    assert!(shares.len() > 10);
    assert!(shares.iter().all(|share| *share < 33.5), "{shares:?}");
}
