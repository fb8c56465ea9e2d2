//! The arithmetic of slips in rounding: too early, or not at all.

use alloc::vec::Vec;

use super::arithmetic::Ranges;
use super::student_work::StudentWork;
use crate::gravimetry::{Quantity, Range, percent};
use crate::number::{Ratio, Reading, Rounded, TieRule};

/// How people round too early: amounts to one or two figures or to two or three decimals, masses
/// to one or two decimals that the balance surpasses.
pub(super) fn rounded_early(paper: &StudentWork<'_>, quantity: Quantity) -> Ranges {
    let mut values = Vec::new();
    for places in 1..paper.places.min(3) {
        let round = |range: &Range| {
            let to = |value: &Ratio, ties| value.to_places(places, ties).value();
            Range::point(to(range.low(), TieRule::Even))
                .join(Range::point(to(range.high(), TieRule::AwayFromZero)))
        };
        let (h, s, w) = (
            round(&paper.hydrate),
            round(&paper.residue),
            round(&paper.water),
        );
        values.extend(match quantity {
            Quantity::PercentWater => percent(&w, &h),
            Quantity::MolSalt | Quantity::MolWater | Quantity::Ratio => {
                paper.with_masses(quantity, Some(&s), Some(&w))
            }
            _ => None,
        });
    }
    if let (Quantity::Ratio, Some(salt), Some(water)) =
        (quantity, paper.mol_salt(), paper.mol_water())
    {
        values.extend(of_rounded_amounts(salt, water));
    }
    values
}

/// So many roundings of one range are looked at one by one.
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
            To::Places(places) => value.to_places(places, ties),
        }
    }

    /// What the values of a range come to. Coarse rounding jumps, so that what lies between two
    /// of them does not count.
    fn of(self, range: &Range) -> Ranges {
        let low = self.round(range.low(), TieRule::Even);
        let high = self.round(range.high(), TieRule::AwayFromZero).value();
        // Across a power of ten the finer step, which is the lower one's, serves for both.
        let step = Ratio::power_of_ten(-low.places());
        let mut values = alloc::vec![low.value()];
        while let Some(last) = values.last().filter(|last| **last < high) {
            if values.len() == MOST_ROUNDINGS {
                return alloc::vec![Range::point(low.value()).join(Range::point(high))];
            }
            values.push(last + &step);
        }
        values.into_iter().map(Range::point).collect()
    }
}

fn of_rounded_amounts(salt: &Range, water: &Range) -> Ranges {
    let mut values = Vec::new();
    for to in [To::Figures(1), To::Figures(2), To::Places(2), To::Places(3)] {
        let salts = to.of(salt);
        for water in to.of(water) {
            values.extend(salts.iter().filter_map(|salt| water.over(salt)));
        }
    }
    values
}

/// Whether a value in the range, cut off where the number ends, is the number.
pub(super) fn truncated(right: &Range, reported: &Reading) -> bool {
    let value = reported.value();
    value.is_positive() && *right.low() < &value + &reported.last_place() && value <= *right.high()
}
