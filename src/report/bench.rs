//! One bench in the key: its working, how it did at the bench, its answers with their marks.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::block::{Block, Item, Lead};
use super::faults;
use super::numbers::short_degree;
use super::row::{marks_of_answers, marks_sentence, reported, stock_degree, title};
use crate::class::{Answer, CsvStyle, MarkedRow, Verdict};
use crate::gravimetry::{Constancy, Dehydration, Outcome, Reason, Warning};
use crate::text::{list, sentence};

const NOT_WORKED_OUT: &str = "The readings could not be worked out";
const SEE: &str = "See the problems below.";

pub(super) fn section(row: &MarkedRow) -> Block {
    Block::Bench(title(row), content(row))
}

fn content(row: &MarkedRow) -> Vec<Block> {
    if row.absent() {
        return Vec::from([Block::paragraph("Absent, and not marked.")]);
    }
    let mut blocks = Vec::new();
    if row.mass_loss().is_none() {
        blocks.push(Block::paragraph(match row.unmarked() {
            _ if row.answers().iter().any(Answer::marked_by_hand) => {
                format!("{NOT_WORKED_OUT}, so the answers are marked by hand. {SEE}")
            }
            _ if !row.answers().is_empty() => {
                format!("{NOT_WORKED_OUT}, so only the mass of hydrate is marked. {SEE}")
            }
            0 => format!("{NOT_WORKED_OUT}. {SEE}"),
            1 => format!("{NOT_WORKED_OUT}, so the answer is not marked. {SEE}"),
            n => format!("{NOT_WORKED_OUT}, so the {n} answers are not marked. {SEE}"),
        }));
        if row.has_own_readings() {
            blocks.extend(how_readings_make_sense(row));
        }
    }
    match row.dehydration() {
        _ if row.mass_loss().is_none() => {}
        Some(dehydration) if row.has_own_readings() => {
            blocks.push(Block::Working(dehydration.working()));
            at_the_bench(row, dehydration, &mut blocks);
        }
        Some(_) => blocks.push(Block::paragraph(
            "The readings and the working are shown with another pupil of this bench.",
        )),
        None => blocks.push(Block::paragraph(
            "It is not known what was issued. Only masses and percent water are marked.",
        )),
    }
    let style = CsvStyle::default();
    if let Some(marks) = marks_sentence(row, style) {
        blocks.push(Block::Paragraph(marks));
    }
    if !row.answers().is_empty() {
        let answers = row.answers().iter().zip(marks_of_answers(row, style));
        let answers = answers.map(|(answer, marks)| Item {
            lead: Lead::Marks(marks),
            text: answer_line(answer),
        });
        blocks.push(Block::List(answers.collect()));
    }
    blocks
}

/// The readings with which a bench that could not be worked out makes sense.
fn how_readings_make_sense(row: &MarkedRow) -> Option<Block> {
    let reasons = row.check()?.findings().iter().filter(|reason| {
        matches!(
            reason,
            Reason::WrongDigit(..)
                | Reason::Mistyped(..)
                | Reason::Swapped(_)
                | Reason::Reordered(_)
                | Reason::WithoutContainer(_)
        )
    });
    let items: Vec<Item> = reasons
        .map(|reason| Item::warning(reason.note().text()))
        .collect();
    (!items.is_empty()).then_some(Block::List(items))
}

/// Adds how near the bench came to what was issued, with its warnings.
fn at_the_bench(row: &MarkedRow, dehydration: &Dehydration, blocks: &mut Vec<Block>) {
    let sentences = [accuracy(row), Some(outcome(dehydration))];
    let sentences: Vec<String> = sentences.into_iter().flatten().collect();
    blocks.push(Block::Paragraph(sentences.join(" ")));
    let mut notes = dehydration.warnings();
    if let Some(check) = row.check() {
        let reasons = check.findings().iter();
        let added = reasons.filter(|reason| adds_to(dehydration, reason));
        notes.extend(added.map(Reason::note));
    }
    let mut items: Vec<Item> = notes
        .iter()
        .map(|note| Item::warning(note.text()))
        .collect();
    items.extend(faults::after_the_lesson(row).map(|text| Item::warning(&text)));
    if !items.is_empty() {
        blocks.push(Block::List(items));
    }
}

