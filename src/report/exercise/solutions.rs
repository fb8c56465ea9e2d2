//! The answers of a set, with their steps.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::{Block, Item, LETTERS, Lead};
use super::sheet::heading;
use crate::exercise::{Choice, Exercise, ExerciseSet, GivenValue, as_printed, short_ends};
use crate::gravimetry::Quantity;
use crate::mistake::{Fault, NextStep, Slip};

/// All problems, each with its answer, what counts as right, the steps, and what to tell who chose a wrong option.
pub(super) fn blocks(set: &ExerciseSet) -> impl Iterator<Item = Block> {
    (1..).zip(set.problems()).map(|(number, problem)| {
        let mut blocks = Vec::from([Block::Paragraph(first_line(set, problem))]);
        if !problem.working().steps().is_empty() {
            blocks.push(Block::Working(
                problem.working().clone().rewritten(as_printed),
            ));
        }
        let given = problem.request().given().iter();
        let given: Vec<String> = given.map(|value| given_value(set, value)).collect();
        if !given.is_empty() {
            blocks.push(Block::dashes(given));
        }
        let wrong: Vec<Item> = wrong_options(problem).collect();
        if !wrong.is_empty() {
            blocks.push(Block::List(wrong));
        }
        Block::Problem(heading(number), blocks)
    })
}

/// A value that the prompt gives, with its source.
fn given_value(set: &ExerciseSet, value: &GivenValue) -> String {
    let number = set.exercises().with_decimal_mark(value.value());
    let number = with_unit(&as_printed(&number), value.unit());
    format!("{}: {number}. Source: {}.", value.what(), value.source())
}

fn first_line(set: &ExerciseSet, problem: &Exercise) -> String {
    let mut line = format!("Answer: {}.", answer(problem));
    if let Some(accepted) = accepted(set, problem) {
        line.push_str(&format!(" Accept {accepted}."));
    }
    let kind = problem.kind().words();
    line.push_str(&format!(
        " Kind: {kind}, level {}.",
        problem.level().number()
    ));
    line
}

/// The answer with its unit, after the letter of the right option if there is one.
pub(super) fn answer(problem: &Exercise) -> String {
    let right = |option: &Choice| option.wrong_step().is_none();
    let right = LETTERS
        .zip(problem.options())
        .find(|(_, option)| right(option));
    match right {
        Some((letter, option)) => format!("{letter} ({})", as_printed(option.text())),
        None => with_unit(&as_printed(&in_words(problem)), problem.unit()),
    }
}

/// The parts of the answer. What is asked for by a code has its words.
fn in_words(problem: &Exercise) -> String {
    let parts = problem.asks().iter().zip(problem.answers());
    let parts = parts.map(|(pointer, answer)| {
        let ends = |end: &str| pointer.ends_with(end);
        let words = if ends("/next/code") {
            let step = NextStep::ALL.iter().find(|step| step.code() == answer);
            step.map(|step| step.pupil().trim_end_matches('.').into())
        } else if ends("/code") {
            answer
                .parse()
                .ok()
                .map(|fault: Fault| fault.phrase().into())
        } else if pointer.contains("/slips/") {
            answer.parse().ok().map(|slip: Slip| slip.to_string())
        } else if ends("/quantity") {
            answer
                .parse()
                .ok()
                .map(|quantity: Quantity| quantity.to_string())
        } else {
            None
        };
        words.unwrap_or_else(|| answer.clone())
    });
    parts.collect::<Vec<String>>().join("; ")
}

/// The numbers that count as right. Both ends are rounded to the inside.
pub(super) fn accepted(set: &ExerciseSet, problem: &Exercise) -> Option<String> {
    let tolerance = problem.tolerance()?;
    let [low, high] = short_ends(&problem.answer(), tolerance.low(), tolerance.high());
    let unit = with_unit("", problem.unit());
    Some(
        set.exercises()
            .with_decimal_mark(&as_printed(&format!("{low}{unit} to {high}{unit}"))),
    )
}

fn with_unit(text: &str, unit: &str) -> String {
    match unit {
        "" => text.into(),
        unit => format!("{text}\u{A0}{unit}"),
    }
}

fn wrong_options(problem: &Exercise) -> impl Iterator<Item = Item> {
    let options = LETTERS.zip(problem.options());
    let wrong = options.filter(|(_, option)| option.wrong_step().is_some());
    wrong.map(|(letter, option)| Item {
        lead: Lead::Marks(letter.into()),
        text: format!("{}: {}", as_printed(option.text()), option.feedback()),
    })
}
