//! Why a mark changes.

use alloc::format;
use alloc::string::{String, ToString};

use super::pairing::Pair;
use crate::class::Marks;
use crate::class::marking::answer::Answer;
use crate::class::marking::marked_row::MarkedRow;
use crate::class::marking::verdict::Verdict;
use crate::gravimetry::Quantity;
use crate::text::{Note, one_line};

/// Why a mark changes. Pairs are what was before and what is now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum ChangeReason {
    RowAdded,
    RowRemoved,
    NotWorkedOut,
    NowWorkedOut,
    AnswerAdded(Quantity, Verdict),
    AnswerRemoved(Quantity, Verdict),
    /// Another value is reported.
    Reported(Quantity, [String; 2]),
    /// The same verdict earns other marks.
    Marks(Quantity, Verdict, [Marks; 2]),
    /// The bench's own readings give something else, which has this name.
    Key(Quantity, [Verdict; 2], &'static str, [String; 2]),
    /// Marks were given by hand only now, or only before, or are others now.
    ByHand(Quantity, [bool; 2]),
    /// Another verdict by the same key, with the reason if the answer earns nothing now.
    Verdict(Quantity, [Verdict; 2], Option<String>),
    /// The accuracy at the bench earns other marks.
    Accuracy([Option<Marks>; 2]),
    /// Significant figures cost a mark only now, or only before.
    Figures {
        now: bool,
    },
}

impl ChangeReason {
    pub(super) fn note(&self) -> Note {
        use ChangeReason as R;
        let both = |code, text: String, [before, after]: [String; 2]| {
            let note = Note::new(code, text);
            note.with("before", before).with("after", after)
        };
        match self {
            R::RowAdded => Note::new("row_added", "the row was not there before"),
            R::RowRemoved => Note::new("row_removed", "the row is no longer there"),
            R::NotWorkedOut => Note::new("not_worked_out", "the row can no longer be worked out"),
            R::NowWorkedOut => {
                Note::new("now_worked_out", "the row could not be worked out before")
            }
            R::AnswerAdded(quantity, verdict) => {
                let text = format!("the {quantity} was not asked for before");
                Note::new("answer_added", text).with("after", verdict.code())
            }
            R::AnswerRemoved(quantity, verdict) => {
                let text = format!("the {quantity} is no longer asked for");
                Note::new("answer_removed", text).with("before", verdict.code())
            }
            R::Reported(quantity, values) => {
                let [was, is] = values.each_ref().map(|value| quoted(value));
                let text = format!("the {quantity} reported was {was} and is now {is}");
                both("answer_changed", text, values.clone())
            }
            R::Marks(quantity, verdict, marks) => {
                let [from, to] = marks;
                let text = format!(
                    "the {quantity}, {verdict} as before, earned {from} and now earns {to}"
                );
                both("marks_changed", text, marks.map(|marks| marks.to_string()))
            }
            R::Key(quantity, verdicts, what, values) => {
                let [old, new] = values;
                let verdicts = other_verdict(*quantity, *verdicts);
                let text = format!("{verdicts}: the {what} was {old} and is now {new}");
                both("key_changed", text, values.clone())
            }
            R::ByHand(quantity, times) => {
                let text = format!("the {quantity} {}", by_hand(*times));
                Note::new("marked_by_hand", text)
            }
            R::Verdict(quantity, verdicts, why) => {
                let why = why.iter().map(|why| format!(": {why}"));
                let text = other_verdict(*quantity, *verdicts) + &why.collect::<String>();
                let codes = verdicts.map(|verdict| verdict.code().into());
                both("verdict_changed", text, codes)
            }
            R::Accuracy(marks) => {
                let values = marks.map(|marks| marks.map_or_else(String::new, |m| m.to_string()));
                both("accuracy_changed", accuracy(*marks), values)
            }
            R::Figures { now } => {
                let change = if *now { "now" } else { "no longer" };
                let text = format!("significant figures {change} cost a mark");
                Note::new("figures_changed", text)
            }
        }
    }
}

fn other_verdict(quantity: Quantity, [was, is]: [Verdict; 2]) -> String {
    format!("the {quantity} was {was} and is now {is}")
}

