//! What may be chosen for each part of an answer. The lists of the prompt are made from it.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::answers::Answers;
use super::benches::SheetBenches;
use super::rules::{SheetRules, sign};
use crate::exercise::answer_part::PartChoice;
use crate::gravimetry::Quantity;
use crate::mistake::{Fault, NextStep, Slip};

/// A bench that has no fault, if the fault is looked for.
const WITHOUT_FAULT: &str =
    "The mass of this bench is constant. The mole ratio from its readings fits the formula.";
/// A bench that made no slip, if the slip is looked for.
const WITHOUT_SLIP: &str = "All values that this bench reports follow from its readings.";
const OTHER_SLIP: &str =
    "It gives another value than the bench reports. Work it out from the readings, and compare.";
const OTHER_VALUE: &str = "This value follows from the readings, or from a wrong value before it. \
                           Work out the values again, in the order of the sheet.";

fn choice(code: &str, words: impl Into<String>, feedback: impl Into<String>) -> PartChoice {
    PartChoice {
        code: code.into(),
        words: words.into(),
        feedback: feedback.into(),
    }
}

/// The benches, if the one with the fault is looked for.
pub(super) fn benches_with_fault(benches: &SheetBenches<'_>) -> Vec<PartChoice> {
    let all = benches.all.iter().enumerate().map(|(index, bench)| {
        let feedback = match index == benches.faulty {
            true => format!("This bench shows a fault: {}.", sign(benches.fault)),
            false => WITHOUT_FAULT.into(),
        };
        choice(bench.name, bench.name, feedback)
    });
    all.collect()
}

/// The benches, if the one with the slip is looked for.
pub(super) fn benches_with_slip(benches: &SheetBenches<'_>, answers: &Answers) -> Vec<PartChoice> {
    let all = benches.all.iter().enumerate().map(|(index, bench)| {
        let feedback = match index == answers.bench {
            true => "One value that this bench reports does not follow from its readings.",
            false => WITHOUT_SLIP,
        };
        choice(bench.name, bench.name, feedback)
    });
    all.collect()
}

/// The faults, each with its sign.
pub(super) fn faults(rules: &SheetRules) -> Vec<PartChoice> {
    let all = rules.faults.iter().map(|fault| {
        let words = format!("{}: {}", fault.phrase(), sign(*fault));
        let feedback = format!("This fault has another sign. With it, {}.", sign(*fault));
        choice(fault.code(), words, feedback)
    });
    all.collect()
}

/// The advice for each of the faults.
pub(super) fn advice(next: &[(Fault, NextStep)]) -> Vec<PartChoice> {
    let all = next.iter().map(|(fault, step)| {
        let feedback = format!(
            "This advice is for another fault. With that one, {}.",
            sign(*fault)
        );
        choice(step.code(), step.pupil(), feedback)
    });
    all.collect()
}

/// The slips, each with the values that it makes wrong at the bench that has the slip.
pub(super) fn slips(
    rules: &SheetRules,
    benches: &SheetBenches<'_>,
    answers: &Answers,
) -> Vec<PartChoice> {
    let bench = benches.all.get(answers.bench);
    let is_wrong = |slip: Slip, quantity: Quantity| {
        bench.is_some_and(|bench| {
            let issued = &benches.row.hydrate;
            let values = slip.values(&bench.run, &bench.weighings, issued, quantity);
            !values.is_empty()
        })
    };
    let all = rules.slips.iter().map(|slip| {
        let wrong = rules
            .quantities
            .iter()
            .filter(|quantity| is_wrong(*slip, **quantity));
        let wrong = crate::text::list(wrong.map(|quantity| format!("the {}", quantity.name())));
        let feedback = match &*wrong {
            "" => "This slip cannot be made with the readings of the bench.".into(),
            wrong => format!("This slip would show in {wrong}. {OTHER_SLIP}"),
        };
        choice(slip.code(), slip.to_string(), feedback)
    });
    all.collect()
}

/// The values that a bench reports.
pub(super) fn values(rules: &SheetRules) -> Vec<PartChoice> {
    let all = rules.quantities.iter();
    all.map(|quantity| choice(quantity.code(), quantity.name(), OTHER_VALUE))
        .collect()
}
