//! What is measured and its floor, timed in turn: where a machine's pace changes from one second to
//! the next, it changes for both.

use std::fmt;
use std::time::Instant;

const ROUNDS: usize = 401;

/// How many times the floor's time a work takes: the quartiles over the rounds.
pub(crate) struct Ratio {
    lower: f64,
    median: f64,
    upper: f64,
}

impl fmt::Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Ratio {
            lower,
            median,
            upper,
        } = self;
        write!(f, "{median:.2} times the floor ({lower:.2} to {upper:.2})")
    }
}

pub(crate) fn to_floor<const N: usize>(
    mut floor: impl FnMut(),
    mut works: [&mut dyn FnMut(); N],
) -> [Ratio; N] {
    let mut ratios: [Vec<f64>; N] = std::array::from_fn(|_| Vec::with_capacity(ROUNDS));
    for _ in 0..ROUNDS {
        let by_hand = seconds(&mut floor);
        for (work, ratios) in works.iter_mut().zip(&mut ratios) {
            ratios.push(seconds(work) / by_hand);
        }
    }
    ratios.map(|mut ratios| {
        ratios.sort_by(f64::total_cmp);
        let [lower, median, upper] = [1, 2, 3].map(|quarter| ratios[quarter * (ROUNDS - 1) / 4]);
        Ratio {
            lower,
            median,
            upper,
        }
    })
}

fn seconds(mut work: impl FnMut()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64()
}
