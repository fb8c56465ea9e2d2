//! Tests for values that are far from the others.

use alloc::boxed::Box;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::ops::RangeInclusive;

use super::centre::{Centre, mean_and_sd};
use super::esd::TestStep;
use super::level::is_level;
use super::{dixon, esd, grubbs};
use crate::class::{Error, ErrorKind};
use crate::formula::Formula;
use crate::gravimetry::{Constancy, Dehydration};
use crate::number::Ratio;

/// A test for values that are far from the others. It assumes that the others are normally distributed.
///
/// Grubbs' test and Dixon's test look at the one value that is farthest off. Two such values may hide
/// each other from both, because they widen the spread. The generalised test looks for several.
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
    /// The generalised extreme Studentised deviate test: Grubbs' test again without the values that were
    /// farther off. The last step whose statistic exceeds its critical value gives the number of outliers.
    ///
    /// Of normally distributed values it calls two or more outliers in at most 4 of 100 lists, at 95 %.
    #[doc(alias("GESD", "Rosner"))]
    GeneralizedEsd,
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
    GeneralizedEsd => "generalized_esd",
}

/// The benches among which an outlier is one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BenchGroup {
    /// All benches that were issued the same hydrate.
    All,
    /// Those of them that had reached constant mass.
    AtConstantMass,
}

crate::text::codes! {
    BenchGroup, "groups of benches", Error(ErrorKind::UnknownCode);
    All => "all",
    AtConstantMass => "at_constant_mass",
}

impl OutlierTest {
    /// Returns the numbers of values that the test takes. For more than ten, Dixon uses other ratios. The
    /// generalised test looks for as many outliers as a quarter of the values, and for ten at most. Below
    /// eight values it is therefore Grubbs' test.
    #[must_use]
    pub const fn sizes(self) -> RangeInclusive<usize> {
        match self {
            OutlierTest::Grubbs | OutlierTest::GeneralizedEsd => grubbs::LEAST..=usize::MAX,
            OutlierTest::Dixon => dixon::LEAST..=dixon::MOST,
        }
    }

    /// Returns the critical value: a statistic above it makes one of `n` values an outlier at this level
    /// of confidence (0.95 for 95 %). It is `None` if the test does not take this number of values, or if
    /// the level is not above 0 and at most 0.999999.
    ///
    /// In a two-tailed test each end has half of what the level leaves. Grubbs' value is worked out from
    /// Student's t, Dixon's by integrating the distribution of r10 (Dixon 1951). A step of the generalised
    /// test has Grubbs' value for the number of values left.
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
            OutlierTest::Grubbs | OutlierTest::GeneralizedEsd => grubbs::critical(n, tail),
            OutlierTest::Dixon => dixon::critical(n, tail),
        }
    }

    /// Returns the steps of the test: one if it looks at one value, none if all values are equal.
    fn steps(self, centre: &Centre) -> Vec<TestStep> {
        let one = |found: Option<(usize, f64)>| {
            let step = found.map(|(index, statistic)| TestStep {
                index,
                left: centre.n(),
                statistic,
            });
            step.into_iter().collect()
        };
        match self {
            OutlierTest::Grubbs => one(grubbs::statistic(centre)),
            OutlierTest::Dixon => one(dixon::statistic(centre)),
            OutlierTest::GeneralizedEsd => esd::steps(centre),
        }
    }

    /// Returns the values that are outliers.
    fn flagged(self, centre: &Centre, level: f64, tails: Tails) -> Option<Flagged> {
        let mut steps = self.steps(centre);
        let critical = |step: &TestStep| self.critical(step.left, level, tails);
        let last = steps
            .iter()
            .rposition(|step| critical(step).is_some_and(|critical| step.statistic > critical))?;
        // One outlier by the generalised test is one by Grubbs' test.
        if self == OutlierTest::GeneralizedEsd && last == 0 {
            return None;
        }
        steps.truncate(last + 1);
        let step = steps.last()?;
        Some(Flagged {
            statistic: step.statistic,
            critical: critical(step)?,
            indices: steps.iter().map(|step| step.index).collect(),
        })
    }
}

