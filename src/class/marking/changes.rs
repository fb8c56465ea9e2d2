//! What marking again changes: who gains, who loses, and why.

#[cfg(test)]
mod tests;

use alloc::collections::{BTreeMap, VecDeque};
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::answer::Answer;
use super::marked::Marked;
use super::marked_row::{MarkedRow, RowOwner};
use crate::gravimetry::Quantity;
use crate::text::Note;

/// What changes between two markings, as when the key, the policy or a cell was corrected.
///
/// Rows are matched by class hour, bench and pupil: where one has as many rows in both, in their
/// order; else those on the same line first.
///
/// ```
/// use effloresce::class::{Marker, MarkChanges, Sheet};
/// use effloresce::gravimetry::Method;
/// let sheet = |ratio: &str| {
///     let header = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio";
///     Sheet::read(format!("{header}\nHeron,21.352,24.018,22.656,22.655,{ratio}\n").as_bytes())
/// };
/// let marker = Marker::new("MgSO4·7H2O".parse()?, Method::new());
/// let mark_changes = MarkChanges::between(&marker.mark(&sheet("5.83")?), &marker.mark(&sheet("6.99")?));
/// assert_eq!(mark_changes.rows()[0].difference(), Some(1));
/// assert_eq!(
///     mark_changes.changes()[0].reason().text(),
///     "the mole ratio reported was `5.83` and is now `6.99`",
/// );
/// # Ok::<(), effloresce::Error>(())
/// ```
#[doc(alias = "re-mark")]
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MarkChanges {
    changes: Vec<Change>,
    rows: Vec<RowChange>,
}

/// One answer, or a whole row, that is marked otherwise than before.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Change {
    #[cfg_attr(feature = "serde", serde(flatten))]
    owner: RowOwner,
    quantity: Option<Quantity>,
    from: Option<u32>,
    to: Option<u32>,
    reason: Note,
}

/// A row whose total changes.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RowChange {
    #[cfg_attr(feature = "serde", serde(flatten))]
    owner: RowOwner,
    from: Option<u32>,
    to: Option<u32>,
    difference: Option<i64>,
    out_of_before: Option<u32>,
    out_of_now: Option<u32>,
}

impl MarkChanges {
    /// Compares two markings of one class.
    #[must_use]
    pub fn between(before: &Marked, after: &Marked) -> MarkChanges {
        let mut mark_changes = MarkChanges {
            changes: Vec::new(),
            rows: Vec::new(),
        };
        for pair in pairs(before.rows(), after.rows()) {
            mark_changes.add(pair);
        }
        mark_changes
    }

    /// Every answer or row that is marked otherwise, in the order of the rows.
    #[must_use]
    pub fn changes(&self) -> &[Change] {
        &self.changes
    }

    /// The rows whose total changes.
    #[must_use]
    pub fn rows(&self) -> &[RowChange] {
        &self.rows
    }

    fn add(&mut self, pair: Pair<'_>) {
        let (before, after) = pair;
        let Some(row) = after.or(before) else {
            return;
        };
        let (from, to) = (
            before.and_then(MarkedRow::total),
            after.and_then(MarkedRow::total),
        );
        if from != to {
            self.rows.push(RowChange {
                owner: row.owner.clone(),
                from,
                to,
                difference: from
                    .zip(to)
                    .map(|(from, to)| i64::from(to) - i64::from(from)),
                out_of_before: from.and(before).map(MarkedRow::out_of),
                out_of_now: to.and(after).map(MarkedRow::out_of),
            });
        }
        let mut say = |(quantity, from, to, reason)| {
            self.changes.push(Change {
                owner: row.owner.clone(),
                quantity,
                from,
                to,
                reason,
            });
        };
        if let Some(reason) = whole_row(pair) {
            say((None, from, to, reason));
        } else if let (Some(before), Some(after)) = pair {
            for quantity in Quantity::ALL {
                let pair = (answer(before, quantity), answer(after, quantity));
                if let Some(reason) = of_answers(quantity, pair) {
                    let (from, to) = (pair.0.map(Answer::marks), pair.1.map(Answer::marks));
                    say((Some(quantity), from, to, reason));
                }
            }
            let (from, to) = (before.accuracy(), after.accuracy());
            if let Some(reason) = of_accuracy(from, to) {
                say((None, from, to, reason));
            }
            let (from, to) = (before.calculation(), after.calculation());
            if let Some(reason) = of_figures(before, after) {
                say((None, from, to, reason));
            }
        }
    }
}

impl Change {
    /// The bench.
    #[must_use]
    pub fn bench(&self) -> &str {
        &self.owner.bench
    }

    /// Who handed in.
    #[must_use]
    pub fn pupil(&self) -> Option<&str> {
        self.owner.pupil.as_deref()
    }

    /// The class hour.
    #[must_use]
    pub fn period(&self) -> Option<&str> {
        self.owner.period.as_deref()
    }

    /// Whether nobody weighed the readings: they were made for somebody who was absent.
    #[must_use]
    pub fn stand_in(&self) -> bool {
        self.owner.stand_in
    }

