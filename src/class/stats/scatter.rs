//! Whether benches scatter more than their own uncertainties explain.

use alloc::vec::Vec;

use super::level::{LEAST_FOR_SPREAD, LEVEL};
use super::student::{chi_squared_exceeded, chi_squared_exceeds};
use crate::number::Ratio;

/// The χ² test of homogeneity: whether several results scatter about their weighted mean by more
/// than their own standard uncertainties explain.
///
/// The statistic is Q = Σ((x − x̄)/u)², where x̄ is the mean weighted by 1/u². For results that
/// differ by their uncertainties only, it follows χ² with n − 1 degrees of freedom (W. G. Cochran,
/// Biometrics 1954, 10, 101). Scatter above the 95 % point means that something else acts on the
/// benches. The test does not show what.
///
/// ```
/// use effloresce::class::ExcessScatter;
/// let benches: Vec<_> = ["6.8", "7.2", "6.9", "7.3", "6.8"]
///     .iter()
///     .map(|x| Ok((x.parse()?, 0.05)))
///     .collect::<Result<_, effloresce::number::Error>>()?;
/// let test = ExcessScatter::of(&benches).unwrap();
/// // Mean 7; 0.04 + 0.04 + 0.01 + 0.09 + 0.04 = 0.22; over 0.0025.
/// assert!((test.statistic() - 88.0).abs() < 1e-9);
/// assert!(test.is_excess());
/// // s² = 0.22/4 = 0.055, of which 0.0025 is the benches' own.
/// assert!((test.extra_sd() - 0.0525_f64.sqrt()).abs() < 1e-9);
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct ExcessScatter {
    n: usize,
    mean: f64,
    statistic: f64,
    critical: f64,
    p_value: f64,
    extra_sd: f64,
    /// The repeatability that the uncertainties contain, and the one that explains the scatter.
    repeatability: Option<[f64; 2]>,
}

impl ExcessScatter {
    /// The name of the test.
    pub const TEST: &'static str = "chi_squared_homogeneity";

    /// Tests results, each with its standard uncertainty.
    ///
    /// Returns `None` below five results, and if an uncertainty is not positive or its square is not a
    /// normal floating-point number (it is one from 1.5·10⁻¹⁵⁴ to 1.3·10¹⁵⁴). Returns `None`, too, if the
    /// statistic or the mean would not be finite, because the results are too large, or too far apart
    /// for their uncertainties.
    #[must_use]
    pub fn of(results: &[(Ratio, f64)]) -> Option<ExcessScatter> {
        let n = results.len();
        // The square of a small number may be zero, and that of a large one infinite.
        let usable = |u: f64| u > 0.0 && (u * u).is_normal();
        if n < LEAST_FOR_SPREAD || !results.iter().all(|(_, u)| usable(*u)) {
            return None;
        }
        let mut sorted: Vec<&Ratio> = results.iter().map(|(x, _)| x).collect();
        sorted.sort();
        let origin = (*sorted.get(n / 2)?).clone();
        // The distances from one of the results are exact, so only small numbers are squared.
        let points: Vec<(f64, f64)> = results
            .iter()
            .map(|(x, u)| ((x - &origin).to_f64(), u * u))
            .collect();
        let (centre, statistic) = weighted(&points, 0.0);
        let mean = origin.to_f64() + centre;
        if !(mean.is_finite() && statistic.is_finite()) {
            return None;
        }
        let freedom = n as f64 - 1.0;
        Some(ExcessScatter {
            n,
            mean,
            statistic,
            critical: chi_squared_exceeded(1.0 - LEVEL, freedom)?,
            p_value: chi_squared_exceeds(statistic, freedom)?,
            extra_sd: extra(&points, statistic, freedom),
            repeatability: None,
        })
    }

    /// Says which repeatability of the method the uncertainties contain, and by how much the results change
    /// with the relative mass of water.
    pub(super) fn with_repeatability(mut self, relative: f64, by_water: f64) -> ExcessScatter {
        let further = self.extra_sd / by_water;
        self.repeatability = Some([relative, libm::hypot(relative, further)]);
        self
    }

    /// Returns the number of results.
    #[must_use]
    pub fn n(&self) -> usize {
        self.n
    }

    /// Returns the mean weighted by 1/u².
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// Returns Q: the sum of the squared deviations from the weighted mean, each in units of its own
    /// uncertainty.
    #[must_use]
    pub fn statistic(&self) -> f64 {
        self.statistic
    }

