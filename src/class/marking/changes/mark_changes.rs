//! Every change between two markings.

use alloc::vec::Vec;

use super::pairing::{Pair, pairs};
use super::reason::{ChangeReason, figures, of_answers, whole_row};
use crate::class::Marks;
use crate::class::marking::answer::Answer;
use crate::class::marking::marked::Marked;
use crate::class::marking::marked_row::{MarkedRow, RowOwner, owner_accessors};
use crate::gravimetry::Quantity;
use crate::number::Ratio;
use crate::text::Note;

/// The changes between two markings, for example after the policy or a cell was corrected.
///
/// Rows are matched by period, bench and pupil. If a name has as many rows in both markings, they are
/// matched in their order; otherwise those on the same line are matched first.
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
/// assert_eq!(mark_changes.rows()[0].difference(), Some(1.into()));
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
    notes: Vec<Note>,
}

/// A change of the marks of one answer or of a whole row.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Change {
    #[cfg_attr(feature = "serde", serde(flatten))]
    owner: RowOwner,
    quantity: Option<Quantity>,
    from: Option<Marks>,
    to: Option<Marks>,
    reason: ChangeReason,
}

/// A change of the total of a row, or of what it is out of.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RowChange {
    #[cfg_attr(feature = "serde", serde(flatten))]
    owner: RowOwner,
    from: Option<Marks>,
    to: Option<Marks>,
    difference: Option<Marks>,
    out_of_before: Option<Marks>,
    out_of_now: Option<Marks>,
    /// Whether answers were and are still to be marked by hand.
    #[cfg_attr(feature = "serde", serde(skip))]
    open: [bool; 2],
}

impl MarkChanges {
    /// Compares two markings of one class.
    #[must_use]
    pub fn between(before: &Marked, after: &Marked) -> MarkChanges {
        let pairs = pairs(before.rows(), after.rows());
        MarkChanges {
            rows: pairs.iter().copied().filter_map(RowChange::of).collect(),
            changes: pairs.into_iter().flat_map(Change::of).collect(),
            notes: after.invented_note().into_iter().collect(),
        }
    }

    /// Adds the notes from reading what was marked.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// Returns the notes that were added.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Returns every change of an answer or a row, in the order of the rows.
    #[must_use]
    pub fn changes(&self) -> &[Change] {
        &self.changes
    }

    /// Returns the rows whose total or whose percentage changes.
    #[must_use]
    pub fn rows(&self) -> &[RowChange] {
        &self.rows
    }
}

impl Change {
    /// Returns every change between a row before and now.
    fn of((before, after): Pair<'_>) -> Vec<Change> {
        let Some(row) = after.or(before) else {
            return Vec::new();
        };
        let mut changes = Vec::new();
        let mut add = |quantity, from, to, reason: Option<ChangeReason>| {
            changes.extend(reason.map(|reason| Change {
                owner: row.owner.clone(),
                quantity,
                from,
                to,
                reason,
            }));
        };
        let total = |row: Option<&MarkedRow>| row.and_then(MarkedRow::total);
        let (before, after) = match (whole_row((before, after)), before, after) {
            (None, Some(before), Some(after)) => (before, after),
            (reason, ..) => {
                add(None, total(before), total(after), reason);
                return changes;
            }
        };
        for quantity in Quantity::ALL {
            let (was, is) = (before.any_answer(quantity), after.any_answer(quantity));
            let [from, to] = [was, is].map(|answer| answer.and_then(Answer::final_marks));
            add(Some(quantity), from, to, of_answers(quantity, was, is));
        }
        let (from, to) = (before.accuracy(), after.accuracy());
        let reason = ChangeReason::Accuracy([from, to]);
        add(None, from, to, (from != to).then_some(reason));
        let (from, to) = (before.calculation(), after.calculation());
        add(None, from, to, figures(before, after));
        changes
    }

    owner_accessors!();

    /// Returns the quantity of the answer; `None` for a whole row, for the mark that significant figures
    /// cost, and for the accuracy at the bench.
    #[must_use]
    pub fn quantity(&self) -> Option<Quantity> {
        self.quantity
    }

