//! Empirical and molecular formulas, from the masses or percentages in the prompt.

use effloresce::exercise::{ErrorKind, Exercises, Kind, Level};

use crate::paper::{molar_mass, numbers};

const ELEMENTS: &[(&str, &str)] = &[
    ("hydrogen", "H"),
    ("carbon", "C"),
    ("nitrogen", "N"),
    ("oxygen", "O"),
    ("fluorine", "F"),
    ("sodium", "Na"),
    ("magnesium", "Mg"),
    ("aluminium", "Al"),
    ("phosphorus", "P"),
    ("sulfur", "S"),
    ("potassium", "K"),
    ("calcium", "Ca"),
    ("chromium", "Cr"),
    ("manganese", "Mn"),
    ("iron", "Fe"),
    ("copper", "Cu"),
    ("zinc", "Zn"),
];

/// The parts with their masses, or their masses in 100 g.
fn parts(prompt: &str) -> Vec<(String, f64)> {
    let numbers = numbers(prompt);
    if prompt.contains("combustion analysis") {
        let carbon = numbers[1] * molar_mass("C") / molar_mass("CO2");
        let hydrogen = numbers[2] * 2.0 * molar_mass("H") / molar_mass("H2O");
        let mut parts = vec![("C".to_string(), carbon), ("H".to_string(), hydrogen)];
        if prompt.contains("oxygen") {
            parts.push(("O".into(), numbers[0] - carbon - hydrogen));
        }
        return parts;
    }
    let list = match prompt.split_once(" consists of ") {
        Some((_, list)) => list,
        None => prompt.split_once(" is ").unwrap().1,
    };
    let list = list.split(". ").next().unwrap().replace(" and ", ", ");
    let list = list.split(", ").map(|item| {
        let (number, what) = item.split_once('\u{a0}').unwrap();
        let what = what.trim_start_matches("g of ").trim_start_matches("% ");
        let bracketed = what
            .split_once('(')
            .map(|(_, formula)| formula.trim_end_matches(')'));
        let element = ELEMENTS.iter().find(|(name, _)| *name == what);
        let part = match what {
            "water" => "H2O",
            _ => bracketed.unwrap_or_else(|| element.unwrap_or_else(|| panic!("{what}")).1),
        };
        (part.to_string(), number.parse().unwrap())
    });
    list.collect()
}

/// The formula with the smallest whole numbers that the amounts are near to.
fn solve(prompt: &str) -> String {
    let parts = parts(prompt);
    let amounts: Vec<f64> = parts
        .iter()
        .map(|(part, mass)| mass / molar_mass(part))
        .collect();
    let least = amounts.iter().copied().fold(f64::INFINITY, f64::min);
    let near = |times: &i32| {
        let mut ratios = amounts
            .iter()
            .map(|amount| amount / least * f64::from(*times));
        ratios.all(|ratio| (ratio - ratio.round()).abs() < 0.12)
    };
    let times = (1..10).find(near).unwrap_or_else(|| panic!("{prompt}"));
    let counts = amounts
        .iter()
        .map(|amount| (amount / least * f64::from(times)).round());
    let counts: Vec<f64> = counts.collect();
    let mass: f64 = parts
        .iter()
        .zip(&counts)
        .map(|((part, _), count)| count * molar_mass(part))
        .sum();
    let units = match prompt.contains("molecular formula") {
        true => {
            let numbers = numbers(prompt);
            (numbers.last().unwrap() / mass).round()
        }
        false => 1.0,
    };
    let written = parts.iter().zip(counts).map(|((part, _), count)| {
        let count = match count * units {
            1.0 => String::new(),
            count => format!("{count}"),
        };
        match part.as_str() {
            "H2O" => format!("·{count}H2O"),
            part => format!("{part}{count}"),
        }
    });
    written.collect()
}

#[test]
fn prompts_are_solved_again() {
    for level in Level::ALL {
        let exercises = Exercises::new(20).kinds([Kind::Empirical]).level(level);
        for place in 0..60 {
            let problem = exercises.problem(place).unwrap();
            assert_eq!(
                solve(problem.prompt()),
                problem.answer(),
                "{}",
                problem.prompt()
            );
        }
    }
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::Empirical);
    crate::sets::have_fair_options(Kind::Empirical);
}

#[test]
fn what_is_left_decides() {
    let exercises = |seed| {
        Exercises::new(seed)
            .kinds([Kind::Empirical])
            .level(Level::OneStep)
    };
    for seed in 0..20 {
        let problem = exercises(seed)
            .salts(["MgSO4".parse().unwrap()])
            .problem(0)
            .unwrap();
        assert_eq!(problem.answer(), "MgSO4·7H2O");
    }
    let nothing = exercises(1)
        .salts(["LiCl".parse().unwrap()])
        .problem(0)
        .unwrap_err();
    assert_eq!(nothing.kind(), ErrorKind::Exhausted);
    assert!(nothing.to_string().contains("LiCl"), "{nothing}");
}

/// The first stage of help has the relations. The empirical formula is for the pupil to find.
#[test]
fn the_relations_do_not_hold_the_empirical_formula() {
    let mut molecular = 0;
    for level in [Level::SeveralSteps, Level::Judgement] {
        let exercises = Exercises::new(77).kinds([Kind::Empirical]).level(level);
        for place in 0..100 {
            let problem = exercises.problem(place).unwrap();
            if problem.prompt().contains("molecular formula") {
                let empirical = problem.working().steps().iter();
                let mut empirical = empirical.filter(|step| step.what() == "empirical formula");
                let formula = format!("({})", empirical.next().unwrap().result());
                let relations = &problem.help()[0];
                assert!(!relations.contains(&formula), "{relations}");
                molecular += 1;
            }
        }
    }
    assert!(molecular >= 40, "{molecular}");
}

#[test]
fn percentages_are_together_100() {
    for level in Level::ALL {
        let exercises = Exercises::new(77).kinds([Kind::Empirical]).level(level);
        for place in 0..100 {
            let problem = exercises.problem(place).unwrap();
            if problem.prompt().starts_with("By mass, ") {
                let sum: f64 = parts(problem.prompt()).iter().map(|(_, part)| part).sum();
                assert!((99.979..100.001).contains(&sum), "{}", problem.prompt());
            }
        }
    }
}