    /// Returns the degrees of freedom, n − 1.
    #[must_use]
    pub fn degrees_of_freedom(&self) -> usize {
        self.n.saturating_sub(1)
    }

    /// Returns the critical value, the 95 % point of χ².
    #[must_use]
    pub fn critical(&self) -> f64 {
        self.critical
    }

    /// Returns the probability of a statistic as large as this if nothing else acts.
    #[must_use]
    pub fn p_value(&self) -> f64 {
        self.p_value
    }

    /// Returns whether the statistic exceeds the critical value.
    #[must_use]
    pub fn is_excess(&self) -> bool {
        self.statistic > self.critical
    }

    /// Returns the standard deviation between benches that would explain the scatter, in quadrature with
    /// each one's own uncertainty (R. C. Paule and J. Mandel, J. Res. Natl. Bur. Stand. 1982, 87, 377).
    /// It is 0 if their own uncertainties explain it.
    #[must_use]
    pub fn extra_sd(&self) -> f64 {
        self.extra_sd
    }

    /// Returns the method's own repeatability that the uncertainties of the benches of a class contain:
    /// the standard deviation of the mass of water, relative to it. It is the one that the method
    /// [states](crate::gravimetry::Method::repeatability), otherwise 0.003 (common practice, no source).
    /// `None` if the results were given with their uncertainties.
    #[must_use]
    pub fn repeatability(&self) -> Option<f64> {
        self.repeatability.map(|[contained, _]| contained)
    }

    /// Returns the repeatability of the mass of water that explains the scatter: the one that the
    /// uncertainties contain and the further standard deviation, in quadrature. It can be given to
    /// [`Method::repeatability`](crate::gravimetry::Method::repeatability) to plan another class. `None` if the
    /// results were given with their uncertainties.
    ///
    /// ```
    /// use effloresce::class::{Marker, Sheet};
    /// use effloresce::gravimetry::Method;
    /// let text = "bench,hydrate_g,residue_g\n\
    ///     Heron,2.666,1.303\nWren,2.701,1.359\nFinch,2.688,1.315\nRook,2.640,1.262\nLark,2.655,1.320\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
    /// let repeatability = marked.excess_scatter().unwrap().repeatability_shown().unwrap();
    /// // The ratios have s = 0.2642. Divided by the mean of x(1 + w/s), with w/s the mass ratio of water to
    /// // residue, this is 1.87 %.
    /// assert!((repeatability - 0.0187).abs() < 0.0001);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn repeatability_shown(&self) -> Option<f64> {
        self.repeatability.map(|[_, shown]| shown)
    }
}

/// Returns the weighted mean and Q, with this variance added to each.
fn weighted(points: &[(f64, f64)], added: f64) -> (f64, f64) {
    let weights: f64 = points.iter().map(|(_, v)| 1.0 / (v + added)).sum();
    let sum: f64 = points.iter().map(|(x, v)| x / (v + added)).sum();
    let mean = sum / weights;
    let q = points
        .iter()
        .map(|(x, v)| (x - mean) * (x - mean) / (v + added))
        .sum();
    (mean, q)
}

