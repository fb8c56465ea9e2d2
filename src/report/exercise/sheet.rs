//! What pupils get: the problems, with places for the answers.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::{AnswerPlace, Block};
use super::note::framed;
use super::prompt;
use crate::exercise::{Exercise, ExerciseSet, as_printed, heating_note, weights_note};

/// One set of a paper, with its name.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NamedSet {
    /// `Version A` or `Code K7`; empty if the set is the only one.
    pub(super) name: String,
    pub(super) set: ExerciseSet,
}

/// The sheets of all sets, each on its own pages.
pub(super) fn blocks(title: &str, sets: &[NamedSet], is_named_by_hand: bool) -> Vec<Block> {
    let mut blocks = Vec::from([Block::Title(title.into())]);
    for (index, named) in sets.iter().enumerate() {
        if index > 0 {
            blocks.push(Block::NewPage);
        }
        if sets.len() > 1 {
            blocks.push(Block::section(named.name.as_str()));
        }
        if is_named_by_hand {
            blocks.push(Block::WriteLine("Name", String::new()));
        }
        of_set(&named.set, &mut blocks);
    }
    blocks
}

fn of_set(set: &ExerciseSet, blocks: &mut Vec<Block>) {
    let problems = set.problems();
    let mut instruction = String::from("Show your working. Write each answer with its unit.");
    if problems.iter().any(|problem| !problem.options().is_empty()) {
        instruction.push_str(" If a problem has options, tick one box in the table of answers.");
    }
    blocks.push(Block::Paragraph(instruction));
    blocks.extend(weights_note(&[set]).map(framed));
    blocks.extend(
        (1..)
            .zip(problems)
            .map(|(number, problem)| of_problem(number, problem)),
    );
    blocks.push(Block::AnswerGrid((1..).zip(problems).map(place).collect()));
    blocks.extend(heating_note(problems).map(framed));
    blocks.push(Block::Paragraph(origin(set)));
}

/// The heading of a problem.
pub(super) fn heading(number: usize) -> String {
    format!("Problem {number}")
}

fn of_problem(number: usize, problem: &Exercise) -> Block {
    let mut blocks: Vec<Block> = prompt::blocks(problem.prompt()).collect();
    let options = problem.options();
    blocks.push(match options {
        [] => Block::WriteLine("Answer", problem.unit().into()),
        _ => Block::Options(
            options
                .iter()
                .map(|option| as_printed(option.text()))
                .collect(),
        ),
    });
    Block::Problem(heading(number), blocks)
}

fn place((number, problem): (usize, &Exercise)) -> AnswerPlace {
    AnswerPlace {
        name: number.to_string(),
        options: problem.options().len(),
        unit: problem.unit().into(),
    }
}

/// What a set was made from.
pub(super) fn origin(set: &ExerciseSet) -> String {
    format!(
        "Made by {}, seed {}.",
        set.generator(),
        set.exercises().seed()
    )
}
