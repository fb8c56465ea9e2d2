//! Sums and products of fractions in lowest terms, for whole numbers of any size. Nothing is
//! multiplied or cancelled that the result does not need.

use core::cmp::Ordering;

use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{CheckedAdd, CheckedMul, Signed, ToPrimitive, Zero};

/// A whole number that fractions can be made of.
pub(super) trait WholeNumber: CheckedAdd + CheckedMul + Ord {
    /// Returns the greatest common divisor; positive unless both numbers are zero.
    fn common_divisor(&self, other: &Self) -> Self;

    /// Returns the quotient by a divisor that leaves no remainder.
    fn exact_quotient(&self, divisor: &Self) -> Self;

    /// Returns the quotient rounded down, by a positive divisor, and the remainder.
    fn floor_and_remainder(&self, divisor: &Self) -> (Self, Self)
    where
        Self: Sized;
}

/// Numerator and denominator in lowest terms; the denominator is positive.
pub(super) type Terms<'a, N> = (&'a N, &'a N);

/// Returns the sum. Only a common divisor of the denominators can be cancelled from it (D. E. Knuth, The Art of Computer
/// Programming, volume 2, section 4.5.1).
pub(super) fn sum<N: WholeNumber>((a, b): Terms<'_, N>, (c, d): Terms<'_, N>) -> Option<(N, N)> {
    let shared = b.common_divisor(d);
    let rest = b.exact_quotient(&shared);
    let sum = a
        .checked_mul(&d.exact_quotient(&shared))?
        .checked_add(&c.checked_mul(&rest)?)?;
    let common = sum.common_divisor(&shared);
    Some((
        sum.exact_quotient(&common),
        rest.checked_mul(&d.exact_quotient(&common))?,
    ))
}

/// Returns the product. Only a common divisor of one numerator and the other denominator can be
/// cancelled from it.
pub(super) fn product<N: WholeNumber>(
    (a, b): Terms<'_, N>,
    (c, d): Terms<'_, N>,
) -> Option<(N, N)> {
    let (a_and_d, c_and_b) = (a.common_divisor(d), c.common_divisor(b));
    Some((
        a.exact_quotient(&a_and_d)
            .checked_mul(&c.exact_quotient(&c_and_b))?,
        b.exact_quotient(&c_and_b)
            .checked_mul(&d.exact_quotient(&a_and_d))?,
    ))
}

/// Compares two fractions by cross-multiplication.
pub(super) fn order<N: WholeNumber>(
    (a, b): Terms<'_, N>,
    (c, d): Terms<'_, N>,
) -> Option<Ordering> {
    if b == d {
        return Some(a.cmp(c));
    }
    Some(a.checked_mul(d)?.cmp(&c.checked_mul(b)?))
}

impl WholeNumber for i128 {
    /// At most one number may be zero or the least `i128`.
    fn common_divisor(&self, other: &i128) -> i128 {
        gcd(self.unsigned_abs(), other.unsigned_abs()) as i128
    }

    fn exact_quotient(&self, divisor: &i128) -> i128 {
        if *divisor == 1 { *self } else { self / divisor }
    }

    fn floor_and_remainder(&self, divisor: &i128) -> (i128, i128) {
        // The remainder costs a multiplication instead of a second division.
        let quotient = self / divisor;
        let rest = self - quotient * divisor;
        if rest < 0 {
            (quotient - 1, rest + divisor)
        } else {
            (quotient, rest)
        }
    }
}

impl WholeNumber for BigInt {
    fn common_divisor(&self, other: &BigInt) -> BigInt {
        let (short, long) = if self.magnitude() < other.magnitude() {
            (self, other)
        } else {
            (other, self)
        };
        if short.is_zero() {
            return long.abs();
        }
        // One of the two numbers is usually far shorter than the other.
        let rest = long % short;
        let small = |number: &BigInt| number.magnitude().to_u128();
        match small(short).zip(small(&rest)) {
            Some((short, rest)) => gcd(short, rest).into(),
            None => short.gcd(&rest),
        }
    }

    fn exact_quotient(&self, divisor: &BigInt) -> BigInt {
        self / divisor
    }

    fn floor_and_remainder(&self, divisor: &BigInt) -> (BigInt, BigInt) {
        self.div_mod_floor(divisor)
    }
}

fn gcd(mut a: u128, mut b: u128) -> u128 {
    if a == 1 || b == 1 {
        return 1;
    }
    // Few numbers need these steps of Euclid's, after which both are half as long.
    loop {
        match (u64::try_from(a), u64::try_from(b)) {
            (Ok(a), Ok(b)) => return short_gcd(a, b).into(),
            _ if b == 0 => return a,
            _ => (a, b) = (b, a % b),
        }
    }
}

/// One step of Euclid's, since one number is usually shorter, and then halving and subtracting
/// (Knuth, section 4.5.2, algorithm B).
fn short_gcd(a: u64, b: u64) -> u64 {
    let (short, long) = (a.min(b), a.max(b));
    let Some(rest) = long.checked_rem(short).filter(|rest| *rest > 0) else {
        return if short == 0 { long } else { short };
    };
    let twos = (short | rest).trailing_zeros();
    let mut a = short >> short.trailing_zeros();
    let mut b = rest >> rest.trailing_zeros();
    while a != b {
        let apart = a.wrapping_sub(b);
        let zeros = apart.trailing_zeros();
        (a, b) = (a.abs_diff(b) >> zeros, a.min(b));
    }
    a << twos
}

#[cfg(test)]
mod tests {
    use super::*;

    fn euclid(a: u128, b: u128) -> u128 {
        if b == 0 { a } else { euclid(b, a % b) }
    }

    #[test]
    fn divisors_of_every_length() {
        let halves = u128::from(u64::MAX);
        let mut numbers = alloc::vec![
            0,
            1,
            2,
            3,
            10,
            360,
            halves - 1,
            halves,
            halves + 1,
            1 << 127
        ];
        numbers.extend((0..30).map(|power| 6 * 10_u128.pow(power)));
        numbers.extend((1..20).map(|n| i128::MAX.unsigned_abs() / n));
        let mut common = 0;
        for a in &numbers {
            for b in &numbers {
                assert_eq!(gcd(*a, *b), euclid(*a, *b), "{a} and {b}");
                common += usize::from(gcd(*a, *b) > 1);
            }
        }
        assert!(common > 1000, "{common}");
    }

    #[test]
    fn the_remainder_is_never_negative() {
        for (numerator, floor, rest) in [(7, 2, 1), (-7, -3, 2), (6, 2, 0), (-6, -2, 0)] {
            assert_eq!(numerator.floor_and_remainder(&3_i128), (floor, rest));
            let big = BigInt::from(numerator).floor_and_remainder(&3.into());
            assert_eq!(big, (floor.into(), rest.into()));
        }
        let least = -i128::MAX;
        assert_eq!(least.floor_and_remainder(&3), (least / 3 - 1, 2));
    }
}