/// Returns the deviation whose square brings Q down to its degrees of freedom. Q falls as variance is
/// added, so bisection finds it.
fn extra(points: &[(f64, f64)], statistic: f64, freedom: f64) -> f64 {
    if statistic <= freedom {
        return 0.0;
    }
    let furthest = points
        .iter()
        .fold(0.0, |most: f64, (x, _)| most.max(x.abs()));
    // If the square of twice the largest distance is added, Q is at most n/4.
    let (mut low, mut high) = (0.0, 2.0 * furthest);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if weighted(points, middle * middle).1 > freedom {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn results(of: &[(&str, f64)]) -> Vec<(Ratio, f64)> {
        of.iter().map(|(x, u)| (x.parse().unwrap(), *u)).collect()
    }

    /// Weights 100, 100, 25, 25, 400 for the uncertainties 0.1, 0.1, 0.2, 0.2, 0.05: the mean is
    /// (710 + 690 + 185 + 165 + 2800)/650 = 7, and Q = 1 + 1 + 4 + 4 + 0.
    #[test]
    fn each_bench_counts_by_its_own_uncertainty() {
        let of = [
            ("7.1", 0.1),
            ("6.9", 0.1),
            ("7.4", 0.2),
            ("6.6", 0.2),
            ("7.0", 0.05),
        ];
        let test = ExcessScatter::of(&results(&of)).unwrap();
        assert!((test.mean() - 7.0).abs() < 1e-12, "{}", test.mean());
        assert!((test.statistic() - 10.0).abs() < 1e-9);
        assert_eq!((test.n(), test.degrees_of_freedom()), (5, 4));
        assert!((test.critical() - 9.487_729).abs() < 1e-6);
        // exp(−Q/2)(1 + Q/2) for four degrees of freedom.
        assert!((test.p_value() - 6.0 * (-5.0_f64).exp()).abs() < 1e-9);
        assert!(test.is_excess());
        // The definition: with the extra variance Q is its expectation.
        let extra = test.extra_sd() * test.extra_sd();
        let weights = of.map(|(_, u)| 1.0 / (u * u + extra));
        let values = [7.1, 6.9, 7.4, 6.6, 7.0];
        let sum: f64 = weights.iter().sum();
        let mean = weights.iter().zip(values).map(|(w, x)| w * x).sum::<f64>() / sum;
        let q: f64 = weights
            .iter()
            .zip(values)
            .map(|(w, x)| w * (x - mean) * (x - mean))
            .sum();
        assert!((q - 4.0).abs() < 1e-9, "{q}");
    }

    #[test]
    fn scatter_below_what_is_expected_needs_nothing_more() {
        let of = [
            ("7.00", 0.1),
            ("7.01", 0.1),
            ("6.99", 0.1),
            ("7", 0.1),
            ("7", 0.1),
        ];
        let test = ExcessScatter::of(&results(&of)).unwrap();
        assert!(!test.is_excess());
        assert_eq!(test.extra_sd().to_bits(), 0.0_f64.to_bits());
        let equal = ExcessScatter::of(&results(&[("7", 0.1); 5])).unwrap();
        assert_eq!(equal.statistic().to_bits(), 0.0_f64.to_bits());
        assert!((equal.p_value() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn few_benches_and_no_uncertainty_are_not_tested() {
        assert_eq!(ExcessScatter::of(&results(&[("7", 0.1); 4])), None);
        for wrong in [0.0, -0.1, f64::NAN, f64::INFINITY] {
            let mut of = [("7", 0.1); 6];
            of[3].1 = wrong;
            assert_eq!(ExcessScatter::of(&results(&of)), None);
        }
    }

    #[test]
    fn no_figure_is_ever_infinite_or_no_number() {
        let thirty: Ratio = "1e30".parse().unwrap();
        let large = |times| (0..times).fold(Ratio::ONE, |product, _| &product * &thirty);
        let seven = Ratio::from(7);
        let equal = [(); 5].map(|()| seven.clone());
        let apart = ["7", "7.1", "7.2", "6.9", "6.8"].map(|x| x.parse().unwrap());
        let [mut far, mut beyond] = [equal.clone(), equal.clone()];
        far[0] = large(10);
        beyond[..3].fill(large(14));
        for (values, tested) in [(equal, true), (apart, true), (far, false), (beyond, false)] {
            for power in -330..=310 {
                let u: f64 = alloc::format!("1e{power}").parse().unwrap();
                let test = ExcessScatter::of(&values.clone().map(|x| (x, u)));
                if (-100..=100).contains(&power) {
                    assert_eq!(test.is_some(), tested, "{values:?} {u}");
                }
                if !(-153..=154).contains(&power) {
                    assert_eq!(test, None, "{values:?} {u}");
                }
                let Some(test) = test else { continue };
                let (mean, extra, p) = (test.mean(), test.extra_sd(), test.p_value());
                for figure in [mean, test.statistic(), test.critical(), extra, p] {
                    assert!(figure.is_finite(), "{values:?} {u}: {test:?}");
                }
                assert!((0.0..=1.0).contains(&p), "{values:?} {u}: {p}");
            }
        }
    }

    /// 95 % points of χ² (common statistical table; NIST/SEMATECH e-Handbook of Statistical
    /// Methods, 1.3.6.7.4); the largest by E. B. Wilson and M. M. Hilferty, PNAS 1931, 17, 684.
    #[test]
    fn the_critical_value_is_the_tabulated_one() {
        for (n, tabulated, by) in [
            (5, 9.488, 0.0005),
            (11, 18.307, 0.0005),
            (31, 43.773, 0.0005),
            (101, 124.342, 0.0005),
            (20_001, 20_329.9, 0.5),
        ] {
            let pool = alloc::vec![(Ratio::ONE, 0.1); n];
            let critical = ExcessScatter::of(&pool).unwrap().critical();
            assert!((critical - tabulated).abs() < by, "{n}: {critical}");
        }
    }
}
