//! The key: one table for all sets, then the steps.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::table::TextTable;
use super::note::framed;
use super::sheet::{NamedSet, origin};
use super::solutions;
use crate::exercise::weights_note;

/// More sets have a row each, and their steps are left out.
const MOST_COLUMNS: usize = 4;

pub(super) fn blocks(title: &str, sets: &[NamedSet]) -> Vec<Block> {
    let mut blocks = Vec::from([Block::Title(title.into())]);
    blocks.push(Block::Table(match sets {
        [one] => of_one(one),
        several if several.len() <= MOST_COLUMNS => by_problem(several),
        many => by_set(many),
    }));
    if sets.len() > MOST_COLUMNS {
        blocks.push(Block::section("What each sheet was made from"));
        blocks.push(Block::paragraph(
            "For the steps of one sheet, print the key of its seed alone.",
        ));
        blocks.push(Block::dashes(sets.iter().map(of_seed)));
        return blocks;
    }
    for named in sets {
        let title = match sets.len() {
            1 => "Answers with their steps",
            _ => named.name.as_str(),
        };
        blocks.push(Block::section(title));
        blocks.extend(weights_note(&[&named.set]).map(framed));
        blocks.extend(solutions::blocks(&named.set));
        blocks.push(Block::Paragraph(origin(&named.set)));
    }
    blocks
}

fn of_seed(named: &NamedSet) -> String {
    [&named.name, ": ", &origin(&named.set)].concat()
}

fn of_one(named: &NamedSet) -> TextTable {
    let mut table = TextTable::new("Answers").left(["Problem", "Answer", "Accept"]);
    for (number, problem) in (1..).zip(named.set.problems()) {
        let number: usize = number;
        table.row([
            number.to_string(),
            solutions::answer(problem),
            solutions::accepted(&named.set, problem).unwrap_or_default(),
        ]);
    }
    table
}

/// A row for each problem, and a column for each set.
fn by_problem(sets: &[NamedSet]) -> TextTable {
    let names = sets.iter().map(|named| named.name.clone());
    let mut table = TextTable::new("Answers")
        .left(["Problem"])
        .left(names.collect::<Vec<_>>());
    let problems = sets.iter().map(|named| named.set.problems().len());
    for place in 0..problems.max().unwrap_or(0) {
        let answers = sets.iter().map(|named| {
            let problem = named.set.problems().get(place);
            problem.map_or_else(String::new, solutions::answer)
        });
        table.row([(place + 1).to_string()].into_iter().chain(answers));
    }
    table
}

/// A row for each set.
fn by_set(sets: &[NamedSet]) -> TextTable {
    let mut table = TextTable::new("Answers").names(["Sheet"]).left(["Answers"]);
    for named in sets {
        let answers = named.set.problems().iter().map(solutions::answer);
        let numbered = (1..).zip(answers);
        let line: Vec<String> = numbered
            .map(|(number, answer): (usize, String)| alloc::format!("({number}) {answer}"))
            .collect();
        table.row([named.name.clone(), line.join("; ")]);
    }
    table
}
