//! Why a mark changes.

use alloc::format;
use alloc::string::String;

use super::pairing::Pair;
use crate::class::marking::answer::{Answer, Verdict};
use crate::class::marking::marked_row::MarkedRow;
use crate::gravimetry::Quantity;
use crate::text::Note;

/// Why a mark changes, with what was before and what is now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum ChangeReason {
    RowAdded,
    RowRemoved,
    NotWorkedOut,
    NowWorkedOut,
    AnswerAdded(Quantity, Verdict),
    AnswerRemoved(Quantity, Verdict),
    /// Another value is reported.
    Reported(Quantity, String, String),
    /// The same verdict earns other marks.
    Marks {
        quantity: Quantity,
        verdict: Verdict,
        from: u32,
        to: u32,
    },
    /// The bench's own readings give something else.
    Key {
        quantity: Quantity,
        verdicts: [Verdict; 2],
        what: &'static str,
        values: [String; 2],
    },
    /// Another verdict by the same key.
    Verdict(Quantity, [Verdict; 2]),
    Accuracy {
        from: Option<u32>,
        to: Option<u32>,
    },
    /// Whether significant figures cost a mark now, or did before.
    Figures {
        now: bool,
    },
}

impl ChangeReason {
    const fn code(&self) -> &'static str {
        match self {
            ChangeReason::RowAdded => "row_added",
            ChangeReason::RowRemoved => "row_removed",
            ChangeReason::NotWorkedOut => "not_worked_out",
            ChangeReason::NowWorkedOut => "now_worked_out",
            ChangeReason::AnswerAdded(..) => "answer_added",
            ChangeReason::AnswerRemoved(..) => "answer_removed",
            ChangeReason::Reported(..) => "answer_changed",
            ChangeReason::Marks { .. } => "marks_changed",
            ChangeReason::Key { .. } => "key_changed",
            ChangeReason::Verdict(..) => "verdict_changed",
            ChangeReason::Accuracy { .. } => "accuracy_changed",
            ChangeReason::Figures { .. } => "figures_changed",
        }
    }

    fn text(&self) -> String {
        let text = match self {
            ChangeReason::RowAdded => "the row was not there before",
            ChangeReason::RowRemoved => "the row is no longer there",
            ChangeReason::NotWorkedOut => "the row can no longer be worked out",
            ChangeReason::NowWorkedOut => "the row could not be worked out before",
            ChangeReason::Figures { now: true } => "significant figures now cost a mark",
            ChangeReason::Figures { now: false } => "significant figures no longer cost a mark",
            ChangeReason::AnswerAdded(quantity, _) => {
                return format!("the {quantity} was not asked for before");
            }
            ChangeReason::AnswerRemoved(quantity, _) => {
                return format!("the {quantity} is no longer asked for");
            }
            ChangeReason::Reported(quantity, was, is) => {
                let (was, is) = (quoted(was), quoted(is));
                return format!("the {quantity} reported was {was} and is now {is}");
            }
            ChangeReason::Marks {
                quantity,
                verdict,
                from,
                to,
            } => {
                return format!(
                    "the {quantity}, {verdict} as before, earned {from} and now earns {to}"
                );
            }
            ChangeReason::Key {
                quantity,
                verdicts: [was, is],
                what,
                values: [old, new],
            } => {
                return format!(
                    "the {quantity} was {was} and is now {is}: the {what} was {old} and is now {new}"
                );
            }
            ChangeReason::Verdict(quantity, [was, is]) => {
                return format!("the {quantity} was {was} and is now {is}");
            }
            ChangeReason::Accuracy { from, to } => return accuracy(*from, *to),
        };
        text.into()
    }

    /// What was before and what is now, where they are single values.
    fn values(&self) -> [Option<String>; 2] {
        let verdict = |verdict: &Verdict| Some(verdict.code().into());
        let number = |marks: u32| format!("{marks}");
        match self {
            ChangeReason::AnswerAdded(_, after) => [None, verdict(after)],
            ChangeReason::AnswerRemoved(_, before) => [verdict(before), None],
            ChangeReason::Reported(_, was, is) => [Some(was.clone()), Some(is.clone())],
            ChangeReason::Marks { from, to, .. } => [Some(number(*from)), Some(number(*to))],
            ChangeReason::Key { values, .. } => values.clone().map(Some),
            ChangeReason::Verdict(_, [was, is]) => [verdict(was), verdict(is)],
            ChangeReason::Accuracy { from, to } => {
                [*from, *to].map(|marks| Some(marks.map_or_else(String::new, number)))
            }
            _ => [None, None],
        }
    }

    pub(super) fn note(&self) -> Note {
        let names = ["before", "after"].into_iter();
        let values = names.zip(self.values());
        values.fold(
            Note::new(self.code(), self.text()),
            |note, (name, value)| match value {
                Some(value) => note.with(name, value),
                None => note,
            },
        )
    }
}

fn accuracy(from: Option<u32>, to: Option<u32>) -> String {
    let change = match (from, to) {
        (Some(from), Some(to)) => format!("earned {from} and now earns {to}"),
        (Some(from), None) => format!("earned {from} and is no longer marked"),
        (None, to) => format!("was not marked and now earns {}", to.unwrap_or(0)),
    };
    format!("the accuracy at the bench {change}")
}

fn quoted(reported: &str) -> String {
    match reported {
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
    let (Some(before), Some(after)) = (before, after) else {
        let added = before.is_none();
        return Some(if added {
            ChangeReason::RowAdded
        } else {
            ChangeReason::RowRemoved
        });
    };
    match (before.run(), after.run()) {
        (Some(_), None) => Some(ChangeReason::NotWorkedOut),
        (None, Some(_)) => Some(ChangeReason::NowWorkedOut),
        _ => None,
    }
}

/// Returns the reason if an answer has another verdict or other marks.
pub(super) fn of_answers(
    quantity: Quantity,
    before: Option<&Answer>,
    after: Option<&Answer>,
) -> Option<ChangeReason> {
    let (before, after) = match (before, after) {
        (None, None) => return None,
        (None, Some(after)) => return Some(ChangeReason::AnswerAdded(quantity, after.verdict())),
        (Some(before), None) => {
            return Some(ChangeReason::AnswerRemoved(quantity, before.verdict()));
        }
        (Some(before), Some(after)) => (before, after),
    };
    let verdicts = [before.verdict(), after.verdict()];
    let (from, to) = (before.marks(), after.marks());
    let same_verdict = before.verdict() == after.verdict();
    if from == to && same_verdict {
        return None;
    }
    if before.reported() != after.reported() {
        let (was, is) = (before.reported().into(), after.reported().into());
        return Some(ChangeReason::Reported(quantity, was, is));
    }
    if same_verdict {
        let verdict = after.verdict();
        return Some(ChangeReason::Marks {
            quantity,
            verdict,
            from,
            to,
        });
    }
    Some(match key(before, after) {
        Some((what, values)) => ChangeReason::Key {
            quantity,
            verdicts,
            what,
            values,
        },
        None => ChangeReason::Verdict(quantity, verdicts),
    })
}

/// Returns what the bench's own readings give, if it is not what they gave before.
fn key(before: &Answer, after: &Answer) -> Option<(&'static str, [String; 2])> {
    let both = [before, after];
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
    let (then, now) = (
        before.lost_a_mark_for_figures(),
        after.lost_a_mark_for_figures(),
    );
    (then != now).then_some(ChangeReason::Figures { now })
}
