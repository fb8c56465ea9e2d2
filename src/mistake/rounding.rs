//! The arithmetic of slips in rounding: too early, or not at all.

use alloc::vec::Vec;

use super::arithmetic::Intervals;
use super::student_work::StudentWork;
use crate::gravimetry::{Interval, Quantity, percent};
use crate::number::{Ratio, Rounded, TieRule};

/// The values from rounding too early. Amounts are rounded to one or two significant figures or to two
/// or three decimals. Masses are rounded to one or two decimals if the balance shows more.
pub(super) fn rounded_early(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let mut values = Vec::new();
    for places in 1..work.places.min(3) {
        let round = |interval: &Interval| {
            let to = |value: &Ratio, ties| value.to_places(places, ties).value();
            Interval::point(to(interval.low(), TieRule::Even))
                .join(Interval::point(to(interval.high(), TieRule::AwayFromZero)))
        };
        let (h, s, w) = (
            round(&work.hydrate),
            round(&work.residue),
            round(&work.water),
        );
        values.extend(match quantity {
            Quantity::PercentWater => percent(&w, &h),
            Quantity::MolSalt | Quantity::MolWater | Quantity::Ratio => {
                work.with_masses(quantity, Some(&s), Some(&w))
            }
            _ => None,
        });
    }
    if let (Quantity::Ratio, Some(salt), Some(water)) =
        (quantity, work.mol_salt(), work.mol_water())
    {
        values.extend(of_rounded_amounts(salt, water));
    }
    values
}

/// The largest number of rounded values of an interval that are listed one by one.
const MOST_ROUNDINGS: usize = 16;

/// The rounding of an amount.
#[derive(Clone, Copy)]
enum AmountRounding {
    Figures(u32),
    Places(i32),
}

impl AmountRounding {
    fn round(self, value: &Ratio, ties: TieRule) -> Rounded {
        match self {
            AmountRounding::Figures(figures) => value.to_figures(figures, ties),
            AmountRounding::Places(places) => value.to_places(places, ties),
        }
    }

    /// The rounded values of an interval. Coarse rounding leaves gaps between them.
    fn of(self, interval: &Interval) -> Intervals {
        let low = self.round(interval.low(), TieRule::Even);
        let high = self.round(interval.high(), TieRule::AwayFromZero).value();
        // If the interval contains a power of ten, the finer step of its lower end is used.
        let step = Ratio::power_of_ten(-low.decimal_places());
        let mut values = alloc::vec![low.value()];
        while let Some(last) = values.last().filter(|last| **last < high) {
            if values.len() == MOST_ROUNDINGS {
                return alloc::vec![Interval::point(low.value()).join(Interval::point(high))];
            }
            values.push(last + &step);
        }
        values.into_iter().map(Interval::point).collect()
    }
}

fn of_rounded_amounts(salt: &Interval, water: &Interval) -> Intervals {
    let mut values = Vec::new();
    for to in [
        AmountRounding::Figures(1),
        AmountRounding::Figures(2),
        AmountRounding::Places(2),
        AmountRounding::Places(3),
    ] {
        let salts = to.of(salt);
        for water in to.of(water) {
            values.extend(salts.iter().filter_map(|salt| water.over(salt)));
        }
    }
    values
}

/// The values of an interval with all digits after so many decimal places cut off.
pub(super) fn truncated(right: &Interval, decimal_places: i32) -> Intervals {
    let step = Ratio::power_of_ten(-decimal_places);
    let cut = |value: &Ratio| Some(value.checked_div(&step)?.floor() * &step);
    let (Some(low), Some(high)) = (cut(right.low()), cut(right.high())) else {
        return Vec::new();
    };
    if !high.is_positive() {
        return Vec::new();
    }
    alloc::vec![Interval::point(low.max(step)).join(Interval::point(high))]
}
