//! The arithmetic of slips in rounding: too early, or not at all.

use alloc::vec::Vec;

use super::arithmetic::Intervals;
use super::student_work::StudentWork;
use crate::gravimetry::{Interval, Quantity, percent};
use crate::number::{Ratio, Reading, Rounded, TieRule};

/// How people round too early: amounts to one or two figures or to two or three decimals, masses
/// to one or two decimals that the balance surpasses.
pub(super) fn rounded_early(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let mut values = Vec::new();
    for places in 1..work.places.min(3) {
        let round = |interval: &Interval| {
            let to = |value: &Ratio, ties| value.to_decimal_places(places, ties).value();
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

/// So many roundings of one interval are looked at one by one.
const MOST_ROUNDINGS: usize = 16;

/// How an amount is rounded.
#[derive(Clone, Copy)]
enum To {
    Figures(u32),
    Places(i32),
}

impl To {
    fn round(self, value: &Ratio, ties: TieRule) -> Rounded {
        match self {
            To::Figures(figures) => value.to_figures(figures, ties),
            To::Places(places) => value.to_decimal_places(places, ties),
        }
    }

    /// What the values of a interval come to. Coarse rounding jumps, so that what lies between two
    /// of them does not count.
    fn of(self, interval: &Interval) -> Intervals {
        let low = self.round(interval.low(), TieRule::Even);
        let high = self.round(interval.high(), TieRule::AwayFromZero).value();
        // Across a power of ten the finer step, which is the lower one's, serves for both.
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
    for to in [To::Figures(1), To::Figures(2), To::Places(2), To::Places(3)] {
        let salts = to.of(salt);
        for water in to.of(water) {
            values.extend(salts.iter().filter_map(|salt| water.over(salt)));
        }
    }
    values
}

/// Whether a value in the interval, cut off where the number ends, is the number.
pub(super) fn truncated(right: &Interval, reported: &Reading) -> bool {
    let value = reported.value();
    value.is_positive() && *right.low() < &value + &reported.last_place() && value <= *right.high()
}