/// Whether a reason compares the last weighing with its expected mass, or names a reading that may be wrong, as no
/// warning does.
fn adds_to(dehydration: &Dehydration, reason: &Reason) -> bool {
    match reason {
        Reason::Overheating(overheating) => {
            let warning = Warning::Overheating(overheating.clone());
            !dehydration.findings().contains(&warning)
        }
        // What is left explains the mass already.
        Reason::WrongDigit(..)
        | Reason::Mistyped(..)
        | Reason::Swapped(_)
        | Reason::Reordered(_)
        | Reason::WithoutContainer(_)
        | Reason::GainByDigits(..)
        | Reason::FallByDigits(_)
        | Reason::AboveByDigits(_) => dehydration.further_residue().is_none(),
        Reason::SlowLoss(_)
        | Reason::StillToLose(_)
        | Reason::WaterOrHeavier(..)
        | Reason::LowerHydrate(_)
        | Reason::TooLight(_)
        | Reason::FarTooLight(_) => true,
        _ => false,
    }
}

/// The difference between the bench's ratio and what was issued, in a sentence.
fn accuracy(row: &MarkedRow) -> Option<String> {
    let difference = row.difference_percent()?;
    let expected = match stock_degree(row) {
        Some(degree) => format!("{}, the value of the stock", short_degree(degree)),
        None => format!(
            "{}, the value for {}",
            row.expected_degree()?,
            row.issued()?
        ),
    };
    let shown = row.printed_difference()?;
    let with = row.further_residue();
    let with = with.map_or_else(String::new, |residue| {
        format!("with {residue} as the residue, ")
    });
    if shown.value().is_zero() {
        return Some(format!("At the bench: {with}x equals {expected}."));
    }
    let way = if difference.is_negative() {
        "below"
    } else {
        "above"
    };
    Some(format!(
        "At the bench: {with}x is {shown} % {way} {expected}."
    ))
}

fn outcome(dehydration: &Dehydration) -> String {
    match dehydration.outcome() {
        Outcome::Resolved(hydrate) => format!("The readings show {hydrate}."),
        Outcome::Approximate(hydrate) => {
            let refuted = dehydration.constant_mass().and_then(Constancy::reached) == Some(false);
            let mut findings = dehydration.findings().iter();
            let is_unknown = findings.any(|finding| matches!(finding, Warning::UnknownHydrate(..)));
            let but = if refuted {
                "constant mass was not reached"
            } else if is_unknown {
                "this is not a known hydrate"
            } else {
                "x differs from it by more than the balance explains"
            };
            format!("The nearest hydrate is {hydrate}, but {but}.")
        }
        Outcome::Ambiguous(several) => {
            let names: Vec<String> = several.iter().map(ToString::to_string).collect();
            format!("The readings cannot distinguish between {}.", list(names))
        }
        Outcome::Inconsistent if dehydration.further_residue().is_some() => format!(
            "With {} as the residue, the readings fit no hydrate.",
            dehydration.residue()
        ),
        Outcome::Inconsistent => format!(
            "The readings fit no hydrate. The nearest is {}.",
            dehydration.nearest_formula()
        ),
    }
}

fn answer_line(answer: &Answer) -> String {
    // If exactly these digits were handed in, there is nothing to add.
    let same = answer.verdict() == Verdict::Correct
        && answer.expected_as_written().as_deref() == Some(answer.reported());
    let reason = if same {
        "correct.".into()
    } else {
        answer.reason()
    };
    let mut text = format!("{}: {reason}", reported(answer));
    for remark in answer.side_remarks() {
        text.push_str(&format!(" {}", sentence(remark.note().text())));
    }
    text
}
