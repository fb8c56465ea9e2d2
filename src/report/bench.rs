//! One bench in the key: its working, how it did at the bench, its answers with their marks.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::block::{Block, Item, Lead};
use super::key::{labelled, other_than_formula, short_degree};
use crate::class::{Answer, MarkedRow, Verdict};
use crate::gravimetry::{Check, Constancy, Dehydration, Outcome};
use crate::number::TieRule;
use crate::text::Note;

pub(super) fn section(row: &MarkedRow, blocks: &mut Vec<Block>) {
    blocks.push(Block::section(labelled(row, &name(row))));
    let Some(run) = row.run() else {
        blocks.push(Block::paragraph(match row.unmarked() {
            0 => "Could not be worked out: see the problems below.".to_string(),
            1 => "Could not be worked out, so the answer handed in is not marked: see the problems below.".to_string(),
            n => format!("Could not be worked out, so the {n} answers handed in are not marked: see the problems below."),
        }));
        return;
    };
    if row.has_own_readings() {
        blocks.push(Block::Working(run.working()));
        at_the_bench(row, run, blocks);
    } else {
        blocks.push(Block::paragraph(
            "Readings and working as above for this bench.",
        ));
    }
    if let Some(marks) = marks(row) {
        blocks.push(Block::Paragraph(marks));
    }
    if !row.answers().is_empty() {
        let answers = row.answers().iter().zip(earned(row));
        let answers = answers.map(|(answer, marks)| Item {
            lead: Lead::Marks(marks),
            text: answered(answer),
        });
        blocks.push(Block::List(answers.collect()));
    }
}

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

/// The other key: how the bench itself did.
fn at_the_bench(row: &MarkedRow, run: &Dehydration, blocks: &mut Vec<Block>) {
    let sentences = [compared(row), Some(concluded(run))];
    let sentences: Vec<String> = sentences.into_iter().flatten().collect();
    blocks.push(Block::Paragraph(sentences.join(" ")));
    // What the series alone does not tell: how far the last weighing is from where it should be.
    let telling = [
        "still_to_lose",
        "lower_hydrate",
        "decomposed",
        "too_light",
        "far_too_light",
    ];
    let warnings = run.warnings().iter();
    let reasons = row.check().map_or(&[][..], Check::reasons).iter();
    let reasons = reasons
        .filter(|reason| telling.contains(&reason.code()))
        .filter(|reason| run.warnings().iter().all(|w| w.text() != reason.text()));
    let items: Vec<Item> = warnings
        .chain(reasons)
        .map(|note| Item::warning(note.text()))
        .collect();
    if !items.is_empty() {
        blocks.push(Block::List(items));
    }
}

/// How far the bench's ratio is from what was issued.
fn compared(row: &MarkedRow) -> Option<String> {
    let difference = row.difference_percent()?;
    let expected = match other_than_formula(row) {
        Some(degree) => format!("the {} that the jar holds", short_degree(degree)),
        None => format!("the {} issued", row.expected_degree()?),
    };
    let size = difference.abs();
    let two = size.to_figures(2, TieRule::Even);
    // Beyond a hundredth of a per cent nothing is worth printing.
    let shown = if two.places() > 2 {
        size.to_places(2, TieRule::Even)
    } else {
        two
    };
    if shown.value().is_zero() {
        return Some(format!("At the bench: x is {expected}."));
    }
    let way = if difference.is_negative() {
        "below"
    } else {
        "above"
    };
    Some(format!("At the bench: x is {shown} % {way} {expected}."))
}

fn concluded(run: &Dehydration) -> String {
    match run.outcome() {
        Outcome::Resolved(hydrate) => format!("The readings resolve {hydrate}."),
        Outcome::Approximate(hydrate) => {
            let refuted = run.constant_mass().and_then(Constancy::reached) == Some(false);
            let but = if refuted {
                "though the mass was not constant"
            } else {
                "though not as closely as the balance allows"
            };
            format!("The readings point to {hydrate}, {but}.")
        }
        Outcome::Ambiguous(several) => {
            let names: Vec<String> = several.iter().map(ToString::to_string).collect();
            let names = crate::text::list(names);
            format!("The readings cannot tell {names} apart.")
        }
        Outcome::Inconsistent => format!(
            "The readings point to no hydrate; {} is the nearest.",
            run.nearest_formula()
        ),
    }
}

fn answered(answer: &Answer) -> String {
    let reported = match answer.reported() {
        "" => "(blank)".into(),
        _ => answer.reported_with_unit(),
    };
    let mut text = format!("{} {reported}: {}", answer.quantity(), sentence(answer));
    for remark in remarks(answer) {
        text.push_str(&format!(" ({})", remark.text()));
    }
    text.push_str(not_counted(answer));
    text
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

/// The remarks but for the one that is the reason of the verdict.
pub(super) fn remarks(answer: &Answer) -> impl Iterator<Item = &Note> {
    let told = usize::from(answer.verdict() == Verdict::Unexplained);
    answer.remarks().iter().skip(told)
}

fn sentence(answer: &Answer) -> String {
    match answer.verdict() {
        // Where the same digits were handed in, there is nothing to add.
        Verdict::Correct if answer.expected_as_written().as_deref() == Some(answer.reported()) => {
            "correct".into()
        }
        // The reason begins with the word.
        Verdict::Correct => answer.reason(),
        // It says "perhaps" where it is not certain.
        Verdict::Slip if answer.certain() == Some(true) => {
            format!("a slip, certain: {}", answer.reason())
        }
        verdict => format!("{verdict}: {}", answer.reason()),
    }
}
