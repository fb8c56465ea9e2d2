//! The atomic weights that a set uses.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::prose::formula_in;
use crate::element::Element;
use crate::exercise::{Exercise, ExerciseSet, Field, Operation};
use crate::formula::Formula;

/// The elements whose weights the problems use, in a frame. `None` if they use none.
pub(super) fn block(set: &ExerciseSet) -> Option<Block> {
    let weights = set.problems().first()?.request().weights();
    let mut elements = BTreeSet::new();
    for problem in set.problems() {
        of_problem(problem, &mut elements);
    }
    let written = elements.into_iter().filter_map(|element| {
        let weight = weights.written(element)?;
        Some(format!("{}\u{A0}{weight}", element.symbol()))
    });
    let written: Vec<String> = written.collect();
    (!written.is_empty()).then(|| {
        Block::Framed(
            "Atomic weights".into(),
            Vec::from([
                Block::Paragraph(set.exercises().with_decimal_mark(&written.join("; "))),
                Block::paragraph(format!("Source: {weights}.")),
            ]),
        )
    })
}

/// Adds the elements of the molar masses that the steps use, and of the formulas that the prompt gives, unless it gives
/// a whole equation. Without any, those of the formulas in the request are added.
fn of_problem(problem: &Exercise, elements: &mut BTreeSet<Element>) {
    if problem.request().operation() == Operation::Balance {
        return;
    }
    let mut of_steps = BTreeSet::new();
    for step in problem.working().steps() {
        for rest in step.symbols().split("M(").skip(1) {
            of_formula(inner(rest), &mut of_steps);
        }
    }
    if !problem.prompt().contains(['→', '⇌']) {
        of_words(problem.prompt(), &mut of_steps);
    }
    if of_steps.is_empty() {
        for (_, value) in problem.request().fields() {
            of_field(value, elements);
        }
    }
    elements.extend(of_steps);
}

/// The text before the bracket that closes.
fn inner(text: &str) -> &str {
    let mut open = 1;
    let end = text.find(|c| {
        open += match c {
            '(' => 1,
            ')' => -1,
            _ => 0,
        };
        open == 0
    });
    text.get(..end.unwrap_or(text.len())).unwrap_or_default()
}

fn of_field(field: &Field, elements: &mut BTreeSet<Element>) {
    match field {
        Field::Text(text) => of_words(text, elements),
        Field::List(fields) => fields.iter().for_each(|field| of_field(field, elements)),
        Field::Object(members) => {
            for (_, value) in members {
                of_field(value, elements);
            }
        }
    }
}

fn of_words(text: &str, elements: &mut BTreeSet<Element>) {
    let words = text.split([' ', '\u{A0}']);
    for found in words.filter_map(formula_in) {
        of_formula(&found.formula.to_string(), elements);
    }
}

/// Adds the elements of a formula, also of one with an unknown number of waters, such as `MgSO4·xH2O`.
fn of_formula(text: &str, elements: &mut BTreeSet<Element>) {
    for part in text.split('·') {
        let unit = part.trim_start_matches(|c: char| c.is_ascii_lowercase());
        let formula: Option<Formula> = unit.parse().ok();
        if let Some(composition) = formula.and_then(|formula| formula.composition().ok()) {
            elements.extend(composition.iter().map(|(atom, _)| atom.element()));
        }
    }
}
