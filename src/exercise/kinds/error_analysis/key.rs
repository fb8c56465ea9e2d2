//! What the class says of the fault and of the slip.

use super::answers::Answers;
use super::benches::{SheetBenches, is_clear};
use super::rules::SheetRules;
use crate::class::{Answer, Marked, MarkedRow, Verdict};
use crate::exercise::draft::Refusal;
use crate::mistake::Diagnosis;

/// Refuses a class that does not say exactly what was planted: this fault first at its bench and none at another,
/// this slip as certain at its bench and no other wrong answer.
pub(super) fn check(
    marked: &Marked,
    rules: &SheetRules,
    benches: &SheetBenches<'_>,
    answers: &Answers,
) -> Result<(), Refusal> {
    let whole = marked.problems().is_empty() && marked.rows().len() == benches.all.len();
    if !whole {
        return Err(Refusal::Again("the class cannot be worked out"));
    }
    for (index, row) in marked.rows().iter().enumerate() {
        if !is_diagnosed(row, index == benches.faulty, rules, benches) {
            return Err(Refusal::Again(
                "the class does not find the fault, or finds another",
            ));
        }
        let wrong = (index == answers.bench).then_some(answers);
        if !are_judged(row.answers(), wrong) {
            return Err(Refusal::Again(
                "the class does not find the slip, or finds another",
            ));
        }
    }
    Ok(())
}

fn is_diagnosed(
    row: &MarkedRow,
    faulty: bool,
    rules: &SheetRules,
    benches: &SheetBenches<'_>,
) -> bool {
    let shows = |diagnosis: &Diagnosis| match faulty {
        true => is_clear(diagnosis, benches.fault, rules.faults),
        false => diagnosis.likely().is_empty(),
    };
    row.diagnosis().is_some_and(shows)
}

/// Whether all answers of a row are right, but for the wrong one and those that follow from it.
fn are_judged(all: &[Answer], wrong: Option<&Answers>) -> bool {
    all.iter().enumerate().all(|(index, answer)| match wrong {
        Some(wrong) if index == wrong.quantity => {
            answer.slips() == [wrong.slip] && answer.certain() == Some(true)
        }
        Some(wrong) if index > wrong.quantity => {
            matches!(answer.verdict(), Verdict::Correct | Verdict::CarriedForward)
        }
        _ => answer.verdict() == Verdict::Correct,
    })
}
