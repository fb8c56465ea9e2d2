//! Grubbs' test: the distance of the farthest value from the mean, in standard deviations.
//!
//! F. E. Grubbs, Ann. Math. Stat. 1950, 21, 27; Technometrics 1969, 11, 1.

use super::centre::Centre;
use super::student::t_exceeded;

/// The fewest values that the test takes.
pub(super) const LEAST: usize = 3;

/// Returns the index of the farthest value from the mean (the lower of two that are equally far) and
/// its distance in standard deviations; `None` if all values are equal.
pub(super) fn statistic(centre: &Centre) -> Option<(usize, f64)> {
    let (low, high) = (centre.sorted.first()?, centre.sorted.last()?);
    let sd = centre.sd.filter(|sd| *sd > 0.0)?;
    let (below, above) = (&centre.mean - low, high - &centre.mean);
    Some(if above > below {
        (centre.n() - 1, above.to_f64() / sd)
    } else {
        (0, below.to_f64() / sd)
    })
}

/// Returns what the statistic of one chosen end of `n` values exceeds with this probability, from
/// Student's t with n − 2 degrees of freedom. It is exact if no two values can exceed it together,
/// and otherwise an upper bound (Bonferroni's inequality).
pub(super) fn critical(n: usize, tail: f64) -> Option<f64> {
    if n < LEAST {
        return None;
    }
    let n = n as f64;
    let t = t_exceeded(tail / n, n - 2.0)?;
    // This is √(t²/(n − 2 + t²)) without the square of t, which may be large.
    Some((n - 1.0) / libm::sqrt(n) * t / libm::hypot(libm::sqrt(n - 2.0), t))
}
