//! The centre and the spread of values.

use alloc::vec::Vec;

use crate::number::Ratio;

/// One or more values in order, with their mean, median and spread.
pub(super) struct Centre {
    pub(super) sorted: Vec<Ratio>,
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
        Some(Centre {
            mad: middle(&distances)?,
            sd: spread(&sorted, &median),
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

/// Returns the sample standard deviation.
///
/// It is worked out from the exact distances from the median. The median is never farther from the
/// mean than one standard deviation, so nothing cancels. The distances are divided by the largest,
/// so no square leaves the range of a floating-point number.
fn spread(values: &[Ratio], median: &Ratio) -> Option<f64> {
    if values.len() < 2 {
        return None;
    }
    let n = values.len() as f64;
    let distances: Vec<f64> = values.iter().map(|v| (v - median).to_f64()).collect();
    let largest = distances.iter().fold(0.0, |most: f64, d| most.max(d.abs()));
    if largest == 0.0 {
        return Some(0.0);
    }
    let centre = distances.iter().map(|d| d / largest).sum::<f64>() / n;
    let squares: f64 = distances
        .iter()
        .map(|d| d / largest - centre)
        .map(|deviation| deviation * deviation)
        .sum();
    Some(libm::sqrt(squares / (n - 1.0)) * largest)
}