fn by_hand(before_and_now: [bool; 2]) -> &'static str {
    match before_and_now {
        [_, false] => "is no longer marked by hand",
        [false, true] => "was marked by hand",
        [true, true] => "was marked by hand again",
    }
}

fn accuracy(marks: [Option<Marks>; 2]) -> String {
    let change = match marks {
        [Some(from), Some(to)] => format!("earned {from} and now earns {to}"),
        [Some(from), None] => format!("earned {from} and is no longer marked"),
        [None, to] => format!("was not marked and now earns {}", to.unwrap_or_default()),
    };
    format!("the accuracy at the bench {change}")
}

fn quoted(reported: &str) -> String {
    match one_line(reported).as_str() {
        "" => "blank".into(),
        text => format!("`{text}`"),
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for ChangeReason {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.note().serialize(serializer)
    }
}

/// Returns the reason if a row is there, or could be worked out, only before or only now.
pub(super) fn whole_row((before, after): Pair<'_>) -> Option<ChangeReason> {
    let worked_out = |row: &MarkedRow| row.mass_loss().is_some();
    match (before.map(worked_out), after.map(worked_out)) {
        (None, _) => Some(ChangeReason::RowAdded),
        (_, None) => Some(ChangeReason::RowRemoved),
        (Some(true), Some(false)) => Some(ChangeReason::NotWorkedOut),
        (Some(false), Some(true)) => Some(ChangeReason::NowWorkedOut),
        _ => None,
    }
}

/// Returns the reason if an answer has another verdict or other marks.
pub(super) fn of_answers(
    quantity: Quantity,
    before: Option<&Answer>,
    after: Option<&Answer>,
) -> Option<ChangeReason> {
    let [before, after] = match (before, after) {
        (None, None) => return None,
        (None, Some(after)) => return Some(ChangeReason::AnswerAdded(quantity, after.verdict())),
        (Some(before), None) => {
            return Some(ChangeReason::AnswerRemoved(quantity, before.verdict()));
        }
        (Some(before), Some(after)) => [before, after],
    };
    let both = [before, after];
    let (verdicts, marks) = (both.map(Answer::verdict), both.map(Answer::marks));
    let same_verdict = verdicts[0] == verdicts[1];
    let by_hand = both.map(Answer::marked_by_hand);
    if by_hand != [false, false] {
        // Whether marks by hand are all that can be earned is no change by itself.
        let same = by_hand == [true, true] && marks[0] == marks[1];
        return (!same).then_some(ChangeReason::ByHand(quantity, by_hand));
    }
    if same_verdict && marks[0] == marks[1] {
        return None;
    }
    Some(if before.reported() != after.reported() {
        ChangeReason::Reported(quantity, both.map(|answer| answer.reported().into()))
    } else if same_verdict {
        ChangeReason::Marks(quantity, after.verdict(), marks)
    } else if let Some((what, values)) = key(both) {
        ChangeReason::Key(quantity, verdicts, what, values)
    } else {
        let why = after
            .obstacle()
            .map(|obstacle| obstacle.note().text().into());
        ChangeReason::Verdict(quantity, verdicts, why)
    })
}

/// Returns what the bench's own readings give, if it is not what they gave before.
fn key(both: [&Answer; 2]) -> Option<(&'static str, [String; 2])> {
    let [before, after] = both;
    let known = |text: Option<String>| text.unwrap_or_else(|| "unknown".into());
    if before.expected() != after.expected() {
        let written = both.map(Answer::expected_as_written);
        let values = if written[0] == written[1] {
            both.map(Answer::expected)
        } else {
            written
        };
        return Some(("bench's own value", values.map(known)));
    }
    let interval = |answer: &Answer| {
        let interval = answer.defensible()?;
        let (low, high) = (interval.low().to_plain(), interval.high().to_plain());
        Some(format!("{low} to {high}"))
    };
    (before.defensible() != after.defensible()).then(|| {
        let values = both.map(interval).map(known);
        ("defensible range", values)
    })
}

/// Returns the reason if significant figures cost a mark only before or only now.
pub(super) fn figures(before: &MarkedRow, after: &MarkedRow) -> Option<ChangeReason> {
    let now = after.lost_a_mark_for_figures();
    (before.lost_a_mark_for_figures() != now).then_some(ChangeReason::Figures { now })
}
