//! How often a number that is wrong at random would be called a certain slip.

use alloc::collections::BTreeSet;
use alloc::vec::Vec;

use super::slip::Slip;
use super::student_work::StudentWork;
use crate::gravimetry::Quantity;
use crate::number::{Ratio, Reading};

/// The largest number of values whose distances are compared. More of them fit any number.
const MOST_VALUES: usize = 10_000;

impl Slip {
    /// Whether a number that slips give is rare enough to be certain. Starting from the right value, the
    /// numbers that slips give are counted outwards, as they are written with the decimal places of the
    /// reported one. A number is certain if it and the certain ones before it are fewer than one in a
    /// hundred of all numbers that are no further away.
    ///
    /// Nothing is rounded in these works. The right value is that of the first.
    pub(crate) fn is_rare(
        works: &[StudentWork<'_>],
        quantity: Quantity,
        reported: &Reading,
    ) -> bool {
        is_rare(works, quantity, reported).unwrap_or(false)
    }
}

fn is_rare(works: &[StudentWork<'_>], quantity: Quantity, reported: &Reading) -> Option<bool> {
    let step = reported.last_place();
    let in_steps = |value: &Ratio| value.checked_div(&step);
    let right = in_steps(works.first()?.expected(quantity)?.low())?;
    let furthest = (in_steps(&reported.value())? - &right).abs();
    let (first, last) = (&right - &furthest, &right + &furthest);
    let half = Ratio::new(1, 2)?;
    let mut given: BTreeSet<i128> = BTreeSet::new();
    for work in works {
        for slip in Slip::ALL {
            for interval in slip.written(work, quantity, reported.decimal_places()) {
                let low = (in_steps(interval.low())? - &half).max(first.clone());
                let high = (in_steps(interval.high())? + &half).min(last.clone());
                if low > high {
                    continue;
                }
                let room = MOST_VALUES.checked_sub(given.len())?;
                given.extend((low.ceil().to_i128()?..=high.floor().to_i128()?).take(room + 1));
            }
        }
    }
    let mut distances: Vec<Ratio> = given.iter().map(|n| (&right - *n).abs()).collect();
    distances.sort_unstable();
    let (mut certain, mut rare) = (0, false);
    for equal in distances.chunk_by(|a, b| a == b) {
        let with_these = certain + i64::try_from(equal.len()).ok()?;
        // Within a distance of n steps there are 2n numbers.
        rare = equal.first()? * 2 > Ratio::from(with_these * 100);
        if rare {
            certain = with_these;
        }
    }
    Some(rare)
}
