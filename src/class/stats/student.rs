//! Points of Student's t and of χ².

use statrs::distribution::{ChiSquared, Continuous, ContinuousCDF, StudentsT};

/// Returns the t that is exceeded with this probability, which is at most a half.
pub(super) fn t_exceeded(probability: f64, freedom: f64) -> Option<f64> {
    let student = StudentsT::new(0.0, 1.0, freedom).ok()?;
    if !(0.0..=0.5).contains(&probability) {
        return None;
    }
    // Adding to zero turns a negative zero, which a probability of a half gives, into zero.
    let mut t = 0.0 - student.inverse_cdf(probability);
    // The inverse has few correct digits for many degrees of freedom and far out in the tail. Newton's
    // steps give it the precision of the distribution. They use logarithms, because the tail is a power.
    for _ in 0..NEWTON_STEPS {
        let above = student.sf(t);
        let step = libm::log(above / probability) * above / (t * student.pdf(t));
        if step.is_finite() {
            t *= libm::exp(step.clamp(-1.0, 1.0));
        }
    }
    Some(t).filter(|t| t.is_finite())
}

const NEWTON_STEPS: u32 = 4;

/// Returns the t of a two-sided interval at this level of confidence.
pub(super) fn t_two_sided(level: f64, freedom: f64) -> Option<f64> {
    t_exceeded((1.0 - level) / 2.0, freedom)
}

/// Returns the probability that χ² exceeds this statistic.
pub(super) fn chi_squared_exceeds(statistic: f64, freedom: f64) -> Option<f64> {
    ChiSquared::new(freedom).ok().map(|c| c.sf(statistic))
}

/// Returns the χ² that is exceeded with this probability.
pub(super) fn chi_squared_exceeded(probability: f64, freedom: f64) -> Option<f64> {
    ChiSquared::new(freedom)
        .ok()
        .map(|c| c.inverse_cdf(1.0 - probability))
        .filter(|point| point.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// For many degrees of freedom t follows from the normal point z: z + (z³ + z)/4ν +
    /// (5z⁵ + 16z³ + 3z)/96ν² (M. Abramowitz and I. Stegun, Handbook of Mathematical Functions,
    /// 26.7.5).
    #[test]
    fn many_degrees_of_freedom_keep_their_figures() {
        let z: f64 = 1.959_963_984_540_054;
        for freedom in [999.0, 9_999.0, 99_999.0, 999_999.0] {
            let first = (z.powi(3) + z) / (4.0 * freedom);
            let second = (5.0 * z.powi(5) + 16.0 * z.powi(3) + 3.0 * z) / (96.0 * freedom.powi(2));
            let t = t_two_sided(0.95, freedom).unwrap();
            let apart = t - (z + first + second);
            assert!(apart.abs() < 1e-7, "{freedom}: {apart}");
        }
    }

    /// With one and with two degrees of freedom t has a closed form.
    #[test]
    fn few_degrees_of_freedom_keep_their_tails() {
        for probability in [0.5, 0.3, 0.025, 1e-4, 1e-7, 1e-10] {
            let one = 1.0 / (core::f64::consts::PI * probability).tan();
            let inside = 1.0 - 2.0 * probability;
            let two = inside * (0.5 / (probability * (1.0 - probability))).sqrt();
            for (freedom, exact) in [(1.0, one), (2.0, two)] {
                let t = t_exceeded(probability, freedom).unwrap();
                let apart = (t - exact).abs() / exact.max(1.0);
                assert!(apart < 1e-9, "{freedom} {probability}: {t} {exact}");
            }
        }
    }
}
