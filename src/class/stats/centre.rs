//! Where values lie and how far they spread.

use alloc::vec::Vec;

use crate::number::Ratio;

/// Values in order, with what describes them. There is at least one.
pub(super) struct Centre {
    pub(super) sorted: Vec<Ratio>,
    pub(super) mean: Ratio,
    pub(super) median: Ratio,
    pub(super) mad: Ratio,
    /// The sample standard deviation (n − 1), from two values on.
    pub(super) sd: Option<f64>,
}

impl Centre {
    /// `None` where there is no value.
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

    /// How many values.
    pub(super) fn n(&self) -> usize {
        self.sorted.len()
    }
}

/// Halves are added before they are put together: fractions whose denominators grow stay short
/// for most of the way.
fn sum(values: &[Ratio]) -> Ratio {
    match values {
        [] => Ratio::ZERO,
        [one] => one.clone(),
        _ => {
            let (first, second) = values.split_at(values.len() / 2);
            &sum(first) + &sum(second)
        }
    }
}

/// The middle one of values in order, or the mean of the two middle ones.
pub(super) fn middle(sorted: &[Ratio]) -> Option<Ratio> {
    let upper = sorted.get(sorted.len() / 2)?;
    let lower = sorted.get((sorted.len() - 1) / 2)?;
    (upper + lower).checked_div(&Ratio::from(2))
}

/// The sample standard deviation.
///
/// What enters are the exact distances from the median, which is never farther from the mean than
/// one standard deviation, so that nothing cancels; divided by the largest, so that no square
/// leaves the range of a floating-point number.
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
