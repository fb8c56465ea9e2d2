//! The mean, median and spread of several benches.

use super::centre::Centre;
use super::level::{LEAST_FOR_SPREAD, LEVEL};
use super::student::t_two_sided;
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
}

impl Pooled {
    /// Returns the pool of these values.
    #[must_use]
    pub fn of(values: &[Ratio]) -> Pooled {
        let Some(centre) = Centre::of(values) else {
            return Pooled::default();
        };
        let n = centre.n();
        let sd = centre.sd.filter(|_| n >= LEAST_FOR_SPREAD);
        let half = sd
            .zip(t_two_sided(LEVEL, n as f64 - 1.0))
            .map(|(sd, t)| t * sd / libm::sqrt(n as f64));
        let middle = centre.mean.to_f64();
        Pooled {
            n,
            sd,
            interval: half.map(|half| (middle - half, middle + half)),
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
