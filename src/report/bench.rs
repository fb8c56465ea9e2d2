//! One bench in the key: its working, how it did at the bench, its answers with their marks.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::block::{Block, Item, Lead};
use super::numbers::short_degree;
use super::row::{earned, labelled, marks, name, not_counted, other_than_formula};
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
