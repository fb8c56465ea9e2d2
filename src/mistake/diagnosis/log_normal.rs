//! The densities of the likelihood: log-normal sizes, normal noise, and the scatter between benches.

use super::super::fault_sizes::{HeavyTailed, VISIBLE_FROM};

/// The degrees of freedom of the scatter between benches. Its tails are lighter than those of the
/// simulator, and heavier than normal ones, so that one odd bench is not accused.
const DEGREES: f64 = 8.0;

/// The density of [`student`] at 0, for a standard deviation of 1: Γ(9/2) / (√(6 π) Γ(4)).
const STUDENT_PEAK: f64 = 0.446_541;

/// The steps of a normal deviate over which a density is averaged, and how far they go.
const STEP: f64 = 0.6;
const STEPS: i32 = 5;

/// A positive quantity whose logarithm is normal.
#[derive(Debug, Clone, Copy)]
pub(super) struct LogNormal {
    /// The logarithm of the median.
    ln_median: f64,
    spread: f64,
}

impl LogNormal {
    /// The part of a `whole` in this row of the table, without its heavy tails.
    pub(super) fn part(row: &HeavyTailed, whole: f64) -> LogNormal {
        LogNormal {
            ln_median: libm::log(whole * row.centre),
            spread: row.spread,
        }
    }

    /// The same for a balance with this division, which shows only effects that are large enough.
    pub(super) fn visible(row: &HeavyTailed, whole: f64, division: f64) -> LogNormal {
        let shown = (whole * row.centre).max(VISIBLE_FROM.centre * division);
        LogNormal {
            ln_median: libm::log(shown),
            spread: row.spread,
        }
    }

    /// The same of a quantity times a factor.
    pub(super) fn times(self, factor: f64) -> LogNormal {
        LogNormal {
            ln_median: self.ln_median + libm::log(factor),
            ..self
        }
    }

    /// Makes the logarithm vary by this factor more.
    pub(super) fn wider(self, factor: f64) -> LogNormal {
        LogNormal {
            spread: self.spread * factor,
            ..self
        }
    }

    /// The density of the logarithm.
    pub(super) fn of_log(&self, ln: f64) -> f64 {
        normal(ln - self.ln_median, self.spread)
    }

    /// The density at a value; 0 if it is not positive.
    pub(super) fn density(&self, value: f64) -> f64 {
        if value > 0.0 {
            self.of_log(libm::log(value)) / value
        } else {
            0.0
        }
    }

    /// The probability of a smaller logarithm.
    pub(super) fn below_log(&self, ln: f64) -> f64 {
        let z = (ln - self.ln_median) / self.spread;
        0.5 * libm::erfc(-z * core::f64::consts::FRAC_1_SQRT_2)
    }

    /// Values that stand for all, evenly spaced in their logarithm, each with its weight.
    pub(super) fn values(&self) -> impl Iterator<Item = (f64, f64)> + use<> {
        let LogNormal { ln_median, spread } = *self;
        normal_steps().map(move |(z, weight)| (libm::exp(ln_median + spread * z), weight))
    }

    /// The density of the sum of a value and a normal deviate with this standard deviation.
    pub(super) fn blurred(&self, value: f64, deviation: f64) -> f64 {
        let near = normal_steps().map(|(z, weight)| weight * self.density(value + deviation * z));
        near.sum()
    }
}

/// Deviates from −3 to 3 with their weights, whose sum is near 1.
fn normal_steps() -> impl Iterator<Item = (f64, f64)> {
    (-STEPS..=STEPS).map(|step| {
        let z = STEP * f64::from(step);
        (z, STEP * normal(z, 1.0))
    })
}

/// The height of a normal density divided by that of its peak.
pub(super) fn bell(value: f64, deviation: f64) -> f64 {
    let z = value / deviation;
    libm::exp(-0.5 * z * z)
}

/// The area under a [`bell`].
pub(super) fn bell_area(deviation: f64) -> f64 {
    const ROOT_OF_TAU: f64 = 2.506_628_274_631_000_7;
    deviation * ROOT_OF_TAU
}

/// The normal density.
pub(super) fn normal(value: f64, deviation: f64) -> f64 {
    bell(value, deviation) / bell_area(deviation)
}

/// The density of Student's t, scaled to this standard deviation.
pub(super) fn student(value: f64, deviation: f64) -> f64 {
    let z = value / deviation;
    let base = 1.0 + z * z / (DEGREES - 2.0);
    let fourth = (base * base) * (base * base);
    STUDENT_PEAK / (deviation * fourth * libm::sqrt(base))
}

#[cfg(test)]
mod tests {
    use super::super::super::fault_sizes::SOLID_LOST;
    use super::*;

    /// The areas under the densities are 1, by the rule of rectangles.
    #[test]
    fn densities_have_an_area_of_one() {
        let size = LogNormal::part(&SOLID_LOST, 1.0);
        let area = |density: &dyn Fn(f64) -> f64| -> f64 {
            (-200_000..200_000)
                .map(|n| 1e-5 * density(1e-5 * f64::from(n)))
                .sum()
        };
        let areas = [
            area(&|x| student(x, 0.05)),
            area(&|x| normal(x, 0.05)),
            area(&|x| size.density(x)),
            area(&|x| size.blurred(x, 0.005)),
        ];
        for area in areas {
            assert!((area - 1.0).abs() < 0.005, "{areas:?}");
        }
        // The variance of the scaled t is 1.
        let variance = area(&|x| x * x * student(x, 0.05)) / (0.05 * 0.05);
        assert!((variance - 1.0).abs() < 0.01, "{variance}");
        assert!((size.below_log(libm::log(0.022)) - 0.5).abs() < 1e-12);
    }
}
