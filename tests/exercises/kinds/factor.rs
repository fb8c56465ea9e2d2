//! The content of a sample, from the formulas or names in the prompt.

use effloresce::Formula;
use effloresce::exercise::{ErrorKind, Exercise, Exercises, Kind};

use crate::paper::{atoms, molar_mass, numbers};

/// The formula in the brackets after a name, without a charge.
fn in_brackets(text: &str) -> &str {
    let start = text.find(" (").unwrap() + 2;
    let mut depth = 1;
    let end = text[start..].find(|c| {
        depth += i32::from(c == '(') - i32::from(c == ')');
        depth == 0
    });
    let formula = &text[start..start + end.unwrap()];
    formula.split('^').next().unwrap()
}

/// The substance sought and the form weighed.
fn substances(prompt: &str) -> (String, String) {
    let between = |from: &str, to: &str| -> Option<&str> {
        let after = prompt.split_once(from)?.1;
        Some(after.split_once(to)?.0)
    };
    let found = [
        (between("To find ", " is weighed"), ", "),
        (between("is weighed as ", "\u{a0}g."), ": "),
        (between("\u{a0}g of ", ". On the way"), ""),
    ];
    let weighed = match found {
        [(Some(text), separator), _, _] => text.rsplit_once(separator).unwrap().1,
        [_, (Some(text), separator), _] => text.rsplit_once(separator).unwrap().0,
        [_, _, (Some(text), _)] => text.rsplit_once("\u{a0}g of ").unwrap().1,
        _ => panic!("{prompt}"),
    };
    let weighed = match weighed.contains(" (") {
        true => in_brackets(weighed).to_string(),
        false => Formula::from_name(weighed).unwrap().0.to_string(),
    };
    let sought = between("To find ", "Work out")
        .or_else(|| between("Work out", " in the sample"))
        .unwrap_or(prompt);
    (in_brackets(sought).into(), weighed)
}

/// The element that links them: a metal or a halogen, sulfur, phosphorus; carbon only if nothing else is in both.
fn link(sought: &str, weighed: &str) -> f64 {
    let (sought, weighed) = (atoms(sought).unwrap(), atoms(weighed).unwrap());
    let mut shared = sought.iter().filter_map(|(symbol, count)| {
        let other = weighed.get(symbol)?;
        (!["O", "H", "C", "N"].contains(&symbol.as_str())).then_some(other / count)
    });
    let ratio = shared.next().unwrap();
    assert!(shared.all(|other| (other - ratio).abs() < 1e-12));
    ratio
}

fn solve(prompt: &str, _: &Exercise) -> f64 {
    let (sought, weighed) = substances(prompt);
    let factor = link(&sought, &weighed) * molar_mass(&sought) / molar_mass(&weighed);
    let numbers = numbers(prompt);
    let percent = prompt.contains("percentage by mass");
    match numbers.as_slice() {
        [_] => factor,
        [mass, _] => mass * factor,
        [sample, mass, _] if percent => 100.0 * mass * factor / sample,
        [_, mass, _] => mass * factor,
        _ => panic!("{prompt}"),
    }
}

#[test]
fn prompts_are_solved_again() {
    super::solve_again(Kind::Factor, &[1, 2, 3], solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::Factor);
    crate::sets::have_fair_options(Kind::Factor);
}

#[test]
fn what_is_left_decides() {
    let silver = |seed| {
        let exercises = Exercises::new(seed).kinds([Kind::Factor]);
        exercises.salts(["AgCl".parse().unwrap()]).problem(0)
    };
    for seed in 0..30 {
        let problem = silver(seed).unwrap();
        assert!(
            problem.prompt().contains("silver chloride"),
            "{}",
            problem.prompt()
        );
    }
    let nothing = Exercises::new(1)
        .kinds([Kind::Factor])
        .salts(["LiCl·H2O".parse().unwrap()])
        .problem(0)
        .unwrap_err();
    assert_eq!(nothing.kind(), ErrorKind::Exhausted);
    assert!(nothing.to_string().contains("LiCl"), "{nothing}");
}

/// A number that a step gives is in the next step with the same digits.
#[test]
fn the_working_keeps_its_numbers() {
    let exercises = Exercises::new(77).kinds([Kind::Factor]);
    let mut percentages = 0;
    for place in 0..100 {
        let problem = exercises.problem(place).unwrap();
        for pair in problem.working().steps().windows(2) {
            let (result, numbers) = (pair[0].result(), pair[1].numbers());
            let words: Vec<&str> = numbers.split(' ').collect();
            assert!(words.contains(&result), "{result} is not in {numbers}");
            percentages += 1;
        }
    }
    assert!(percentages >= 50, "{percentages}");
}
