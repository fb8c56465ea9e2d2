//! All statistics of a list of values.

use alloc::format;
use alloc::vec::Vec;

use super::centre::Centre;
use super::level::checked;
use super::outlier::{OutlierTest, Suspect};
use super::student::t_two_sided;
use crate::class::{Error, ErrorKind};
use crate::number::Ratio;
use crate::text::{Detail, Note};

/// The largest number of values: more than any class has benches.
const MOST_VALUES: usize = 10_000;

/// The largest number of values in a summary.
const MOST_SUMMARISED: usize = 1_000_000;

/// The statistics of a list of results: centre, spread, the interval of the mean, and tests for
/// outliers.
///
/// ```
/// use effloresce::{Ratio, class::{Statistics, Tails}};
/// let ratios: Vec<Ratio> = ["7.02", "6.95", "6.98", "7.05", "5.10"]
///     .iter()
///     .map(|text| text.parse())
///     .collect::<Result<_, _>>()?;
/// let found = Statistics::of(&ratios, 0.95)?;
/// assert_eq!(found.mean().to_string(), "6.62");
/// assert_eq!(found.median().unwrap().to_string(), "6.98");
/// assert!((found.t().unwrap() - 2.776).abs() < 0.001);
/// let grubbs = found.grubbs().unwrap();
/// assert_eq!(grubbs.value().unwrap().to_string(), "5.1");
/// assert!(grubbs.is_outlier(Tails::Two));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Statistics {
    n: usize,
    mean: Ratio,
    median: Option<Ratio>,
    mad: Option<Ratio>,
    sd: Option<f64>,
    t: Option<f64>,
    half_width: Option<f64>,
    grubbs: Option<Suspect>,
    dixon: Option<Suspect>,
    generalized_esd: Vec<Suspect>,
    notes: Vec<Note>,
}

impl Statistics {
    /// Returns the statistics of these values at a level of confidence (0.95 for 95 %). The tests for an
    /// outlier are made at a significance of 1 − `level`.
    ///
    /// # Errors
    /// Fails if there is no value or more than 10,000, or if the level is not above 0 and at most
    /// 0.999999.
    pub fn of(values: &[Ratio], level: f64) -> Result<Statistics, Error> {
        let level = checked(level)?;
        if values.len() > MOST_VALUES {
            return Err(Error::new(
                ErrorKind::TooManyValues,
                Detail::new(format!(
                    "there are {} values, and at most {MOST_VALUES} are taken",
                    values.len()
                ))
                .help("give one value for each bench"),
            ));
        }
        let Some(centre) = Centre::of(values) else {
            return Err(Error::new(
                ErrorKind::NoValues,
                Detail::new("there are no values").help("give at least one value"),
            ));
        };
        let mut found = Statistics::about(centre.n(), centre.mean.clone(), centre.sd, level);
        found.grubbs = Suspect::by(OutlierTest::Grubbs, &centre, level);
        found.dixon = Suspect::by(OutlierTest::Dixon, &centre, level);
        found.generalized_esd = Suspect::steps(&centre, level);
        if found.grubbs.is_some() && centre.sd == Some(0.0) {
            found.notes.push(Note::new(
                "no_spread",
                "All values are equal, so none is farther off than another.",
            ));
        }
        found.mad = (centre.n() > 1).then_some(centre.mad);
        found.median = Some(centre.median);
        Ok(found)
    }