/// The outliers by one test, with the figures of the step that decided.
struct Flagged {
    /// The indices of the values, in order.
    indices: Vec<usize>,
    statistic: f64,
    critical: f64,
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
        let step = test.steps(centre).pop();
        Suspect::new(test, centre, step.as_ref(), level)
    }

    /// Returns the steps of the generalised test.
    pub(super) fn steps(centre: &Centre, level: f64) -> Vec<Suspect> {
        let test = OutlierTest::GeneralizedEsd;
        let steps = test.steps(centre);
        let suspects = steps.iter();
        suspects
            .filter_map(|step| Suspect::new(test, centre, Some(step), level))
            .collect()
    }

    fn new(
        test: OutlierTest,
        centre: &Centre,
        step: Option<&TestStep>,
        level: f64,
    ) -> Option<Suspect> {
        let left = step.map_or(centre.n(), |step| step.left);
        let critical = |tails| test.critical(left, level, tails);
        Some(Suspect {
            value: step.and_then(|step| centre.sorted.get(step.index).cloned()),
            statistic: step.map(|step| step.statistic),
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
///
/// A bench that differs from the mean of the others by less than twice its own standard uncertainty is
/// never one. The others then only agree better than their balances can show.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlier {
    bench: String,
    period: Option<String>,
    pub(in crate::class) line: u64,
    among: BenchGroup,
    test: OutlierTest,
    statistic: f64,
    critical: f64,
    /// Whether the bench is off by no more than its own uncertainty explains.
    pub(super) explained: bool,
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

    /// Returns the benches among which it is an outlier.
    #[must_use]
    pub fn among(&self) -> BenchGroup {
        self.among
    }

    /// Returns the test by which it is an outlier.
    #[must_use]
    pub fn test(&self) -> OutlierTest {
        self.test
    }

    /// Returns the test's statistic for it. For the generalised test it is that of the step which gave the
    /// number of outliers, and the same for each of them.
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
    /// The hydrate that was issued, if it is not the class's.
    pub(in crate::class) issued: Option<Box<Formula>>,
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
            issued: None,
            ratio: dehydration.ratio().clone(),
            uncertainty: dehydration.standard_uncertainty(),
            dry: 1.0 - dehydration.percent_water().to_f64() / 100.0,
            reached: dehydration.constant_mass().and_then(Constancy::reached),
        }
    }
}

/// Returns the outliers among benches, and among those of them at constant mass, also those that their
/// uncertainty explains. If all are at constant mass, both are the same.
pub(super) fn outliers(benches: &[&ClassBench], level: f64, tails: Tails) -> Vec<Outlier> {
    let mut found = among(BenchGroup::All, benches, level, tails);
    let constant: Vec<&ClassBench> = at_constant_mass(benches).collect();
    if constant.len() < benches.len() {
        found.extend(among(BenchGroup::AtConstantMass, &constant, level, tails));
    }
    found
}

/// Returns those benches that had reached constant mass.
pub(super) fn at_constant_mass<'b>(
    benches: &[&'b ClassBench],
) -> impl Iterator<Item = &'b ClassBench> {
    let benches = benches.iter().copied();
    benches.filter(|bench| bench.reached == Some(true))
}

/// Returns the outliers in a group of benches, by each test that takes this number of them.
fn among(group: BenchGroup, benches: &[&ClassBench], level: f64, tails: Tails) -> Vec<Outlier> {
    let ratios: Vec<Ratio> = benches.iter().map(|bench| bench.ratio.clone()).collect();
    let Some(centre) = Centre::of(&ratios) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for test in OutlierTest::ALL {
        let Some(flagged) = test.flagged(&centre, level, tails) else {
            continue;
        };
        let values = flagged.indices.iter();
        let values: Vec<&Ratio> = values.filter_map(|i| centre.sorted.get(*i)).collect();
        let mean = mean_without(&centre, &flagged.indices);
        // Two benches may have exactly the same ratio. Without either, the same values are left.
        let alike = benches
            .iter()
            .filter(|bench| values.contains(&&bench.ratio));
        let is_explained = |bench: &ClassBench| {
            let distance = (&bench.ratio - &centre.median).to_f64() - mean;
            distance.abs() < 2.0 * bench.uncertainty
        };
        found.extend(alike.map(|bench| Outlier {
            bench: bench.bench.to_string(),
            period: bench.period.as_deref().map(String::from),
            line: bench.line,
            among: group,
            test,
            statistic: flagged.statistic,
            critical: flagged.critical,
            explained: is_explained(bench),
        }));
    }
    found
}

/// Returns the mean of the other values, as a distance from the median of all.
fn mean_without(centre: &Centre, indices: &[usize]) -> f64 {
    let others = centre.offsets.iter().enumerate();
    let others: Vec<f64> = others
        .filter(|(index, _)| !indices.contains(index))
        .map(|(_, offset)| *offset)
        .collect();
    mean_and_sd(&others).0
}
