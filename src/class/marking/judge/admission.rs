//! How a written number agrees with the values that it is compared with.

use crate::class::Marks;
use crate::class::Tolerance;
use crate::gravimetry::{Interval, figures_kept};
use crate::number::{Ratio, Reading, TieRule};

/// The most that a coarse number may differ from the exact value, in per cent of it.
const COARSE: Tolerance = Tolerance::RelativePercent(Reading::literal("5"));

/// How a written number agrees with an interval of values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Admission {
    /// Some value of the interval rounds to the number.
    Within,
    /// The interval, rounded to the places of the number, misses it by one unit.
    LastPlace,
    /// Some value of the interval rounds to the number, but so few figures are left that the number
    /// differs by more than 5 %.
    TooCoarse,
    Outside,
}

impl Admission {
    /// Compares a number with an interval, and a coarse number also with the exact values from `low` to
    /// `high`. `allowed` is the number of significant figures that the readings allow, and `computed`
    /// says that the number is more than a difference of masses.
    pub(super) fn of(
        number: &Reading,
        interval: &Interval,
        (low, high): (&Ratio, &Ratio),
        allowed: u32,
        computed: bool,
    ) -> Admission {
        let near = || {
            let marks = COARSE.marks_of(&number.value(), low, high, Marks::from(1));
            marks.is_some()
        };
        let coarse = |number: &Reading| {
            let kept = low.to_figures(figures_kept(allowed).max(1), TieRule::Even);
            number.decimal_places() < kept.decimal_places()
        };
        // Zeros at the end may only hold the place.
        let mut meanings = number.meanings();
        if meanings.any(|meant| interval.admits(&meant) && (near() || !coarse(&meant))) {
            Admission::Within
        } else if interval.admits(number) {
            Admission::TooCoarse
        } else if computed && interval.is_one_unit_from(number) && near() {
            Admission::LastPlace
        } else {
            Admission::Outside
        }
    }
}
