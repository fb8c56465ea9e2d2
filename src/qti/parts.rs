//! The parts of an answer as choices: the bench, the error.

use alloc::vec::Vec;

use super::entry::{ChoiceAnswer, EntryAnswer, ItemEntry, NamedError, ShownBy};
use crate::exercise::{AnswerPart, Exercise};

/// Returns a choice for each part of the answer of a problem, each worth one mark; `None` if the problem has no parts.
///
/// Each is marked by the key alone. So a bench that is wrongly chosen does not lose the mark of its fault.
pub(super) fn parts(problem: &Exercise) -> Option<Vec<ItemEntry<'_>>> {
    if problem.parts().is_empty() {
        return None;
    }
    let parts = problem.parts().iter().zip(problem.answers());
    parts.map(|(part, answer)| entry(part, answer)).collect()
}

/// `None` if the answer is no choice of the part.
fn entry<'p>(part: &'p AnswerPart, answer: &str) -> Option<ItemEntry<'p>> {
    let choices = part.choices();
    let right = choices.iter().position(|choice| choice.code() == answer)?;
    let wrong = choices
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != right);
    let errors = wrong.map(|(index, choice)| NamedError {
        code: choice.code().into(),
        feedback: choice.feedback().into(),
        shown_by: ShownBy::Chosen(index),
    });
    Some(ItemEntry {
        label: part.what().into(),
        unit: "".into(),
        answer: EntryAnswer::Choice(ChoiceAnswer {
            options: choices.iter().map(|choice| choice.words().into()).collect(),
            right,
            follows: None,
        }),
        errors: errors.collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::{Exercises, Kind, Level, PartChoice};

    #[test]
    fn each_part_is_one_choice() {
        for level in [Level::SeveralSteps, Level::Judgement] {
            let exercises = Exercises::new(1).kinds([Kind::ErrorAnalysis]).level(level);
            for problem in exercises.set(10).unwrap().problems() {
                let entries = parts(problem).unwrap();
                let id = problem.id();
                assert_eq!(entries.len(), problem.answers().len(), "{id}");
                for ((entry, part), answer) in
                    entries.iter().zip(problem.parts()).zip(problem.answers())
                {
                    let EntryAnswer::Choice(choice) = &entry.answer else {
                        panic!("{id}");
                    };
                    assert_eq!(part.choices()[choice.right].code(), answer, "{id}");
                    assert_eq!(entry.errors.len() + 1, choice.options.len(), "{id}");
                    let names: Vec<&str> = problem.parts()[0]
                        .choices()
                        .iter()
                        .map(PartChoice::code)
                        .collect();
                    let right = &choice.options[choice.right];
                    for error in &entry.errors {
                        // Nothing tells which choice is right.
                        let words = &error.feedback;
                        assert!(names.iter().all(|name| !words.contains(name)), "{words}");
                        assert!(!words.contains(&**right), "{words}");
                    }
                }
            }
        }
    }

    #[test]
    fn other_problems_have_no_parts() {
        let problem = Exercises::new(1).kinds([Kind::Balance]).problem(0).unwrap();
        assert!(parts(&problem).is_none());
    }
}
