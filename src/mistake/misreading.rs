//! A weighing that was not written down as the balance showed it.

use alloc::vec::Vec;

use super::balance::Balance;
use super::draws::Draws;
use crate::number::{Reading, neighbours_exchanged};

/// The probability that a misreading exchanges neighbouring digits (common practice, no source).
/// Otherwise one digit is one higher or lower.
const EXCHANGED: f64 = 0.85;

/// A bench notices an error of 1/`NOTICED` of the hydrate or more (common practice, no source).
const NOTICED: i128 = 3;

/// A misreading that leaves the masses possible: the index of the reading, and what is written. Only
/// the readings that x depends on are misread.
pub(super) fn misread(
    balance: &Balance,
    readings: &[Reading],
    draws: &mut Draws,
) -> Option<(usize, Reading)> {
    let exchanged = draws.chance(EXCHANGED);
    let mut misreadings = possible_misreadings(balance, readings, exchanged);
    if misreadings.is_empty() {
        misreadings = possible_misreadings(balance, readings, !exchanged);
    }
    let (index, units) = *draws.one_of(&misreadings)?;
    Some((index, balance.written(units).ok()?))
}

fn possible_misreadings(
    balance: &Balance,
    readings: &[Reading],
    exchanged: bool,
) -> Vec<(usize, i128)> {
    let counting = [0, 1, readings.len().saturating_sub(1)];
    let whole = |index: usize| readings.get(index).and_then(|r| balance.units(r));
    let taken = whole(1).unwrap_or_default() - whole(0).unwrap_or_default();
    let mut found = Vec::new();
    for index in counting {
        let Some(units) = whole(index) else {
            continue;
        };
        let others = if exchanged {
            exchanges(units)
        } else {
            off_by_one(units)
        };
        let can_be = |other: &i128| {
            let mut all = readings.to_vec();
            let written = balance.written(*other).ok();
            if let (Some(reading), Some(written)) = (all.get_mut(index), written) {
                *reading = written;
            }
            let unnoticed = NOTICED * (other - units).abs() < taken;
            unnoticed && other % balance.step == 0 && possible(&all)
        };
        found.extend(
            others
                .into_iter()
                .filter(can_be)
                .map(|other| (index, other)),
        );
    }
    found
}

/// The numbers of the same length with two different neighbouring digits exchanged.
pub(super) fn exchanges(units: i128) -> Vec<i128> {
    let highest = units.checked_ilog10().unwrap_or(0);
    neighbours_exchanged(units, highest)
        .filter(|other| other.checked_ilog10() == Some(highest))
        .collect()
}

/// The numbers with one digit, not the first, one higher or lower.
pub(super) fn off_by_one(units: i128) -> Vec<i128> {
    let mut found = Vec::new();
    let mut right: i128 = 1;
    while units / right >= 10 {
        let digit = units / right % 10;
        if digit < 9 {
            found.push(units + right);
        }
        if digit > 0 {
            found.push(units - right);
        }
        right *= 10;
    }
    found
}

/// Whether these weighings are possible: some hydrate was taken, and some of it is left.
pub(super) fn possible(readings: &[Reading]) -> bool {
    let mut values = readings.iter().map(Reading::value);
    let (Some(container), Some(with_hydrate)) = (values.next(), values.next()) else {
        return false;
    };
    let mut heated = values;
    !container.is_negative()
        && with_hydrate > container
        && heated.all(|mass| mass > container && mass < with_hydrate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_that_differ_are_exchanged() {
        assert_eq!(exchanges(21352), [21325, 21532, 23152, 12352]);
        assert_eq!(exchanges(20114), [20141, 21014]);
        assert_eq!(exchanges(7), [0; 0]);
        assert_eq!(exchanges(55), [0; 0]);
    }

    #[test]
    fn one_digit_is_off_by_one() {
        assert_eq!(off_by_one(2190), [2191, 2180, 2290, 2090]);
        assert_eq!(off_by_one(0), [0; 0]);
    }
}
