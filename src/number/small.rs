//! Fractions of two `i128`, which nearly every value is. A result that does not fit is `None`.

use core::num::NonZero;

use super::terms::WholeNumber;

/// A fraction in lowest terms. The numerator is never the least `i128`, because that has no opposite.
/// The denominator fits an `i128`.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct SmallRatio {
    numerator: i128,
    /// Because it is never zero, a ratio of either size takes no more memory than this.
    denominator: NonZero<u128>,
}

/// The powers of ten that fit an `i128`.
const POWERS: [i128; 39] = {
    let mut powers = [1; 39];
    let mut at = 1;
    while at < powers.len() {
        powers[at] = powers[at - 1] * 10;
        at += 1;
    }
    powers
};

fn power_of_ten(exponent: u32) -> Option<i128> {
    POWERS.get(usize::try_from(exponent).ok()?).copied()
}

impl SmallRatio {
    pub(super) const ZERO: SmallRatio = SmallRatio::of_integer(0);
    pub(super) const ONE: SmallRatio = SmallRatio::of_integer(1);

    /// Returns a whole number, which certainly fits.
    const fn of_integer(value: i64) -> SmallRatio {
        SmallRatio {
            numerator: value as i128,
            denominator: NonZero::<u128>::MIN,
        }
    }

    /// Reduces `numerator / denominator`.
    pub(super) fn new(numerator: i128, denominator: i128) -> Option<SmallRatio> {
        if denominator == i128::MIN {
            return None;
        }
        let common = numerator.common_divisor(&denominator);
        let (numerator, denominator) = (
            numerator.exact_quotient(&common),
            denominator.exact_quotient(&common),
        );
        if denominator < 0 {
            SmallRatio::lowest(numerator.checked_neg()?, -denominator)
        } else {
            SmallRatio::lowest(numerator, denominator)
        }
    }

    /// Returns a fraction that is in lowest terms already.
    pub(super) fn lowest(numerator: i128, denominator: i128) -> Option<SmallRatio> {
        let denominator = NonZero::new(u128::try_from(denominator).ok()?)?;
        (numerator != i128::MIN).then_some(SmallRatio {
            numerator,
            denominator,
        })
    }

    pub(super) fn power_of_ten(exponent: i32) -> Option<SmallRatio> {
        let power = power_of_ten(exponent.unsigned_abs())?;
        if exponent < 0 {
            SmallRatio::lowest(1, power)
        } else {
            SmallRatio::lowest(power, 1)
        }
    }

    pub(super) const fn numerator(self) -> i128 {
        self.numerator
    }

    pub(super) const fn denominator(self) -> i128 {
        self.denominator.get() as i128
    }

    pub(super) const fn parts(self) -> (i128, i128) {
        (self.numerator(), self.denominator())
    }

    pub(super) const fn is_integer(self) -> bool {
        self.denominator.get() == 1
    }

    pub(super) fn floor(self) -> i128 {
        self.numerator.div_euclid(self.denominator())
    }

    pub(super) const fn neg(self) -> SmallRatio {
        SmallRatio {
            numerator: -self.numerator,
            ..self
        }
    }

    /// Returns one divided by this; `None` for zero.
    pub(super) fn reciprocal(self) -> Option<SmallRatio> {
        let sign = self.numerator.signum();
        SmallRatio::lowest(self.denominator() * sign, self.numerator * sign)
    }

    /// Returns `self · 10^places` as two whole numbers, not reduced.
    pub(super) fn scaled(self, decimal_places: i32) -> Option<(i128, i128)> {
        let power = power_of_ten(decimal_places.unsigned_abs())?;
        let (numerator, denominator) = self.parts();
        Some(if decimal_places < 0 {
            (numerator, denominator.checked_mul(power)?)
        } else {
            (numerator.checked_mul(power)?, denominator)
        })
    }

    /// Returns `floor(log10 |self|)`; `None` for zero.
    pub(super) fn decimal_exponent(self) -> Option<i32> {
        let (size, below) = (self.numerator.unsigned_abs(), self.denominator.get());
        let digits = |n: u128| Some(n.checked_ilog10()? as i32);
        let guess = digits(size)? - digits(below)?;
        // The quotient of an m-digit and an n-digit number lies in (10^(m-n-1), 10^(m-n+1)).
        let power = power_of_ten(guess.unsigned_abs())?.unsigned_abs();
        let reached = if guess < 0 {
            size.checked_mul(power).is_none_or(|size| size >= below)
        } else {
            below.checked_mul(power).is_some_and(|least| size >= least)
        };
        Some(if reached { guess } else { guess - 1 })
    }

    /// Returns the number of decimal places that write this exactly; `None` if no decimal does.
    pub(super) fn exact_decimal_places(self) -> Option<u32> {
        let below = self.denominator.get();
        let twos = below.trailing_zeros();
        let mut rest = below >> twos;
        let mut fives = 0;
        while rest % 5 == 0 {
            rest /= 5;
            fives += 1;
        }
        (rest == 1).then_some(twos.max(fives))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// At the ends of what fits, where the comparison itself does not.
    #[test]
    fn decimal_exponents() {
        let exponent = |n, d| SmallRatio::new(n, d).and_then(SmallRatio::decimal_exponent);
        assert_eq!(exponent(0, 7), None);
        assert_eq!((exponent(1, 1), exponent(-9, 10)), (Some(0), Some(-1)));
        assert_eq!(
            (exponent(999, 100), exponent(-1000, 100)),
            (Some(0), Some(1))
        );
        // 10^38 < 1.7·10^38, the greatest number.
        assert_eq!(exponent(i128::MAX, 1), Some(38));
        assert_eq!(exponent(i128::MAX, 2), Some(37));
        assert_eq!(exponent(i128::MAX, 5), Some(37));
        assert_eq!(exponent(1, i128::MAX), Some(-39));
        assert_eq!(exponent(2, i128::MAX), Some(-38));
        assert_eq!(exponent(5, i128::MAX), Some(-38));
    }

    #[test]
    fn decimal_places() {
        let places = |d| SmallRatio::new(1, d).and_then(SmallRatio::exact_decimal_places);
        assert_eq!([1, 2, 5, 80, 1000].map(places), [0, 1, 1, 4, 3].map(Some));
        assert_eq!([3, 6, 7000].map(places), [None; 3]);
    }

    /// A denominator of zero marks the large form of a ratio.
    #[test]
    fn no_memory_is_lost() {
        assert_eq!(size_of::<super::super::Ratio>(), size_of::<SmallRatio>());
    }
}