    /// Returns the marks before; `None` if there was nothing to mark or it could not be marked.
    #[must_use]
    pub fn from(&self) -> Option<Marks> {
        self.from
    }

    /// Returns the marks now; `None` if there is nothing to mark or it cannot be marked.
    #[must_use]
    pub fn to(&self) -> Option<Marks> {
        self.to
    }

    /// Returns the reason. More may be added to these codes:
    /// - `answer_changed`: another value is reported;
    /// - `key_changed`: the bench's own readings give another value;
    /// - `verdict_changed`: by the same key, the tolerance or what the answer follows from is another;
    /// - `marks_changed`: the same verdict earns other marks;
    /// - `marked_by_hand`: marks were given by hand, or no longer are;
    /// - `answer_added`, `answer_removed`, `row_added`, `row_removed`, `now_worked_out`,
    ///   `not_worked_out`, `accuracy_changed`;
    /// - `figures_changed`: significant figures; from and to are then the marks for the calculation.
    #[must_use]
    pub fn reason(&self) -> Note {
        self.reason.note()
    }

    /// Returns whether the sentence of the reason names the marks.
    #[cfg(feature = "report")]
    pub(crate) fn reason_names_marks(&self) -> bool {
        matches!(self.reason, ChangeReason::Marks(..))
    }
}

impl RowChange {
    fn of((before, after): Pair<'_>) -> Option<RowChange> {
        let row = after.or(before)?;
        let (from, to) = (
            before.and_then(MarkedRow::total),
            after.and_then(MarkedRow::total),
        );
        let out_of = [before, after].map(|row| row.map(MarkedRow::out_of));
        let shares_differ = percent(from, out_of[0]) != percent(to, out_of[1]);
        (from != to || shares_differ).then(|| RowChange {
            owner: row.owner.clone(),
            from,
            to,
            difference: from.zip(to).map(|(from, to)| to - from),
            out_of_before: from.and(before).map(MarkedRow::out_of),
            out_of_now: to.and(after).map(MarkedRow::out_of),
            open: [before, after].map(|row| row.is_some_and(|row| row.by_hand() > 0)),
        })
    }

    owner_accessors!();

    /// Returns whether answers were still to be marked by hand, and whether they are now.
    #[cfg(feature = "report")]
    pub(crate) fn open(&self) -> [bool; 2] {
        self.open
    }

    /// Returns the total before; `None` if there was no such row, if it could not be worked out, or if an
    /// answer was still to be marked by hand.
    #[must_use]
    pub fn from(&self) -> Option<Marks> {
        self.from
    }

    /// Returns the total now; `None` if there is no such row, if it cannot be worked out, or if an answer is
    /// still to be marked by hand.
    #[must_use]
    pub fn to(&self) -> Option<Marks> {
        self.to
    }

    /// Returns the most that the row could earn before; `None` if it has no total before.
    #[must_use]
    pub fn out_of_before(&self) -> Option<Marks> {
        self.out_of_before
    }

    /// Returns the most that the row can earn now; `None` if it has no total now.
    #[must_use]
    pub fn out_of_now(&self) -> Option<Marks> {
        self.out_of_now
    }

    /// Returns the total before in per cent of the most; `None` if there is none, or nothing to earn.
    #[must_use]
    pub fn percent_before(&self) -> Option<Ratio> {
        percent(self.from, self.out_of_before)
    }

    /// Returns the total now in per cent of the most; `None` if there is none, or nothing to earn.
    #[must_use]
    pub fn percent_now(&self) -> Option<Ratio> {
        percent(self.to, self.out_of_now)
    }

    /// Returns the marks that are gained, or lost if negative; `None` if one of the totals is `None`.
    #[must_use]
    pub fn difference(&self) -> Option<Marks> {
        self.difference
    }
}

/// Returns marks in per cent of the most.
fn percent(marks: Option<Marks>, most: Option<Marks>) -> Option<Ratio> {
    marks?.percent_of(most?)
}
