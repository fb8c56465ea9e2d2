//! The centre and the spread of values.

use alloc::vec::Vec;

use crate::number::Ratio;

/// One or more values in order, with their mean, median and spread.
pub(super) struct Centre {
    pub(super) sorted: Vec<Ratio>,
    /// The distances of the values from the median, in the same order.
    pub(super) offsets: Vec<f64>,
    pub(super) mean: Ratio,
    pub(super) median: Ratio,
    pub(super) mad: Ratio,
    /// The sample standard deviation (n − 1), if there are two values or more.
    pub(super) sd: Option<f64>,
}

impl Centre {
    /// `None` if there is no value.
    pub(super) fn of(values: &[Ratio]) -> Option<Centre> {
        let mut sorted = values.to_vec();
        sorted.sort();
        let mean = sum(&sorted).checked_div(&Ratio::from(sorted.len() as u64))?;
        let median = middle(&sorted)?;
        let mut distances: Vec<Ratio> = sorted.iter().map(|v| (v - &median).abs()).collect();
        distances.sort();
        // The median is never farther from the mean than one standard deviation, so that nothing
        // cancels in what is worked out from the exact distances from it.
        let offsets: Vec<f64> = sorted.iter().map(|v| (v - &median).to_f64()).collect();
        Some(Centre {
            mad: middle(&distances)?,
            sd: (sorted.len() > 1).then(|| mean_and_sd(&offsets).1),
            offsets,
            sorted,
            mean,
            median,
        })
    }

    /// The number of values.
    pub(super) fn n(&self) -> usize {
        self.sorted.len()
    }
}

/// Adds each half by itself before both are added, because the denominators of the sums then stay
/// short for most of the way.
fn sum(values: &[Ratio]) -> Ratio {
    match values {
        [] => Ratio::ZERO,
        [one] => one.clone(),
        _ => {
            let (first, second) = values.split_at(values.len() / 2);
            sum(first) + sum(second)
        }
    }
}

/// Returns the middle one of values in order, or the mean of the two middle ones.
pub(super) fn middle(sorted: &[Ratio]) -> Option<Ratio> {
    let upper = sorted.get(sorted.len() / 2)?;
    let lower = sorted.get((sorted.len() - 1) / 2)?;
    (upper + lower).checked_div(&Ratio::from(2))
}

/// Returns the mean and the sample standard deviation of two or more numbers.
///
/// They are divided by the largest, so no square leaves the range of a floating-point number.
pub(super) fn mean_and_sd(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let largest = values.iter().fold(0.0, |most: f64, v| most.max(v.abs()));
    if largest == 0.0 {
        return (0.0, 0.0);
    }
    let mean = values.iter().map(|v| v / largest).sum::<f64>() / n;
    let squares: f64 = values
        .iter()
        .map(|v| v / largest - mean)
        .map(|deviation| deviation * deviation)
        .sum();
    (mean * largest, libm::sqrt(squares / (n - 1.0)) * largest)
}