    /// Returns the statistics from a summary: the mean and the sample standard deviation (n − 1) of `n`
    /// values. The median, the median absolute deviation and the outliers need the values themselves and
    /// are not known.
    ///
    /// # Errors
    /// Fails if the standard deviation is negative or not finite, if `n` is below 2 or above 1,000,000,
    /// or if the level is not above 0 and at most 0.999999.
    ///
    /// ```
    /// use effloresce::class::Statistics;
    /// let found = Statistics::from_summary("3.081".parse()?, 0.037, 5, 0.95)?;
    /// assert!((found.half_width().unwrap() - 0.046).abs() < 0.0005);
    /// assert_eq!(found.median(), None);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn from_summary(mean: Ratio, sd: f64, n: usize, level: f64) -> Result<Statistics, Error> {
        let level = checked(level)?;
        if !(sd.is_finite() && sd >= 0.0) {
            return Err(out_of_range(
                format!("{sd} is not a standard deviation"),
                "give a number that is not negative, such as 0.037",
            ));
        }
        if !(2..=MOST_SUMMARISED).contains(&n) {
            return Err(out_of_range(
                format!("{n} is not a possible number of values"),
                "give the number of values, from 2 to 1,000,000",
            ));
        }
        Ok(Statistics::about(n, mean, Some(sd), level))
    }

    fn about(n: usize, mean: Ratio, sd: Option<f64>, level: f64) -> Statistics {
        let count = n as f64;
        let t = sd.and_then(|_| t_two_sided(level, count - 1.0));
        Statistics {
            n,
            mean,
            sd,
            t,
            half_width: sd.zip(t).map(|(sd, t)| t * sd / libm::sqrt(count)),
            median: None,
            mad: None,
            grubbs: None,
            dixon: None,
            generalized_esd: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// Returns the number of values.
    #[must_use]
    pub fn n(&self) -> usize {
        self.n
    }

    /// Returns the arithmetic mean.
    #[must_use]
    pub fn mean(&self) -> &Ratio {
        &self.mean
    }

    /// Returns the median; `None` if only a summary was given.
    #[must_use]
    pub fn median(&self) -> Option<&Ratio> {
        self.median.as_ref()
    }

    /// Returns the median absolute deviation from the median, unscaled; `None` below two values and if
    /// only a summary was given.
    #[must_use]
    pub fn mad(&self) -> Option<&Ratio> {
        self.mad.as_ref()
    }

    /// Returns the sample standard deviation (n − 1); `None` below two values.
    #[must_use]
    pub fn sd(&self) -> Option<f64> {
        self.sd
    }

    /// Returns the two-sided point of Student's t with n − 1 degrees of freedom; `None` below two values.
    #[must_use]
    pub fn t(&self) -> Option<f64> {
        self.t
    }

    /// Returns half the width of the interval, t·s/√n; `None` below two values.
    #[must_use]
    pub fn half_width(&self) -> Option<f64> {
        self.half_width
    }

    /// Returns the confidence interval of the mean; `None` below two values.
    #[must_use]
    pub fn interval(&self) -> Option<(f64, f64)> {
        let centre = self.mean.to_f64();
        self.half_width.map(|half| (centre - half, centre + half))
    }

    /// Returns the result of Grubbs' test; `None` below three values and if only a summary was given.
    #[must_use]
    pub fn grubbs(&self) -> Option<&Suspect> {
        self.grubbs.as_ref()
    }

    /// Returns the result of Dixon's test by r10; `None` below three values, above ten, and if only a
    /// summary was given.
    #[must_use]
    pub fn dixon(&self) -> Option<&Suspect> {
        self.dixon.as_ref()
    }

    /// Returns the steps of the generalised test for several outliers, as many as a quarter of the values
    /// and ten at most; empty below eight values and if only a summary was given.
    ///
    /// Each step tests the values that the steps before it left. The number of outliers is that of the
    /// last step whose suspect [is an outlier](Suspect::is_outlier): it and all suspects before it are.
    ///
    /// ```
    /// use effloresce::{Ratio, class::{Statistics, Tails}};
    /// let ratios: Vec<Ratio> = ["7.02", "6.95", "6.98", "7.05", "7.01", "6.97", "8.38", "5.29"]
    ///     .iter()
    ///     .map(|text| text.parse())
    ///     .collect::<Result<_, _>>()?;
    /// let found = Statistics::of(&ratios, 0.95)?;
    /// // Each of the two hides the other from Grubbs' test.
    /// assert!(!found.grubbs().unwrap().is_outlier(Tails::Two));
    /// let steps = found.generalized_esd();
    /// let outliers = steps.iter().rposition(|step| step.is_outlier(Tails::Two));
    /// assert_eq!(outliers, Some(1));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn generalized_esd(&self) -> &[Suspect] {
        &self.generalized_esd
    }

    /// Returns notes: `no_spread` if all values are equal.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }
}