    /// The answer; `None` for a whole row, for the mark that figures cost, and for the accuracy at
    /// the bench.
    #[must_use]
    pub fn quantity(&self) -> Option<Quantity> {
        self.quantity
    }

    /// The marks before; `None` where there was nothing to mark, or it could not be marked.
    #[must_use]
    pub fn from(&self) -> Option<u32> {
        self.from
    }

    /// The marks now, likewise.
    #[must_use]
    pub fn to(&self) -> Option<u32> {
        self.to
    }

    /// Why: `answer_changed` (something else is reported), `key_changed` (the bench's own readings
    /// give another value), `verdict_changed` (judged otherwise against the same key: the
    /// tolerance, or what it follows from), `marks_changed` (the same verdict earns other marks),
    /// `answer_added`, `answer_removed`, `row_added`, `row_removed`, `now_worked_out`,
    /// `not_worked_out`, `figures_changed` (from and to are then the calculation),
    /// `accuracy_changed`. More may be added.
    #[must_use]
    pub fn reason(&self) -> &Note {
        &self.reason
    }
}

impl RowChange {
    /// The bench.
    #[must_use]
    pub fn bench(&self) -> &str {
        &self.owner.bench
    }

    /// Who handed in.
    #[must_use]
    pub fn pupil(&self) -> Option<&str> {
        self.owner.pupil.as_deref()
    }

    /// The class hour.
    #[must_use]
    pub fn period(&self) -> Option<&str> {
        self.owner.period.as_deref()
    }

    /// Whether nobody weighed the readings: they were made for somebody who was absent.
    #[must_use]
    pub fn stand_in(&self) -> bool {
        self.owner.stand_in
    }

    /// The total before; `None` where there was no such row or it could not be worked out.
    #[must_use]
    pub fn from(&self) -> Option<u32> {
        self.from
    }

    /// The total now, likewise.
    #[must_use]
    pub fn to(&self) -> Option<u32> {
        self.to
    }

    /// The most that the row could earn before; `None` where it has no total before.
    #[must_use]
    pub fn out_of_before(&self) -> Option<u32> {
        self.out_of_before
    }

    /// The most that the row can earn now, likewise.
    #[must_use]
    pub fn out_of_now(&self) -> Option<u32> {
        self.out_of_now
    }

    /// What is gained, or lost where it is negative; `None` where one of the totals is.
    #[must_use]
    pub fn difference(&self) -> Option<i64> {
        self.difference
    }
}

/// One row before and now.
type Pair<'a> = (Option<&'a MarkedRow>, Option<&'a MarkedRow>);

/// The pairs in the order of the rows now; those that are gone come last.
fn pairs<'a>(before: &'a [MarkedRow], after: &'a [MarkedRow]) -> Vec<Pair<'a>> {
    let mut waiting = by_name(before);
    let mut partners: BTreeMap<usize, &MarkedRow> = BTreeMap::new();
    for (name, now) in by_name(after) {
        if let Some(then) = waiting.get_mut(&name) {
            partners.extend(matched(then, now));
        }
    }
    let now = after
        .iter()
        .enumerate()
        .map(|(place, row)| (partners.get(&place).copied(), Some(row)));
    let mut gone: Vec<Placed<'_>> = waiting.into_values().flatten().collect();
    gone.sort_by_key(|(place, _)| *place);
    let gone = gone.into_iter().map(|(_, row)| (Some(row), None));
    now.chain(gone).collect()
}

/// The partners, by the place of the row now, of rows of one name; they are taken from those that
/// wait.
fn matched<'a>(then: &mut VecDeque<Placed<'a>>, now: VecDeque<Placed<'a>>) -> Vec<Placed<'a>> {
    let mut found = Vec::new();
    let mut open = now;
    // Lines move when a row is put in above: they only tell which of several is new or gone.
    if then.len() != open.len() {
        let old: VecDeque<Placed<'_>> = core::mem::take(then);
        let lines = old.iter().enumerate().rev();
        let lines: BTreeMap<u64, usize> = lines.map(|(at, (_, row))| (row.line(), at)).collect();
        let mut old: Vec<Option<Placed<'_>>> = old.into_iter().map(Some).collect();
        open.retain(|(place, row)| {
            let same = lines.get(&row.line()).and_then(|at| old.get_mut(*at));
            let same = same.and_then(Option::take);
            found.extend(same.map(|(_, old)| (*place, old)));
            same.is_none()
        });
        then.extend(old.into_iter().flatten());
    }
    let rest = then.len().min(open.len());
    let old = then.drain(..rest);
    found.extend(
        open.into_iter()
            .zip(old)
            .map(|((place, _), (_, old))| (place, old)),
    );
    found
}

/// Class hour, bench and pupil.
type Name<'a> = (Option<&'a str>, &'a str, Option<&'a str>);

/// A row with its place among all.
type Placed<'a> = (usize, &'a MarkedRow);

fn by_name(rows: &[MarkedRow]) -> BTreeMap<Name<'_>, VecDeque<Placed<'_>>> {
    let mut found: BTreeMap<Name<'_>, VecDeque<Placed<'_>>> = BTreeMap::new();
    for (place, row) in rows.iter().enumerate() {
        let name = (row.period(), row.bench(), row.pupil());
        found.entry(name).or_default().push_back((place, row));
    }
    found
}

