//! Fractions of two `i128`: the form that nearly every value has. What does not fit is `None`.

use core::cmp::Ordering;
use core::num::NonZero;

/// A fraction in lowest terms. The numerator is never the least `i128`, whose size has no `i128`,
/// and the denominator is no larger than the greatest.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Small {
    numerator: i128,
    /// That it is never nought lets the large form of a ratio stand in the same place.
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

impl Small {
    pub(super) const ZERO: Small = Small::small_whole(0);
    pub(super) const ONE: Small = Small::small_whole(1);

    /// A whole number that certainly fits.
    pub(super) const fn small_whole(value: i64) -> Small {
        Small {
            numerator: value as i128,
            denominator: NonZero::<u128>::MIN,
        }
    }

    /// Reduces `numerator / denominator`.
    pub(super) fn new(numerator: i128, denominator: i128) -> Option<Small> {
        if denominator == i128::MIN {
            return None;
        }
        let common = gcd(numerator, denominator);
        let signed = if denominator < 0 { -common } else { common };
        Small::lowest(numerator.checked_div(signed)?, denominator / signed)
    }

    /// A fraction that nothing can be cancelled from.
    pub(super) fn lowest(numerator: i128, denominator: i128) -> Option<Small> {
        let denominator = NonZero::new(u128::try_from(denominator).ok()?)?;
        (numerator != i128::MIN).then_some(Small {
            numerator,
            denominator,
        })
    }

    pub(super) fn power_of_ten(exponent: i32) -> Option<Small> {
        let power = power_of_ten(exponent.unsigned_abs())?;
        if exponent < 0 {
            Small::lowest(1, power)
        } else {
            Small::lowest(power, 1)
        }
    }

    pub(super) const fn numerator(self) -> i128 {
        self.numerator
    }

    pub(super) const fn denominator(self) -> i128 {
        self.denominator.get() as i128
    }

    const fn parts(self) -> (i128, i128) {
        (self.numerator(), self.denominator())
    }

    pub(super) const fn is_integer(self) -> bool {
        self.denominator.get() == 1
    }

    pub(super) fn floor(self) -> i128 {
        self.numerator.div_euclid(self.denominator())
    }

    pub(super) const fn neg(self) -> Small {
        Small {
            numerator: -self.numerator,
            ..self
        }
    }

    /// Only what the denominators share can be cancelled from the sum (D. E. Knuth, The Art of
    /// Computer Programming, volume 2, section 4.5.1).
    pub(super) fn add(self, other: Small) -> Option<Small> {
        let ((a, b), (c, d)) = (self.parts(), other.parts());
        let shared = gcd(b, d);
        let rest = over(b, shared);
        let sum = a
            .checked_mul(over(d, shared))?
            .checked_add(c.checked_mul(rest)?)?;
        let common = gcd(sum, shared);
        Small::lowest(over(sum, common), rest.checked_mul(over(d, common))?)
    }

    pub(super) fn sub(self, other: Small) -> Option<Small> {
        self.add(other.neg())
    }

    /// Only what stands crosswise can be cancelled from the product.
    pub(super) fn mul(self, other: Small) -> Option<Small> {
        let ((a, b), (c, d)) = (self.parts(), other.parts());
        let (falling, rising) = (gcd(a, d), gcd(c, b));
        Small::lowest(
            over(a, falling).checked_mul(over(c, rising))?,
            over(b, rising).checked_mul(over(d, falling))?,
        )
    }

    pub(super) fn div(self, other: Small) -> Option<Small> {
        let sign = other.numerator.signum();
        let upside_down = Small::lowest(other.denominator() * sign, other.numerator * sign)?;
        self.mul(upside_down)
    }

    /// By cross-multiplication.
    pub(super) fn compare(self, other: Small) -> Option<Ordering> {
        let ((a, b), (c, d)) = (self.parts(), other.parts());
        if b == d {
            return Some(a.cmp(&c));
        }
        Some(a.checked_mul(d)?.cmp(&c.checked_mul(b)?))
    }

    /// `self · 10^places` as two whole numbers, not reduced.
    pub(super) fn scaled(self, places: i32) -> Option<(i128, i128)> {
        let power = power_of_ten(places.unsigned_abs())?;
        let (numerator, denominator) = self.parts();
        Some(if places < 0 {
            (numerator, denominator.checked_mul(power)?)
        } else {
            (numerator.checked_mul(power)?, denominator)
        })
    }

    /// `floor(log10 |self|)`; `None` for nought.
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

    /// How many decimal places write this exactly; `None` where no decimal does.
    pub(super) fn exact_places(self) -> Option<u32> {
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

/// The quotient of a number and one of its divisors, most of which are one.
fn over(number: i128, divisor: i128) -> i128 {
    if divisor == 1 {
        number
    } else {
        number / divisor
    }
}

/// The greatest common divisor of the sizes of two numbers above the least `i128`; at least one,
/// where not both are nought.
fn gcd(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a.unsigned_abs(), b.unsigned_abs());
    if a == 1 || b == 1 {
        return 1;
    }
    // Euclid's steps until both are half as long, which few numbers need.
    while let (Err(_), _) | (_, Err(_)) = (u64::try_from(a), u64::try_from(b)) {
        if b == 0 {
            return a as i128;
        }
        (a, b) = (b, a % b);
    }
    i128::from(short_gcd(a as u64, b as u64))
}

/// By halving and subtracting (Knuth, section 4.5.2, algorithm B).
fn short_gcd(a: u64, b: u64) -> u64 {
    if a == 0 || b == 0 {
        return a | b;
    }
    let twos = (a | b).trailing_zeros();
    let (mut a, mut b) = (a >> a.trailing_zeros(), b >> b.trailing_zeros());
    while a != b {
        let apart = a.abs_diff(b);
        b = a.min(b);
        a = apart >> apart.trailing_zeros();
    }
    a << twos
}
