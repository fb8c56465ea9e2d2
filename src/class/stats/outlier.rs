//! Two tests for a value that is far from the others.

use alloc::boxed::Box;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::ops::RangeInclusive;

use super::centre::Centre;
use super::level::is_level;
use super::{dixon, grubbs};
use crate::class::{Error, ErrorKind};
use crate::gravimetry::{Constancy, Dehydration};
use crate::number::Ratio;

/// A test for one value that is far from the others. It assumes that the others are normally
/// distributed.
///
/// ```
/// use effloresce::class::{OutlierTest, Tails};
/// let critical = OutlierTest::Grubbs.critical(7, 0.95, Tails::Two).unwrap();
/// assert_eq!(format!("{critical:.3}"), "2.020");
/// let critical = OutlierTest::Dixon.critical(5, 0.95, Tails::Two).unwrap();
/// assert_eq!(format!("{critical:.2}"), "0.71");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum OutlierTest {
    /// Grubbs' test: the distance from the mean in sample standard deviations.
    Grubbs,
    /// Dixon's test by r10: the gap to the next value, divided by the range.
    #[doc(alias = "Q test")]
    Dixon,
}

/// The ends of the values that a test looks at: both, or one that was chosen beforehand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Tails {
    /// One end, chosen before the values were seen.
    One,
    /// The end that is farther off.
    #[default]
    Two,
}

crate::text::codes! {
    OutlierTest, "tests for outliers", Error(ErrorKind::UnknownCode);
    Grubbs => "grubbs",
    Dixon => "dixon",
}

impl OutlierTest {
    /// Returns the numbers of values that the test takes. For more than ten, Dixon uses other ratios.
    #[must_use]
    pub const fn sizes(self) -> RangeInclusive<usize> {
        match self {
            OutlierTest::Grubbs => grubbs::LEAST..=usize::MAX,
            OutlierTest::Dixon => dixon::LEAST..=dixon::MOST,
        }
    }

    /// Returns the critical value: a statistic above it makes one of `n` values an outlier at this level
    /// of confidence (0.95 for 95 %). It is `None` if the test does not take this number of values, or if
    /// the level is not above 0 and at most 0.999999.
    ///
    /// In a two-tailed test each end has half of what the level leaves. Grubbs' value is worked out from
    /// Student's t, Dixon's by integrating the distribution of r10 (Dixon 1951).
    #[must_use]
    pub fn critical(self, n: usize, level: f64, tails: Tails) -> Option<f64> {
        if !is_level(level) {
            return None;
        }
        let tail = match tails {
            Tails::One => 1.0 - level,
            Tails::Two => (1.0 - level) / 2.0,
        };
        match self {
            OutlierTest::Grubbs => grubbs::critical(n, tail),
            OutlierTest::Dixon => dixon::critical(n, tail),
        }
    }

    pub(super) fn statistic(self, centre: &Centre) -> Option<(&Ratio, f64)> {
        match self {
            OutlierTest::Grubbs => grubbs::statistic(centre),
            OutlierTest::Dixon => dixon::statistic(centre),
        }
    }
}

/// The value that is farthest off, with the result of a test.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect {
    value: Option<Ratio>,
    statistic: Option<f64>,
    critical_two_tailed: f64,
    critical_one_tailed: f64,
}

impl Suspect {
    /// `None` if the test does not take this number of values.
    pub(super) fn by(test: OutlierTest, centre: &Centre, level: f64) -> Option<Suspect> {
        let found = test.statistic(centre);
        let critical = |tails| test.critical(centre.n(), level, tails);
        Some(Suspect {
            value: found.map(|(value, _)| value.clone()),
            statistic: found.map(|(_, statistic)| statistic),
            critical_two_tailed: critical(Tails::Two)?,
            critical_one_tailed: critical(Tails::One)?,
        })
    }

    /// Returns the value that is farthest off, the lower of two that are alike; `None` if all values are
    /// equal.
    #[must_use]
    pub fn value(&self) -> Option<&Ratio> {
        self.value.as_ref()
    }

    /// Returns the test's statistic for the value; `None` if all values are equal.
    #[must_use]
    pub fn statistic(&self) -> Option<f64> {
        self.statistic
    }

    /// Returns the critical value: with a statistic above it the value is an outlier.
    #[must_use]
    pub fn critical(&self, tails: Tails) -> f64 {
        match tails {
            Tails::One => self.critical_one_tailed,
            Tails::Two => self.critical_two_tailed,
        }
    }

