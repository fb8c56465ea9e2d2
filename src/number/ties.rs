//! The rules for a value half-way between two printable ones.

use core::cmp::Ordering;

use num_integer::Integer;

use super::error::{Error, ErrorKind};
use super::terms::WholeNumber;

/// The rule for a value exactly half-way between two printable values.
///
/// Textbooks print two conventions. If they give different digits,
/// [`Rounded::ties_differ`](super::Rounded::ties_differ) says so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum TieRule {
    /// To the neighbour whose last digit is even (2.345 → 2.34): the default.
    #[default]
    Even,
    /// To the neighbour further from zero (2.345 → 2.35).
    #[doc(alias = "half up")]
    AwayFromZero,
}

crate::text::codes! {
    TieRule, "ties", Error(ErrorKind::UnknownCode);
    Even => "even",
    AwayFromZero => "away",
}

/// Returns the whole number nearest to a fraction with a positive denominator, and whether the other
/// tie rule gives another one.
pub(super) fn nearest<N: WholeNumber + Integer + Clone>(
    numerator: &N,
    denominator: &N,
    ties: TieRule,
) -> (N, bool) {
    let (floor, remainder) = numerator.floor_and_remainder(denominator);
    let to_ceiling = denominator.clone() - remainder.clone();
    let (even, away) = match remainder.cmp(&to_ceiling) {
        Ordering::Less => (false, false),
        Ordering::Greater => (true, true),
        Ordering::Equal => (floor.is_odd(), *numerator > N::zero()),
    };
    let up = match ties {
        TieRule::Even => even,
        TieRule::AwayFromZero => away,
    };
    let units = if up { floor + N::one() } else { floor };
    (units, even != away)
}
