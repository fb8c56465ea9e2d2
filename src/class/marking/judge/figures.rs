//! Remarks on significant figures.

use crate::class::marking::remark::Remark;
use crate::gravimetry::{Interval, figures_kept};
use crate::number::{Ratio, Reading};

/// Returns the remark on the significant figures of a number. There is none on too few of them unless
/// the number is `correct`.
pub(super) fn remark(
    number: &Reading,
    allowed: u32,
    correct: bool,
    defensible: Option<&Interval>,
) -> Option<Remark> {
    let written = written(number, defensible);
    if number.figures().at_least() > allowed + 1 {
        return Some(Remark::TooManyFigures { written, allowed });
    }
    let too_few =
        correct && written < figures_kept(allowed) && !padded(number, allowed, defensible);
    too_few.then_some(Remark::TooFewFigures { written, allowed })
}

/// Returns the number of significant figures of a number, with as many of its zeros at the end as make it
/// right.
pub(super) fn written(number: &Reading, defensible: Option<&Interval>) -> u32 {
    let right = |meant: &Reading| defensible.is_some_and(|range| range.admits(meant));
    let meant = number.meanings().find(right).unwrap_or(*number);
    meant.figures().at_most()
}

/// Returns whether a number would still be right with the zeros that a spreadsheet drops.
fn padded(number: &Reading, allowed: u32, defensible: Option<&Interval>) -> bool {
    let missing = allowed.saturating_sub(number.figures().at_most());
    let places = number.decimal_places() + i32::try_from(missing).unwrap_or(0);
    let units = (number.value() * Ratio::power_of_ten(places)).to_i128();
    let padded = units.and_then(|units| Reading::from_units(units, -places));
    padded.is_some_and(|padded| defensible.is_some_and(|range| range.admits(&padded)))
}