fn answer(row: &MarkedRow, quantity: Quantity) -> Option<&Answer> {
    let mut answers = row.answers().iter();
    answers.find(|answer| answer.quantity() == quantity)
}

/// Where a row is there, or could be worked out, only on one side.
fn whole_row((before, after): Pair<'_>) -> Option<Note> {
    let worked_out = |row: &MarkedRow| row.run().is_some();
    match (before, after) {
        (None, _) => Some(Note::new("row_added", "the row was not there before")),
        (_, None) => Some(Note::new("row_removed", "the row is not there any more")),
        (Some(before), Some(after)) => match (worked_out(before), worked_out(after)) {
            (true, false) => Some(Note::new(
                "not_worked_out",
                "the row cannot be worked out any more",
            )),
            (false, true) => Some(Note::new(
                "now_worked_out",
                "the row could not be worked out before",
            )),
            _ => None,
        },
    }
}

fn of_answers(quantity: Quantity, pair: (Option<&Answer>, Option<&Answer>)) -> Option<Note> {
    match pair {
        (None, None) => None,
        (None, Some(after)) => Some(
            Note::new(
                "answer_added",
                format!("the {quantity} was not asked for before"),
            )
            .with("after", after.verdict().code()),
        ),
        (Some(before), None) => Some(
            Note::new(
                "answer_removed",
                format!("the {quantity} is not asked for any more"),
            )
            .with("before", before.verdict().code()),
        ),
        (Some(before), Some(after)) => {
            let differs = before.marks() != after.marks() || before.verdict() != after.verdict();
            differs.then(|| why(quantity, before, after))
        }
    }
}

fn why(quantity: Quantity, before: &Answer, after: &Answer) -> Note {
    let (was, is) = (before.verdict(), after.verdict());
    if before.reported() != after.reported() {
        let (was, is) = (blank(before.reported()), blank(after.reported()));
        return Note::new(
            "answer_changed",
            format!("the {quantity} reported was {was} and is now {is}"),
        )
        .with("before", before.reported())
        .with("after", after.reported());
    }
    if was == is {
        let (had, has) = (before.marks(), after.marks());
        return Note::new(
            "marks_changed",
            format!("the {quantity}, {is} as before, earned {had} and now earns {has}"),
        )
        .with("before", format!("{had}"))
        .with("after", format!("{has}"));
    }
    if let Some((what, old, new)) = key_moved(before, after) {
        return Note::new(
            "key_changed",
            format!(
                "the {quantity} was {was} and is now {is}: the {what} was {old} and is now {new}"
            ),
        )
        .with("before", old)
        .with("after", new);
    }
    Note::new(
        "verdict_changed",
        format!("the {quantity} was {was} and is now {is}"),
    )
    .with("before", was.code())
    .with("after", is.code())
}

fn blank(reported: &str) -> String {
    match reported {
        "" => "blank".into(),
        text => format!("`{text}`"),
    }
}

/// What the bench's own readings give, where that is not what they gave before.
fn key_moved(before: &Answer, after: &Answer) -> Option<(&'static str, String, String)> {
    let owned = |text: Option<String>| text.unwrap_or_else(|| "unknown".into());
    if before.expected() != after.expected() {
        let (was, is) = (before.expected_as_written(), after.expected_as_written());
        let (was, is) = if was == is {
            (before.expected(), after.expected())
        } else {
            (was, is)
        };
        return Some(("bench's own value", owned(was), owned(is)));
    }
    if before.defensible() != after.defensible() {
        let text = |answer: &Answer| {
            answer.defensible().map_or_else(
                || "unknown".into(),
                |range| format!("{} to {}", range.low().to_plain(), range.high().to_plain()),
            )
        };
        return Some(("defensible range", text(before), text(after)));
    }
    None
}

/// A mark that the figures cost on one side only. Where there is none to lose, they cost none.
fn of_figures(before: &MarkedRow, after: &MarkedRow) -> Option<Note> {
    match (
        before.lost_a_mark_for_figures(),
        after.lost_a_mark_for_figures(),
    ) {
        (false, true) => Some(Note::new("figures_changed", "the figures now cost a mark")),
        (true, false) => Some(Note::new(
            "figures_changed",
            "the figures cost a mark before",
        )),
        _ => None,
    }
}

fn of_accuracy(from: Option<u32>, to: Option<u32>) -> Option<Note> {
    let text = match (from, to) {
        _ if from == to => return None,
        (Some(had), Some(has)) => {
            format!("the accuracy at the bench earned {had} and now earns {has}")
        }
        (Some(had), None) => {
            format!("the accuracy at the bench earned {had} and is not marked any more")
        }
        (None, has) => format!(
            "the accuracy at the bench was not marked and now earns {}",
            has.unwrap_or(0)
        ),
    };
    let value = |marks: Option<u32>| marks.map_or_else(String::new, |marks| format!("{marks}"));
    let note = Note::new("accuracy_changed", text);
    Some(note.with("before", value(from)).with("after", value(to)))
}
