//! What no prompt may hold.

use effloresce::Formula;
use effloresce::exercise::{Exercises, Kind, Level};

/// How many problems of each kind and level are read.
const PROBLEMS: usize = 30;

/// A name of the code, such as `TwoWords` or `two_words`. A formula and a unit are none.
fn is_internal(word: &str) -> bool {
    let word = word.trim_matches(|c: char| !c.is_alphanumeric() && !"()[]".contains(c));
    let word = word.trim_start_matches(|c: char| c.is_ascii_digit());
    let letters: Vec<char> = word.chars().collect();
    let joined = letters
        .windows(2)
        .any(|pair| pair[0].is_lowercase() && pair[1].is_uppercase());
    let codes = letters
        .windows(3)
        .any(|three| three[0].is_lowercase() && three[1] == '_' && three[2].is_lowercase());
    codes || joined && word.parse::<Formula>().is_err() && !["kJ", "mL"].contains(&word)
}

#[test]
fn no_prompt_has_a_name_of_the_code() {
    let internal = ["StagedSolid turns", "a water_left b", "a HeatedMixture."];
    assert!(
        internal
            .iter()
            .all(|text| text.split_whitespace().any(is_internal))
    );
    for kind in Kind::ALL {
        for level in Level::ALL {
            let exercises = Exercises::new(77).kinds([kind]).level(level);
            // A level that the kind does not have.
            let Ok(first) = exercises.problem(0) else {
                continue;
            };
            let count = if kind == Kind::ErrorAnalysis {
                3
            } else {
                PROBLEMS
            };
            let rest = (1..count).map(|place| exercises.problem(place).unwrap());
            for problem in std::iter::once(first).chain(rest) {
                let mut words = problem
                    .prompt()
                    .split(|c: char| c.is_whitespace() || c == '/');
                assert_eq!(
                    words.find(|word| is_internal(word)),
                    None,
                    "{}",
                    problem.prompt()
                );
            }
        }
    }
}
