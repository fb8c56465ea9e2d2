//! A value that later answers may start from.

use alloc::vec::Vec;

use crate::class::Marks;
use crate::class::marking::answer::Judgement;
use crate::gravimetry::{Interval, Quantity};

/// A value that a pupil may have used for later answers.
#[derive(Clone)]
pub(super) struct StartingValue {
    pub(super) range: Interval,
    /// The first answer handed in that the value comes from; `None` for the bench's own.
    pub(super) from: Option<Quantity>,
    /// The first of those answers that was not right, or had too few significant figures.
    pub(super) origin: Option<Quantity>,
}

impl StartingValue {
    /// Returns a value that comes from two others.
    pub(super) fn of_two(range: Interval, a: &StartingValue, b: &StartingValue) -> StartingValue {
        let first = |a: Option<Quantity>, b: Option<Quantity>| match (a, b) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (one, other) => one.or(other),
        };
        StartingValue {
            range,
            from: first(a.from, b.from),
            origin: first(a.origin, b.origin),
        }
    }
}

/// Returns what follows from each pair of which at least one was handed in.
pub(super) fn pairs(
    a: &[StartingValue],
    b: &[StartingValue],
    of: impl Fn(&Interval, &Interval) -> Option<Interval>,
) -> Vec<StartingValue> {
    let mut found = Vec::new();
    for a in a {
        for b in b {
            if a.from.is_some() || b.from.is_some() {
                let range = of(&a.range, &b.range);
                found.extend(range.map(|range| StartingValue::of_two(range, a, b)));
            }
        }
    }
    found
}

/// A judgement, and the marks that it earns.
pub(super) struct Credit {
    pub(super) judgement: Judgement,
    pub(super) marks: Marks,
}

impl Credit {
    pub(super) fn zero(judgement: Judgement) -> Credit {
        Credit {
            judgement,
            marks: Marks::ZERO,
        }
    }

    /// Returns the same for a value that has the error of an earlier one, and does not follow from it.
    pub(super) fn into_same_error(self) -> Credit {
        let judgement = match self.judgement {
            Judgement::CarriedForward { from } => Judgement::SameError { with: from },
            other => other,
        };
        Credit { judgement, ..self }
    }
}

/// Returns the best credit among the values that an answer follows from, with the most marks that any
/// of them gives. It is correct if one of them comes from right answers only, and otherwise carried
/// forward.
pub(super) fn best_credit(leading: impl Iterator<Item = (StartingValue, Marks)>) -> Option<Credit> {
    let mut best: Option<Credit> = None;
    for (value, marks) in leading {
        let correct =
            matches!(&best, Some(best) if matches!(best.judgement, Judgement::Correct { .. }));
        let had = best.as_ref().map_or(Marks::ZERO, |best| best.marks);
        let judgement = match value.origin {
            None if !correct || marks > had => Judgement::Correct {
                follows: value.from,
            },
            Some(from) if best.is_none() || marks > had => Judgement::CarriedForward { from },
            _ => continue,
        };
        best = Some(Credit {
            judgement,
            marks: marks.max(had),
        });
    }
    best
}
