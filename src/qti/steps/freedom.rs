//! What careful work may do to a value: keep fewer figures, and use a finer table.

use alloc::vec::Vec;

use crate::gravimetry::Interval;
use crate::number::{Ratio, TieRule};
use crate::qti::entry::Carry;

/// The most values that are varied in one line. The others stay as they are.
const MOST_VARIED: usize = 8;
/// Bounds are rounded outward to this number of figures, so that they stay short.
const BOUND_FIGURES: u32 = 14;

/// Half a unit of the last of so many significant figures.
pub(super) fn half_unit(value: &Ratio, figures: u32) -> Ratio {
    let rounded = value.to_figures(figures, TieRule::Even);
    Ratio::power_of_ten(-rounded.decimal_places()) * Ratio::new(1, 2).unwrap_or_default()
}

/// The values between two.
pub(super) fn between(a: Ratio, b: Ratio) -> Interval {
    Interval::point(a).join(Interval::point(b))
}

/// An interval with short bounds, not narrower than the given one.
fn outward(interval: Interval) -> Interval {
    let short = |value: &Ratio| value.to_figures(BOUND_FIGURES, TieRule::Even);
    let unit = |value: &Ratio| Ratio::power_of_ten(-short(value).decimal_places());
    let (low, high) = (interval.low(), interval.high());
    if low == high {
        return interval;
    }
    between(
        short(low).value() - unit(low),
        short(high).value() + unit(high),
    )
}

/// The values that careful work keeps of an interval: all of it, rounded to so many figures or not.
pub(super) fn kept(interval: &Interval, figures: u32) -> Interval {
    let rounded = |value: &Ratio| value.to_figures(figures, TieRule::Even).value();
    let (low, high) = (interval.low(), interval.high());
    interval.clone().join(between(rounded(low), rounded(high)))
}

/// The values of a line whose entries are values that lie anywhere in their intervals. Each rises or falls in
/// each of them, so that the ends are enough.
pub(super) fn values(line: &Carry, leaves: &[Interval]) -> Option<Interval> {
    let varied = leaves.iter().enumerate();
    let varied = varied.filter(|(_, leaf)| leaf.low() != leaf.high());
    let varied: Vec<usize> = varied.map(|(at, _)| at).take(MOST_VARIED).collect();
    let mut all: Option<Interval> = None;
    for corner in 0..1_u32 << varied.len() {
        let value = line.value(&|at| {
            let leaf = leaves.get(at)?;
            let is_high = varied.iter().position(|varied| *varied == at);
            let is_high = is_high.is_some_and(|bit| corner >> bit & 1 == 1);
            Some(if is_high { leaf.high() } else { leaf.low() }.clone())
        })?;
        let value = Interval::point(value);
        all = Some(match all {
            Some(all) => all.join(value),
            None => value,
        });
    }
    all.map(outward)
}

/// The values around one, up to a fraction of it.
pub(super) fn around(value: &Ratio, fraction: &Ratio) -> Interval {
    let by = (value * fraction).abs();
    between(value - &by, value + &by)
}

/// How far an interval reaches from a value of it, as a fraction of the value.
pub(super) fn reach(interval: &Interval, value: &Ratio) -> Option<Ratio> {
    let far = (interval.high() - value).max(value - interval.low());
    far.checked_div(&value.abs())
}

/// A fraction as a short decimal, not less than the given one.
pub(super) fn rounded_up(fraction: &Ratio) -> Ratio {
    let unit = Ratio::power_of_ten(6);
    (fraction * &unit).ceil() * Ratio::power_of_ten(-6)
}
