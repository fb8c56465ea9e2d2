//! Words about one row that several texts use: its name, its marks, what each answer earns.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use crate::class::{Answer, CsvStyle, Marked, MarkedRow, Marks};
use crate::number::Ratio;

/// A line that says so if the class is invented.
pub(super) fn invented(marked: &Marked) -> Option<&'static str> {
    let text = "An invented class at an invented college, for demonstration.";
    marked.is_invented().then_some(text)
}

/// Writes that line, and an empty one.
pub(super) fn write_invented(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    match invented(marked) {
        Some(text) => writeln!(out, "{text}\n"),
        None => Ok(()),
    }
}

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
pub(super) fn marks_sentence(row: &MarkedRow, style: CsvStyle) -> Option<String> {
    let mut sentences = Vec::new();
    if let Some(calculation) = row.calculation().filter(|_| !row.answers().is_empty()) {
        let marks = out_of(calculation, row.calculation_out_of(), style);
        sentences.push(format!("Calculation: {marks}."));
        if let Some(cost) = row.figures_cost().filter(|cost| *cost > Marks::ZERO) {
            // A row that has earned half a mark has no more to lose.
            let lost = if cost == 1 { "One mark" } else { "Half a mark" };
            sentences.push(format!("{lost} was taken off for significant figures."));
        }
        if row.answers().iter().any(Answer::by_hand) {
            sentences.push("Some answers are still to be marked by hand.".into());
        }
    }
    if let Some(accuracy) = row.accuracy() {
        let marks = out_of(accuracy, row.accuracy_out_of(), style);
        sentences.push(format!("Accuracy at the bench: {marks}."));
    }
    (!sentences.is_empty()).then(|| sentences.join(" "))
}

fn out_of(marks: Marks, most: Marks, style: CsvStyle) -> String {
    let plural = if most == 1 { "" } else { "s" };
    let [marks, most] = [marks, most].map(|marks| style.number(marks));
    format!("{marks} of {most} mark{plural}")
}

/// A name, marked if the readings are stand-ins.
pub(super) fn with_stand_in(stand_in: bool, name: &str) -> String {
    let label = if stand_in { " (stand-in readings)" } else { "" };
    format!("{name}{label}")
}

/// The marks of each answer of a row: `1` if every answer could earn one mark, otherwise `2/3`. A
/// question mark is an answer to be marked by hand, a dash one that can earn no marks.
pub(super) fn marks_of_answers(row: &MarkedRow, style: CsvStyle) -> Vec<String> {
    let by_one = row.answers().iter().all(|answer| answer.out_of() == 1);
    let answers = row.answers().iter();
    answers
        .map(|answer| match (answer.marks(), answer.out_of()) {
            (_, Marks::ZERO) => "–".into(),
            _ if row.is_open(answer) => "?".into(),
            (marks, _) if by_one => style.number(marks),
            (marks, most) => format!("{}/{}", style.number(marks), style.number(most)),
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
    let (_, waters) = row.issued()?.one_formula_unit()?;
    row.expected_degree().filter(|degree| **degree != waters)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Policy, Sheet};
    use crate::gravimetry::Method;

    #[test]
    fn no_more_is_lost_for_figures_than_was_earned() {
        let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303,6.98881\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        for (marks, sentence) in [
            (
                "0.5",
                "Calculation: 0 of 0.5 marks. Half a mark was taken off",
            ),
            (
                "1.5",
                "Calculation: 0.5 of 1.5 marks. One mark was taken off",
            ),
        ] {
            let policy = format!("step = 0.5\nfigures = 'one_mark'\nmarks.ratio = {marks}");
            let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
            let marked = marker
                .policy(Policy::from_toml(&policy).unwrap())
                .mark(&sheet);
            let written = marks_sentence(&marked.rows()[0], CsvStyle::default()).unwrap();
            assert_eq!(written, format!("{sentence} for significant figures."));
        }
    }
}
