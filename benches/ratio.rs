//! A work and its baseline are timed alternately: if the pace of the machine changes from one second to
//! the next, it changes for both.

use std::fmt;
use std::time::Instant;

const ROUNDS: usize = 301;

/// How many times the floor's time a work takes: the quartiles of single rounds.
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
        write!(
            f,
            "{median:.2} times the baseline (half of {ROUNDS} rounds {lower:.2} to {upper:.2})"
        )
    }
}

/// Times each work against the baseline and prints the ratios; prints nothing if the bench is only listed,
/// tested or asked for in part.
pub(crate) fn say<const N: usize>(mut floor: impl FnMut(), works: [(&str, &mut dyn FnMut()); N]) {
    let whole = std::env::args().skip(1).all(|argument| {
        argument.starts_with('-') && !["--list", "--test"].contains(&argument.as_str())
    });
    if !whole || !std::env::args().any(|argument| argument == "--bench") {
        return;
    }
    for (name, work) in works {
        let ratio = to_floor(&mut floor, work);
        println!("alternating: {name} {ratio}");
    }
}

fn to_floor(mut floor: impl FnMut(), mut work: impl FnMut()) -> Ratio {
    let mut ratios: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let by_hand = seconds(&mut floor);
            seconds(&mut work) / by_hand
        })
        .collect();
    ratios.sort_by(f64::total_cmp);
    let [lower, median, upper] = [1, 2, 3].map(|quarter| ratios[quarter * (ROUNDS - 1) / 4]);
    Ratio {
        lower,
        median,
        upper,
    }
}

/// Times a work that has just been done once: the other work of the pair has filled the caches and trained
/// the branch predictor for itself.
fn seconds(mut work: impl FnMut()) -> f64 {
    work();
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64()
}
