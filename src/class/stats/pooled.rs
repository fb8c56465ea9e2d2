//! The mean, median and spread of several benches.

use super::centre::Centre;
use super::level::{LEAST_FOR_SPREAD, LEVEL};
use super::student::t_two_sided;
use crate::formula::Formula;
use crate::number::Ratio;

/// The mean, median and spread of the ratios of several benches.
///
/// ```
/// use effloresce::{Ratio, class::Pooled};
/// let ratios: Vec<Ratio> = ["7.02", "6.95", "6.98", "7.05", "5.10"]
///     .iter()
///     .map(|text| text.parse())
///     .collect::<Result<_, _>>()?;
/// let pooled = Pooled::of(&ratios);
/// assert_eq!(pooled.median().unwrap().to_string(), "6.98");
/// assert_eq!(pooled.mean().unwrap().to_string(), "6.62");
/// assert!((pooled.sd().unwrap() - 0.8506).abs() < 0.0001);
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pooled {
    n: usize,
    mean: Option<Ratio>,
    median: Option<Ratio>,
    mad: Option<Ratio>,
    sd: Option<f64>,
    interval: Option<(f64, f64)>,
    robust_interval: Option<(f64, f64)>,
}

/// The standard uncertainty of the median for a median absolute deviation of one, times √(n − 1).
///
/// A normal distribution has a standard deviation of 1.4826 median absolute deviations, and its median
/// scatters √(π/2) times as much as its mean (J. W. Müller, J. Res. Natl. Inst. Stand. Technol. 2000,
/// 105, 551; from memory).
const MEDIAN_FACTOR: f64 = 1.858;

impl Pooled {
    /// Returns the pool of these values.
    #[must_use]
    pub fn of(values: &[Ratio]) -> Pooled {
        let Some(centre) = Centre::of(values) else {
            return Pooled::default();
        };
        let n = centre.n();
        let count = n as f64;
        let sd = centre.sd.filter(|_| n >= LEAST_FOR_SPREAD);
        let t = sd.and_then(|_| t_two_sided(LEVEL, count - 1.0));
        let around = |middle: &Ratio, half: f64| {
            let middle = middle.to_f64();
            (middle - half, middle + half)
        };
        // If more than half of the values are equal, they show no spread.
        let mad = Some(centre.mad.to_f64()).filter(|mad| *mad > 0.0);
        let robust_half = t
            .zip(mad)
            .map(|(t, mad)| t * MEDIAN_FACTOR * mad / libm::sqrt(count - 1.0));
        let half = sd.zip(t).map(|(sd, t)| t * sd / libm::sqrt(count));
        Pooled {
            n,
            sd,
            interval: half.map(|half| around(&centre.mean, half)),
            robust_interval: robust_half.map(|half| around(&centre.median, half)),
            mean: Some(centre.mean),
            median: Some(centre.median),
            mad: Some(centre.mad),
        }
    }

    /// Returns the number of benches.
    #[must_use]
    pub fn n(&self) -> usize {
        self.n
    }

    /// Returns the arithmetic mean; `None` if there is no bench.
    #[must_use]
    pub fn mean(&self) -> Option<&Ratio> {
        self.mean.as_ref()
    }

    /// Returns the median; `None` if there is no bench.
    #[must_use]
    pub fn median(&self) -> Option<&Ratio> {
        self.median.as_ref()
    }

    /// Returns the median absolute deviation from the median, unscaled; `None` if there is no bench.
    #[must_use]
    pub fn mad(&self) -> Option<&Ratio> {
        self.mad.as_ref()
    }

    /// Returns the sample standard deviation (n − 1); `None` below five benches.
    #[must_use]
    pub fn sd(&self) -> Option<f64> {
        self.sd
    }

    /// Returns the 95 % confidence interval of the mean, by Student's t; `None` below five benches.
    #[must_use]
    pub fn interval(&self) -> Option<(f64, f64)> {
        self.interval
    }

    /// Returns a 95 % interval from the median and the median absolute deviation, which benches far off
    /// hardly change; `None` below five benches, and if more than half have exactly the same ratio.
    ///
    /// It is the median ± t·1.858·MAD/√(n − 1), with Student's t (J. W. Müller 2000). Of normally
    /// distributed benches it covers the true value somewhat less often than the interval of the mean: in
    /// 89 % of classes with five benches, and in 91 to 95 % with more.
    #[must_use]
    pub fn robust_interval(&self) -> Option<(f64, f64)> {
        self.robust_interval
    }
}

/// The benches that were issued one hydrate, pooled.
#[derive(Debug, Clone, PartialEq)]
pub struct IssuedPool {
    pub(super) issued: Formula,
    pub(super) all: Pooled,
    pub(super) at_constant_mass: Pooled,
}

impl IssuedPool {
    /// Returns the hydrate that was issued.
    #[must_use]
    pub fn issued(&self) -> &Formula {
        &self.issued
    }

    /// Returns the pool of all its benches.
    #[must_use]
    pub fn all(&self) -> &Pooled {
        &self.all
    }

    /// Returns the pool of those benches that had reached constant mass.
    #[must_use]
    pub fn at_constant_mass(&self) -> &Pooled {
        &self.at_constant_mass
    }
}

#[cfg(test)]
mod tests {
    use alloc::vec::Vec;

    use super::*;

    fn ratios(texts: &[&str]) -> Vec<Ratio> {
        texts.iter().map(|text| text.parse().unwrap()).collect()
    }

    #[test]
    fn below_five_no_spread_is_claimed() {
        let four = Pooled::of(&ratios(&["1", "2", "3", "10"]));
        assert_eq!((four.n(), four.sd(), four.interval()), (4, None, None));
        assert_eq!(four.median(), Some(&ratios(&["2.5"])[0]));
        assert_eq!(four.mad(), Some(&ratios(&["1"])[0]));
        let none = Pooled::of(&[]);
        assert_eq!((none.n(), none.mean(), none.median()), (0, None, None));
    }

    /// The median is 7, and the distances from it are 0, 0.01, 0.02, 0.03 and 1: the median absolute
    /// deviation is 0.02, and half the interval 2.776 · 1.858 · 0.02/2.
    #[test]
    fn the_robust_interval_by_hand() {
        let pooled = Pooled::of(&ratios(&["7.00", "6.99", "7.02", "6.97", "8.00"]));
        let (low, high) = pooled.robust_interval().unwrap();
        assert!((low - 6.948_413).abs() < 2e-6, "{low}");
        assert!((high - 7.051_587).abs() < 2e-6, "{high}");
        // More than half are equal, so that nothing is known of the spread.
        let equal = Pooled::of(&ratios(&["7", "7", "7", "7.1", "7.2"]));
        assert!(equal.interval().is_some());
        assert_eq!(equal.robust_interval(), None);
    }

    /// Two-tailed 95 % points of Student's t (common statistical table; NIST/SEMATECH e-Handbook
    /// of Statistical Methods, 1.3.6.7.2): 2.776 for 4 degrees of freedom, 2.262 for 9, 2.045
    /// for 29.
    #[test]
    fn the_interval_uses_the_tabulated_t() {
        for (n, t) in [(5_usize, 2.776), (10, 2.262), (30, 2.045)] {
            let values: Vec<Ratio> = (0..n).map(|i| Ratio::from(i as u64)).collect();
            let pooled = Pooled::of(&values);
            let (low, high) = pooled.interval().unwrap();
            let found = (high - low) / 2.0 * (n as f64).sqrt() / pooled.sd().unwrap();
            assert!((found - t).abs() < 0.0005, "{n}: {found}");
        }
    }
}
