//! The generalised extreme Studentised deviate test: Grubbs' test again and again, each time without
//! the value that was farthest off.
//!
//! B. Rosner, Technometrics 1983, 25, 165; NIST/SEMATECH e-Handbook of Statistical Methods,
//! 1.3.5.17.3. Two outliers may hide each other from Grubbs' test, because both widen the spread. So
//! the number of outliers is that of the last step whose statistic exceeds its critical value, whatever
//! the steps before it show.

use alloc::vec::Vec;

use super::centre::{Centre, mean_and_sd};

/// The most outliers that are looked for.
const MOST: usize = 10;

/// Returns how many outliers are looked for among `n` values: a quarter of them, and at most ten. With
/// more the false alarms become too many.
pub(super) const fn most(n: usize) -> usize {
    match n {
        0..8 => 0,
        8..40 => n / 4,
        _ => MOST,
    }
}

/// A value that a step of the test found to be the farthest from the mean of those left.
pub(super) struct TestStep {
    /// The index of the value, in order.
    pub(super) index: usize,
    /// The number of values left, this one included.
    pub(super) left: usize,
    /// The distance from the mean, in standard deviations.
    pub(super) statistic: f64,
}

/// Returns the steps of the test. It ends early if all values left are equal.
pub(super) fn steps(centre: &Centre) -> Vec<TestStep> {
    let (mut start, mut rest) = (0, centre.offsets.as_slice());
    let mut steps = Vec::new();
    while let (Some((low, after)), Some((high, before))) = (rest.split_first(), rest.split_last()) {
        let (mean, sd) = mean_and_sd(rest);
        if sd <= 0.0 || steps.len() == most(centre.n()) {
            break;
        }
        let (below, above) = (mean - low, high - mean);
        let upper = above > below;
        steps.push(TestStep {
            index: if upper { start + before.len() } else { start },
            left: rest.len(),
            statistic: below.max(above) / sd,
        });
        start += usize::from(!upper);
        rest = if upper { before } else { after };
    }
    steps
}