#[cold]
fn out_of_range(message: alloc::string::String, help: &'static str) -> Error {
    Error::new(ErrorKind::BadSummary, Detail::new(message).help(help))
}

#[cfg(test)]
mod tests {
    use alloc::string::ToString;

    use super::super::level::HIGHEST_LEVEL;
    use super::*;
    use crate::class::Tails;

    fn of(texts: &[&str]) -> Statistics {
        let values: Vec<Ratio> = texts.iter().map(|text| text.parse().unwrap()).collect();
        Statistics::of(&values, 0.95).unwrap()
    }

    #[track_caller]
    fn about(found: Option<f64>, expected: f64) {
        let found = found.unwrap();
        assert!((found - expected).abs() < 5e-7, "{found} {expected}");
    }

    /// One bench far off: mean 6.62, deviations 0.40, 0.33, 0.36, 0.43, −1.52; their squares add to
    /// 2.8938, so that s² = 0.72345; G = 1.52/0.850559; r10 = 1.85/1.95.
    #[test]
    fn five_benches_by_hand() {
        let found = of(&["7.02", "6.95", "6.98", "7.05", "5.10"]);
        assert_eq!(found.n(), 5);
        assert_eq!(found.mean().to_string(), "6.62");
        assert_eq!(found.median().unwrap().to_string(), "6.98");
        assert_eq!(found.mad().unwrap().to_string(), "0.04");
        about(found.sd(), 0.723_45_f64.sqrt());
        let grubbs = found.grubbs().unwrap();
        assert_eq!(grubbs.value().unwrap().to_string(), "5.1");
        about(grubbs.statistic(), 1.52 / 0.723_45_f64.sqrt());
        about(Some(grubbs.critical(Tails::Two)), 1.715_037_3);
        about(Some(grubbs.critical(Tails::One)), 1.671_386_1);
        let dixon = found.dixon().unwrap();
        assert_eq!(dixon.value().unwrap().to_string(), "5.1");
        about(dixon.statistic(), 1.85 / 1.95);
        assert!(grubbs.is_outlier(Tails::Two) && dixon.is_outlier(Tails::Two));
    }

    #[test]
    fn few_values_say_little() {
        let one = of(&["7.02"]);
        assert_eq!(one.mean(), one.median().unwrap());
        assert_eq!((one.sd(), one.t(), one.interval()), (None, None, None));
        assert_eq!((one.mad(), one.half_width()), (None, None));
        let two = of(&["7.02", "6.98"]);
        assert_eq!(two.mad().unwrap().to_string(), "0.02");
        about(two.sd(), 0.02 * 2_f64.sqrt());
        about(two.t(), 12.706_204_7);
        assert_eq!((two.grubbs(), two.dixon()), (None, None));
        let three = of(&["7.02", "6.98", "7.00"]);
        assert!(three.grubbs().is_some() && three.dixon().is_some());
        let eleven = of(&["1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11"]);
        assert!(eleven.grubbs().is_some() && eleven.dixon().is_none());
    }

    #[test]
    fn equal_values_have_no_suspect_and_no_nan() {
        let found = of(&["7.00", "7", "7.0", "21/3"]);
        assert_eq!((found.sd(), found.half_width()), (Some(0.0), Some(0.0)));
        assert_eq!(found.interval(), Some((7.0, 7.0)));
        assert!(found.mad().unwrap().is_zero());
        for suspect in [found.grubbs().unwrap(), found.dixon().unwrap()] {
            assert_eq!((suspect.value(), suspect.statistic()), (None, None));
            assert!(!suspect.is_outlier(Tails::One) && suspect.critical(Tails::One) > 0.0);
        }
        assert_eq!(found.notes()[0].code(), "no_spread");
        assert!(of(&["7", "7"]).notes().is_empty());
    }

