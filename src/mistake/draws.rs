//! Uniform and normal deviates from a seed.
//!
//! The same seed gives the same deviates on every machine. The generator is `ChaCha` with 8 rounds.
//! Only operations are used that IEEE 754 rounds in one way, and functions of `libm`, which are written
//! in such operations. (x87 registers, which keep more digits, are the exception.)

use chacha20::ChaCha8Rng;
use chacha20::rand_core::{Rng, SeedableRng};

/// A source of deviates.
pub(super) struct Draws(ChaCha8Rng);

impl Draws {
    pub(super) fn new(seed: u64) -> Draws {
        Draws(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A number from 0 to below 1, in steps of 2⁻⁵³.
    fn unit(&mut self) -> f64 {
        const STEPS: f64 = (1_u64 << 53) as f64;
        (self.0.next_u64() >> 11) as f64 / STEPS
    }

    /// A number between two limits; all values are equally likely.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A normal deviate with mean 0 and standard deviation 1, from two draws (G. Box and M. Muller,
    /// Ann. Math. Stat. 1958, 29, 610).
    pub(super) fn normal(&mut self) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(1.0 - self.unit()));
        radius * libm::cos(core::f64::consts::TAU * self.unit())
    }

    /// A deviate of Student's t with four degrees of freedom: a normal one divided by the root of a quarter
    /// of the chi-square of two exponential deviates.
    pub(super) fn t4(&mut self) -> f64 {
        let normal = self.normal();
        let product = (1.0 - self.unit()) * (1.0 - self.unit());
        normal / libm::sqrt(-0.5 * libm::log(product)).max(f64::MIN_POSITIVE)
    }

    /// Returns `true` with this probability.
    pub(super) fn chance(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    /// One of the items, all equally likely; `None` if there are none.
    pub(super) fn one_of<'t, T>(&mut self, items: &'t [T]) -> Option<&'t T> {
        let at = self.unit() * items.len() as f64;
        items.get(at as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean, variance and fourth moment of a normal deviate: 0, 1 and 3; of 100,000 draws, each
    /// within five of its own standard deviations.
    #[test]
    fn normal_deviates_are_normal() {
        let mut draws = Draws::new(1);
        let n = 100_000;
        let mut sums = [0.0; 3];
        for _ in 0..n {
            let z = draws.normal();
            sums[0] += z;
            sums[1] += z * z;
            sums[2] += z * z * z * z;
        }
        let root = libm::sqrt(f64::from(n));
        let found = sums.map(|sum| sum / f64::from(n));
        // The variances of z, z² and z⁴ are 1, 2 and 96.
        for (found, (expected, sd)) in found.iter().zip([(0.0, 1.0), (1.0, 1.414), (3.0, 9.8)]) {
            assert!((found - expected).abs() < 5.0 * sd / root, "{found}");
        }
    }

    #[test]
    fn uniform_deviates_stay_within_their_limits() {
        let mut draws = Draws::new(2);
        let mut seen = [0_u32; 4];
        for _ in 0..4_000 {
            let x = draws.between(2.0, 6.0);
            assert!((2.0..6.0).contains(&x));
            seen[x as usize - 2] += 1;
        }
        assert!(
            seen.iter().all(|count| (850..1150).contains(count)),
            "{seen:?}"
        );
        assert_eq!(draws.one_of::<u8>(&[]), None);
    }

    /// The bits, not a float's decimal digits: what every machine must find.
    #[test]
    fn the_same_seed_gives_the_same_deviates() {
        let mut draws = Draws::new(3);
        let found = [draws.normal(), draws.normal(), draws.between(0.0, 1.0)];
        let pinned = [
            4_608_166_083_237_792_757,
            4_605_054_990_341_021_334,
            4_603_543_426_843_605_310,
        ];
        assert_eq!(found.map(f64::to_bits), pinned);
    }
}
