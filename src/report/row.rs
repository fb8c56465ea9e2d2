//! Words about one row that several texts use: its name, its marks, what each answer earns.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::class::{Answer, MarkedRow};
use crate::number::Ratio;

/// The bench, who handed in, and the class hour.
pub(super) fn name(row: &MarkedRow) -> String {
    let mut name = row.bench().to_string();
    if let Some(pupil) = row.pupil() {
        name.push_str(&format!(", {pupil}"));
    }
    if let Some(period) = row.period() {
        name.push_str(&format!(", period {period}"));
    }
    name
}

/// The marks of each key apart; `None` where nothing was asked.
pub(super) fn marks(row: &MarkedRow) -> Option<String> {
    let mut text = String::new();
    if let Some(calculation) = row.calculation().filter(|_| !row.answers().is_empty()) {
        text = format!(
            "Calculation: {}{}{}.",
            out_of(calculation, row.calculation_out_of()),
            if costs_figures(row, calculation) {
                ", one having been taken for the figures"
            } else {
                ""
            },
            if row.answers().iter().any(Answer::by_hand) {
                ", beside what is to be marked by hand"
            } else {
                ""
            }
        );
    }
    if let Some(accuracy) = row.accuracy() {
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&format!(
            "Accuracy at the bench: {}.",
            out_of(accuracy, row.accuracy_out_of())
        ));
    }
    (!text.is_empty()).then_some(text)
}

fn costs_figures(row: &MarkedRow, calculation: u32) -> bool {
    let answers: u32 = row.answers().iter().map(Answer::marks).sum();
    answers > calculation
}

fn out_of(marks: u32, most: u32) -> String {
    let plural = if most == 1 { "" } else { "s" };
    format!("{marks} of {most} mark{plural}")
}

/// What is called so, with a word about readings that nobody weighed.
pub(super) fn labelled(row: &MarkedRow, name: &str) -> String {
    stand_in(row.stand_in(), name)
}

pub(super) fn stand_in(stand_in: bool, name: &str) -> String {
    let label = if stand_in { " (stand-in readings)" } else { "" };
    format!("{name}{label}")
}

/// What each answer of a row earns, as short as it is clear: `1` where each could earn one mark,
/// else `2/3`; a question mark where it is to be marked by hand, a dash where it is not counted.
pub(super) fn earned(row: &MarkedRow) -> Vec<String> {
    let by_one = row.answers().iter().all(|answer| answer.out_of() == 1);
    let answers = row.answers().iter();
    answers
        .map(|answer| match (answer.marks(), answer.out_of()) {
            (_, 0) => "–".into(),
            _ if answer.by_hand() => "?".into(),
            (marks, 1) if by_one => format!("{marks}"),
            (marks, most) => format!("{marks}/{most}"),
        })
        .collect()
}

/// A word about an answer that is judged for itself alone.
pub(super) fn not_counted(answer: &Answer) -> &'static str {
    if answer.out_of() == 0 {
        " (not counted)"
    } else {
        ""
    }
}

/// The degree that the bench is compared with, where that is not the formula's.
pub(super) fn other_than_formula(row: &MarkedRow) -> Option<&Ratio> {
    let (_, waters) = row.issued().one_formula_unit()?;
    row.expected_degree().filter(|degree| **degree != waters)
}