    #[test]
    fn of_two_ends_alike_the_lower_is_named() {
        let found = of(&["3", "1", "2"]);
        for suspect in [found.grubbs().unwrap(), found.dixon().unwrap()] {
            assert_eq!(suspect.value(), Some(&Ratio::ONE));
        }
    }

    /// What a formula of sums of squares would lose: eight figures before the first that differs.
    #[test]
    fn nothing_cancels_and_nothing_overflows() {
        let far = of(&["100000000.02", "99999999.98", "100000000.00"]);
        about(far.sd(), 0.02);
        let found = of(&["1e30", "-1e30", "3e-30"]);
        assert!((found.sd().unwrap() / 1e30 - 1.0).abs() < 1e-15);
        let found = of(&["1e-30", "2e-30", "3e-30"]);
        assert!((found.sd().unwrap() / 1e-30 - 1.0).abs() < 1e-15);
        about(found.grubbs().unwrap().statistic(), 1.0);
    }

    #[test]
    fn everything_is_finite_at_every_level() {
        let pool: Vec<Ratio> = (0..MOST_VALUES).map(|i| Ratio::from(i as u64)).collect();
        for n in [2, 3, 4, 5, 7, 10, 11, 30, 100, 1000, MOST_VALUES] {
            for level in [1e-300, 1e-9, 0.01, 0.5, 0.9, 0.99, 0.999, HIGHEST_LEVEL] {
                let found = Statistics::of(&pool[..n], level).unwrap();
                assert!(
                    found
                        .half_width()
                        .is_some_and(|h| h.is_finite() && h >= 0.0)
                );
                for suspect in found.grubbs().iter().chain(&found.dixon()) {
                    let one = suspect.critical(Tails::One);
                    let two = suspect.critical(Tails::Two);
                    assert!(0.0 <= one && one < two && two.is_finite(), "{n} {level}");
                }
            }
        }
        let many = Statistics::from_summary(Ratio::ONE, 1.0, MOST_SUMMARISED, 0.95).unwrap();
        about(many.t(), 1.959_966);
    }

    #[track_caller]
    fn refused(found: Result<Statistics, Error>, kind: ErrorKind, message: &str) {
        let error = found.unwrap_err();
        assert_eq!((error.kind(), error.to_string().as_str()), (kind, message));
        assert!(error.help().is_some());
    }

    #[test]
    fn what_is_refused() {
        let seven = [Ratio::from(7)];
        for (level, shown) in [(0.0, "0"), (1.0, "1"), (95.0, "95"), (f64::NAN, "NaN")] {
            let message = format!("{shown} is not a level of confidence");
            let found = Statistics::of(&seven, level);
            refused(found, ErrorKind::BadLevel, &message);
        }
        let found = Statistics::of(&[], 0.95);
        refused(found, ErrorKind::NoValues, "there are no values");
        let many = alloc::vec![Ratio::ONE; MOST_VALUES + 1];
        let message = "there are 10001 values, and at most 10000 are taken";
        let found = Statistics::of(&many, 0.95);
        refused(found, ErrorKind::TooManyValues, message);
        let summary = |sd, n| Statistics::from_summary(Ratio::ONE, sd, n, 0.95);
        let message = "-1 is not a standard deviation";
        refused(summary(-1.0, 5), ErrorKind::BadSummary, message);
        let message = "inf is not a standard deviation";
        refused(summary(f64::INFINITY, 5), ErrorKind::BadSummary, message);
        for n in [0, 1, MOST_SUMMARISED + 1] {
            let message = format!("{n} is not a possible number of values");
            refused(summary(0.1, n), ErrorKind::BadSummary, &message);
        }
    }
}
