//! Dixon's test by r10: the gap next to the farthest value, divided by the range.
//!
//! W. J. Dixon, Ann. Math. Stat. 1950, 21, 488 and 1951, 22, 68; D. B. Rorabacher, Anal. Chem.
//! 1991, 63, 139. Critical values are worked out from the distribution, because printed tables have
//! misprints.

use std::sync::OnceLock;

use super::centre::Centre;

/// The fewest values that r10 is used for.
pub(super) const LEAST: usize = 3;
/// The most values that r10 is used for.
pub(super) const MOST: usize = 10;

/// Returns the index of the value with the wider gap next to it (the lower of two alike) and r10;
/// `None` if all values are equal.
pub(super) fn statistic(centre: &Centre) -> Option<(usize, f64)> {
    let [low, second, ..] = centre.sorted.as_slice() else {
        return None;
    };
    let [.., second_last, high] = centre.sorted.as_slice() else {
        return None;
    };
    let (below, above) = (second - low, high - second_last);
    let (index, gap) = if above > below {
        (centre.n() - 1, above)
    } else {
        (0, below)
    };
    Some((index, gap.checked_div(&(high - low))?.to_f64()))
}

/// Returns the r10 that one chosen end of `n` normal values exceeds with this probability.
pub(super) fn critical(n: usize, tail: f64) -> Option<f64> {
    /// The tails of the tests at 95 %, two-tailed and one-tailed, which every class needs.
    const USUAL: [f64; 2] = [0.025, 0.05];
    static KNOWN: [[OnceLock<f64>; MOST - LEAST + 1]; 2] =
        [const { [const { OnceLock::new() }; MOST - LEAST + 1] }; 2];
    let place = n.checked_sub(LEAST).filter(|_| n <= MOST)?;
    let usual = USUAL.iter().position(|u| (u - tail).abs() < 1e-14);
    match usual.and_then(|row| KNOWN.get(row)?.get(place)) {
        Some(known) => Some(*known.get_or_init(|| solve(n, tail))),
        None => Some(solve(n, tail)),
    }
}

/// Solves by bisection: the probability falls from one to zero as the ratio rises from zero to one.
fn solve(n: usize, tail: f64) -> f64 {
    let plane = Plane::of(n);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let ratio = 0.5 * (low + high);
        if plane.exceeds(ratio) > tail {
            low = ratio;
        } else {
            high = ratio;
        }
    }
    0.5 * (low + high)
}

/// The number of steps of the bisection, which reach 10⁻¹²: the integral is as precise as that.
const HALVINGS: u32 = 40;

/// The points of the double integral.
///
/// With the least value at v − w/2 and the greatest at v + w/2, the gap beside the least exceeds
/// R·w if all others lie in the rest of the range, so that
///
/// P(r10 > R) = n(n−1)/(2π) ∫ exp(−w²/4) ∫ exp(−v²) [Φ(v + w/2) − Φ(v + (R − ½)w)]ⁿ⁻² dv dw.
///
/// Both integrals are sums at equal steps, which is the best rule for a smooth integrand that
/// vanishes at both ends. For w the substitution w = exp(s − exp(−s)) (H. Takahasi and M. Mori,
/// Publ. RIMS 1974, 9, 721) makes it vanish at zero, too.
struct Plane {
    others: i32,
    factor: f64,
}

const STEP_V: f64 = 0.25;
const STEP_S: f64 = 0.08;

impl Plane {
    fn of(n: usize) -> Plane {
        let n = n as f64;
        Plane {
            others: n as i32 - 2,
            factor: n * (n - 1.0) / core::f64::consts::TAU * STEP_V * STEP_S,
        }
    }

    /// Returns the probability that r10 of one chosen end exceeds `ratio`.
    fn exceeds(&self, ratio: f64) -> f64 {
        let mut sum = 0.0;
        // The steps go from w below 10⁻⁹ to w above 13, where exp(−w²/4) no longer counts.
        for i in -38_i32..=33 {
            let s = f64::from(i) * STEP_S;
            let w = libm::exp(s - libm::exp(-s));
            let slope = w * (1.0 + libm::exp(-s));
            let weight = slope * libm::exp(-0.25 * w * w);
            let mut inner = 0.0;
            for j in -24_i32..=24 {
                let v = f64::from(j) * STEP_V;
                let rest = between(v + (ratio - 0.5) * w, v + 0.5 * w);
                inner += libm::exp(-v * v) * rest.powi(self.others);
            }
            sum += weight * inner;
        }
        self.factor * sum
    }
}

/// Returns the probability that a standard normal value is between two bounds, in order.
fn between(low: f64, high: f64) -> f64 {
    let above = |x: f64| 0.5 * libm::erfc(x * core::f64::consts::FRAC_1_SQRT_2);
    // The tail in which both probabilities are small keeps the digits of their difference.
    if low > 0.0 {
        above(low) - above(high)
    } else {
        above(-high) - above(-low)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Dixon 1951: for three values the density is (3√3/2π)/(r² − r + 1), so that the point which
    /// is exceeded with probability q is (1 + √3 tan(π(1 − q)/3 − π/6))/2.
    #[test]
    fn three_values_have_a_closed_form() {
        for tail in [0.5, 0.1, 0.05, 0.025, 0.005, 0.0005, 5e-7] {
            let pi = core::f64::consts::PI;
            let angle = pi * (1.0 - tail) / 3.0 - pi / 6.0;
            let exact = 0.5 * (1.0 + 3_f64.sqrt() * angle.tan());
            let found = critical(3, tail).unwrap();
            assert!((found - exact).abs() < 1e-11, "{tail}: {found} {exact}");
        }
    }

    /// Every r10 is above zero, and none is above one.
    #[test]
    fn the_whole_probability_is_one() {
        for n in LEAST..=MOST {
            let plane = Plane::of(n);
            let whole = plane.exceeds(0.0);
            assert!((whole - 1.0).abs() < 1e-12, "{n}: {whole}");
            assert!(plane.exceeds(1.0).abs() < 1e-12);
        }
    }
}
