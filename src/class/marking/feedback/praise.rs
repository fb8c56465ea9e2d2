//! What is right.

use alloc::format;
use alloc::vec::Vec;

use crate::class::marking::answer::Answer;
use crate::class::marking::marked_row::MarkedRow;
use crate::class::marking::verdict::Verdict;
use crate::gravimetry::Quantity;
use crate::mistake::Slip;
use crate::text::{Note, list};

/// The most right answers that are named one by one.
const MOST_NAMED: usize = 3;

/// Returns the first note, which never says that anything is wrong.
pub(super) fn what_is_right(row: &MarkedRow) -> Note {
    let with = |verdict: Verdict| -> Vec<&Answer> {
        let answers = row.answers().iter();
        answers
            .filter(|answer| answer.verdict() == verdict)
            .collect()
    };
    let (right, mut carried) = (with(Verdict::Correct), with(Verdict::CarriedForward));
    carried.retain(|answer| !answer.repeats_an_error());
    let given = row.answers().len() - with(Verdict::Missing).len();
    let by_hand = row.answers().iter().filter(|answer| answer.by_hand());
    if given == 0 {
        return Note::new(
            "nothing_handed_in",
            "You have not handed in an answer yet. Your readings are enough to work everything out.",
        );
    }
    if by_hand.count() == given {
        return Note::new(
            "to_be_read",
            "Your teacher will read and mark what you handed in.",
        );
    }
    if right.len() == row.answers().len() {
        return named("all_right", &right, given, ["is right", "are right"]);
    }
    if !right.is_empty() {
        return named("some_right", &right, given, ["is right", "are right"]);
    }
    if !carried.is_empty() {
        let verbs = [
            "follows correctly from your earlier work",
            "follow correctly from your earlier work",
        ];
        return named("follows_rightly", &carried, given, verbs);
    }
    let by_hand = row
        .answers()
        .iter()
        .filter(|answer| answer.marked_by_hand());
    let by_hand: Vec<&Answer> = by_hand.collect();
    if !by_hand.is_empty() {
        let verbs = [
            "has been marked by your teacher",
            "have been marked by your teacher",
        ];
        return named("marked_by_hand", &by_hand, given, verbs);
    }
    // What the book says is true of a pure hydrate, so it is not called wrong.
    let is_textbook_value = |answer: &Answer| answer.slips().contains(&Slip::TextbookValue);
    let answered = row.answers().iter();
    let mut answered = answered.filter(|answer| answer.verdict() != Verdict::Missing);
    let text = if answered.all(is_textbook_value) {
        "Work from your own readings, one step at a time. They need not give the textbook value."
    } else {
        "Go through your work one step at a time. Your answers do not follow from your readings yet."
    };
    Note::new("nothing_right_yet", text)
}

/// A sentence about some of the answers given, with a verb for one answer and one for several.
fn named(code: &'static str, answers: &[&Answer], given: usize, verbs: [&str; 2]) -> Note {
    let shown =
        |answer: &&Answer| format!("{} ({})", answer.quantity(), answer.reported_with_unit());
    let count = answers.len();
    let verb = verbs[usize::from(count > 1)];
    // The furthest number that was worked out stands for the rest.
    let mut from_the_last = answers.iter().rev();
    let last = from_the_last.find(|answer| answer.quantity() != Quantity::Formula);
    let text = match last {
        Some(last) if count > MOST_NAMED => {
            let of = if count == given {
                format!("All {count} of your")
            } else {
                format!("{count} of your {given}")
            };
            format!("{of} answers {verb}, including your {}.", shown(last))
        }
        _ => format!("Your {} {verb}.", list(answers.iter().map(shown))),
    };
    let codes = answers.iter().map(|answer| answer.quantity().code());
    let codes: Vec<&str> = codes.collect();
    Note::new(code, text).with("quantities", codes.join(" "))
}
