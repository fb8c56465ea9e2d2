//! The class as a whole: centre, spread, confidence.

use alloc::vec::Vec;

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::number::Ratio;

/// From so many benches on a spread is claimed.
const LEAST_FOR_SPREAD: usize = 5;

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
    /// Pools the values.
    #[must_use]
    pub fn of(values: &[Ratio]) -> Pooled {
        let n = values.len();
        let count = Ratio::from(n as u64);
        let Some(mean) = values.iter().cloned().sum::<Ratio>().checked_div(&count) else {
            return Pooled::default();
        };
        let middle = median(values.to_vec());
        let distances = values
            .iter()
            .filter_map(|value| middle.as_ref().map(|m| (value - m).abs()))
            .collect();
        let mut pooled = Pooled {
            n,
            mad: median(distances),
            median: middle,
            mean: Some(mean),
            sd: None,
            interval: None,
        };
        if n >= LEAST_FOR_SPREAD {
            pooled.spread(values);
        }
        pooled
    }

    fn spread(&mut self, values: &[Ratio]) {
        let Some(mean) = &self.mean else { return };
        let freedom = self.n as f64 - 1.0;
        // The deviations are exact, so nothing cancels.
        let squares: f64 = values
            .iter()
            .map(|value| (value - mean).to_f64())
            .map(|deviation| deviation * deviation)
            .sum();
        let sd = libm::sqrt(squares / freedom);
        let half = StudentsT::new(0.0, 1.0, freedom)
            .map(|t| t.inverse_cdf(0.975) * sd / libm::sqrt(self.n as f64));
        self.sd = Some(sd);
        self.interval = half.ok().map(|half| {
            let centre = mean.to_f64();
            (centre - half, centre + half)
        });
    }

    /// How many benches.
    #[must_use]
    pub fn n(&self) -> usize {
        self.n
    }

    /// The arithmetic mean; `None` where there is no bench.
    #[must_use]
    pub fn mean(&self) -> Option<&Ratio> {
        self.mean.as_ref()
    }

    /// The median.
    #[must_use]
    pub fn median(&self) -> Option<&Ratio> {
        self.median.as_ref()
    }

    /// The median absolute deviation from the median, unscaled.
    #[must_use]
    pub fn mad(&self) -> Option<&Ratio> {
        self.mad.as_ref()
    }

    /// The sample standard deviation (n − 1); `None` below five benches.
    #[must_use]
    pub fn sd(&self) -> Option<f64> {
        self.sd
    }

    /// The 95 % confidence interval of the mean, by Student's t; `None` below five benches.
    #[must_use]
    pub fn interval(&self) -> Option<(f64, f64)> {
        self.interval
    }
}

fn median(mut values: Vec<Ratio>) -> Option<Ratio> {
    values.sort();
    let upper = values.get(values.len() / 2)?;
    let lower = values.get((values.len() - 1) / 2)?;
    (upper + lower).checked_div(&Ratio::from(2))
}

#[cfg(test)]
mod tests {
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
