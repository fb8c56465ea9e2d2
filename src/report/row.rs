//! Words about one row that several texts use: its name, its marks, what each answer earns.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::class::{Answer, MarkedRow, Marks};
use crate::number::Ratio;

/// The bench, the pupil and the period, marked if the readings are stand-ins.
pub(super) fn title(row: &MarkedRow) -> String {
    let mut name = row.bench().to_string();
    if let Some(pupil) = row.pupil() {
        name.push_str(&format!(", {pupil}"));
    }
    if let Some(period) = row.period() {
        name.push_str(&format!(", period {period}"));
    }
    with_stand_in(row.stand_in(), &name)
}

/// The marks for calculation and for accuracy in sentences; `None` if nothing was asked.
pub(super) fn marks_sentence(row: &MarkedRow) -> Option<String> {
    let mut sentences = Vec::new();
    if let Some(calculation) = row.calculation().filter(|_| !row.answers().is_empty()) {
        let marks = out_of(calculation, row.calculation_out_of());
        sentences.push(format!("Calculation: {marks}."));
        if row.lost_a_mark_for_figures() {
            sentences.push("One mark was taken off for significant figures.".into());
        }
        if row.answers().iter().any(Answer::by_hand) {
            sentences.push("Some answers are still to be marked by hand.".into());
        }
    }
    if let Some(accuracy) = row.accuracy() {
        let marks = out_of(accuracy, row.accuracy_out_of());
        sentences.push(format!("Accuracy at the bench: {marks}."));
    }
    (!sentences.is_empty()).then(|| sentences.join(" "))
}

fn out_of(marks: Marks, most: Marks) -> String {
    let plural = if most == 1 { "" } else { "s" };
    format!("{marks} of {most} mark{plural}")
}

/// A name, marked if the readings are stand-ins.
pub(super) fn with_stand_in(stand_in: bool, name: &str) -> String {
    let label = if stand_in { " (stand-in readings)" } else { "" };
    format!("{name}{label}")
}

/// The marks of each answer of a row: `1` if every answer could earn one mark, otherwise `2/3`. A
/// question mark is an answer to be marked by hand, a dash one that can earn no marks.
pub(super) fn marks_of_answers(row: &MarkedRow) -> Vec<String> {
    let by_one = row.answers().iter().all(|answer| answer.out_of() == 1);
    let answers = row.answers().iter();
    answers
        .map(|answer| match (answer.marks(), answer.out_of()) {
            (_, Marks::ZERO) => "–".into(),
            _ if answer.by_hand() => "?".into(),
            (marks, _) if by_one => format!("{marks}"),
            (marks, most) => format!("{marks}/{most}"),
        })
        .collect()
}

/// An answer without its verdict: the quantity, the value reported, and whether it can earn marks.
pub(super) fn reported(answer: &Answer) -> String {
    let mut text = answer.quantity().to_string();
    if !answer.reported().is_empty() {
        text.push_str(&format!(" {}", answer.reported_with_unit()));
    }
    if answer.out_of() == 0 {
        text.push_str(" (not counted)");
    }
    text
}

/// The degree of hydration of the stock, if it differs from that of the formula.
pub(super) fn stock_degree(row: &MarkedRow) -> Option<&Ratio> {
    let (_, waters) = row.issued().one_formula_unit()?;
    row.expected_degree().filter(|degree| **degree != waters)
}