    /// Returns whether the value is an outlier. An outlier still counts in every mean; a person has to
    /// find out why it is one.
    #[must_use]
    pub fn is_outlier(&self, tails: Tails) -> bool {
        self.statistic.is_some_and(|s| s > self.critical(tails))
    }
}

/// A bench whose ratio is an outlier. It still counts in every pool.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlier {
    bench: String,
    period: Option<String>,
    pub(in crate::class) line: u64,
    within_uncertainty: bool,
    test: OutlierTest,
    statistic: f64,
    critical: f64,
}

impl Outlier {
    /// Returns the bench.
    #[must_use]
    pub fn bench(&self) -> &str {
        &self.bench
    }

    /// Returns the period of the bench.
    #[must_use]
    pub fn period(&self) -> Option<&str> {
        self.period.as_deref()
    }

    /// Returns the line of the sheet with its readings. Benches of the same name have different lines.
    #[must_use]
    pub fn line(&self) -> u64 {
        self.line
    }

    /// Returns whether it is an outlier only because the others agree better than their balances can
    /// show. It then differs from the mean of the others by less than twice its own standard
    /// uncertainty, and their standard deviation is below that uncertainty.
    #[must_use]
    pub fn is_within_uncertainty(&self) -> bool {
        self.within_uncertainty
    }

    /// Returns the test by which it is an outlier.
    #[must_use]
    pub fn test(&self) -> OutlierTest {
        self.test
    }

    /// Returns the test's statistic for it.
    #[must_use]
    pub fn statistic(&self) -> f64 {
        self.statistic
    }

    /// Returns the critical value, which the statistic exceeds.
    #[must_use]
    pub fn critical(&self) -> f64 {
        self.critical
    }
}

/// A bench that counts for the class, with what the statistics need of its results.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::class) struct ClassBench {
    pub(in crate::class) bench: Box<str>,
    pub(in crate::class) period: Option<Box<str>>,
    pub(in crate::class) balance: Option<Box<str>>,
    pub(in crate::class) line: u64,
    pub(in crate::class) ratio: Ratio,
    pub(in crate::class) uncertainty: f64,
    /// The mass fraction of what is not water.
    pub(in crate::class) dry: f64,
    /// Whether the mass was constant, if that can be known.
    pub(in crate::class) reached: Option<bool>,
}

impl ClassBench {
    /// Makes a bench without names from its results.
    pub(in crate::class) fn new(line: u64, dehydration: &Dehydration) -> ClassBench {
        ClassBench {
            bench: Box::default(),
            period: None,
            balance: None,
            line,
            ratio: dehydration.ratio().clone(),
            uncertainty: dehydration.standard_uncertainty(),
            dry: 1.0 - dehydration.percent_water().to_f64() / 100.0,
            reached: dehydration.constant_mass().and_then(Constancy::reached),
        }
    }
}

/// Returns the outliers among benches, by each test that takes this number of them.
pub(super) fn outliers(benches: &[ClassBench], level: f64, tails: Tails) -> Vec<Outlier> {
    let ratios: Vec<Ratio> = benches.iter().map(|bench| bench.ratio.clone()).collect();
    let Some(centre) = Centre::of(&ratios) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for test in OutlierTest::ALL {
        let critical = test.critical(centre.n(), level, tails);
        let (Some(critical), Some((suspect, statistic))) = (critical, test.statistic(&centre))
        else {
            continue;
        };
        if statistic > critical {
            let others = without_one(&ratios, suspect);
            // Two benches may have exactly the same ratio. Without either, the same values are left.
            let alike = benches.iter().filter(|bench| bench.ratio == *suspect);
            found.extend(alike.map(|bench| {
                Outlier {
                    bench: bench.bench.to_string(),
                    period: bench.period.as_deref().map(String::from),
                    line: bench.line,
                    within_uncertainty: others
                        .as_ref()
                        .is_some_and(|others| within_uncertainty(bench, others)),
                    test,
                    statistic,
                    critical,
                }
            }));
        }
    }
    found
}

/// Returns the centre of all values but one that is equal to `left_out`.
fn without_one(values: &[Ratio], left_out: &Ratio) -> Option<Centre> {
    let mut others = values.to_vec();
    let index = values.iter().position(|value| value == left_out)?;
    others.swap_remove(index);
    Centre::of(&others)
}

fn within_uncertainty(suspect: &ClassBench, others: &Centre) -> bool {
    let distance = (&suspect.ratio - &others.mean).abs().to_f64();
    let uncertainty = suspect.uncertainty;
    distance < 2.0 * uncertainty && others.sd.is_some_and(|sd| sd < uncertainty)
}
