//! Exact fractions: `i128` while they fit, big integers beyond.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use core::cmp::Ordering;
use core::ops::{Add, Mul, Neg, Sub};

use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{One, Signed, ToPrimitive, Zero};

use super::small::SmallRatio;
use super::terms::{Terms, order, product, sum};
use super::ties::{TieRule, nearest};

/// An exact fraction of any size.
///
/// Sums, products and quotients of readings and atomic weights are never rounded on the way:
/// `1/3 · 3` is one. A value that does not fit two `i128` is kept in big integers, so no operation
/// can overflow.
///
/// `+`, `-` and `*` take values, references and whole numbers. A whole number that comes first is an
/// `i64`. [`checked_div`](Ratio::checked_div) divides. A reference can be compared with a whole number:
/// `&x > 3`.
///
/// ```
/// use effloresce::Ratio;
/// let third: Ratio = "1/3".parse()?;
/// assert_eq!(&third * 3, Ratio::ONE);
/// assert!(&third > 0 && &(2 * &third + 1) < 2);
/// assert_eq!(third.to_string(), "1/3");
/// assert_eq!("2.50".parse::<Ratio>()?.to_string(), "2.5");
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Ratio(Repr);

/// `Big` holds only what does not fit `Small`, in lowest terms, so equality and hashing can be derived.
#[derive(Clone, PartialEq, Eq, Hash)]
enum Repr {
    Small(SmallRatio),
    Big(Box<(BigInt, BigInt)>),
}

impl Ratio {
    /// The number zero.
    pub const ZERO: Ratio = Ratio(Repr::Small(SmallRatio::ZERO));
    /// The number one.
    pub const ONE: Ratio = Ratio(Repr::Small(SmallRatio::ONE));

    /// Returns the fraction `numerator / denominator` in lowest terms; `None` if the denominator is zero.
    ///
    /// ```
    /// # use effloresce::Ratio;
    /// assert_eq!(Ratio::new(6, 4).unwrap().to_string(), "1.5");
    /// assert!(Ratio::new(1, 0).is_none());
    /// ```
    #[must_use]
    pub fn new(numerator: i128, denominator: i128) -> Option<Ratio> {
        if denominator == 0 {
            return None;
        }
        match SmallRatio::new(numerator, denominator) {
            Some(small) => Some(Ratio(Repr::Small(small))),
            None => Ratio::from(numerator).checked_div(&Ratio::from(denominator)),
        }
    }

    /// Returns the fraction of a numerator and a denominator that are in lowest terms.
    fn from_big((numerator, denominator): (BigInt, BigInt)) -> Ratio {
        let parts = numerator.to_i128().zip(denominator.to_i128());
        match parts.and_then(|(n, d)| SmallRatio::lowest(n, d)) {
            Some(small) => Ratio(Repr::Small(small)),
            None => Ratio(Repr::Big(Box::new((numerator, denominator)))),
        }
    }

    /// Returns a whole number of any size as a fraction.
    pub(crate) fn from_whole(value: BigInt) -> Ratio {
        Self::from_big((value, BigInt::one()))
    }

    /// Returns the numerator and the denominator.
    fn to_big(&self) -> (BigInt, BigInt) {
        match &self.0 {
            Repr::Small(small) => (small.numerator().into(), small.denominator().into()),
            Repr::Big(big) => (**big).clone(),
        }
    }

    /// Returns the denominator in lowest terms, which is positive.
    pub(crate) fn denominator(&self) -> Ratio {
        match &self.0 {
            Repr::Small(small) => Ratio::from(small.denominator()),
            Repr::Big(big) => Self::from_whole(big.1.clone()),
        }
    }

    fn combine(
        &self,
        other: &Ratio,
        small: impl Fn(Terms<'_, i128>, Terms<'_, i128>) -> Option<(i128, i128)>,
        big: impl Fn(Terms<'_, BigInt>, Terms<'_, BigInt>) -> Option<(BigInt, BigInt)>,
    ) -> Ratio {
        if let (Repr::Small(one), Repr::Small(other)) = (&self.0, &other.0) {
            let ((a, b), (c, d)) = (one.parts(), other.parts());
            let parts = small((&a, &b), (&c, &d));
            if let Some(result) = parts.and_then(|(n, d)| SmallRatio::lowest(n, d)) {
                return Ratio(Repr::Small(result));
            }
        }
        let ((a, b), (c, d)) = (self.to_big(), other.to_big());
        // Big integers hold every result.
        big((&a, &b), (&c, &d)).map_or(Ratio::ZERO, Self::from_big)
    }

    /// Returns the quotient; `None` if `divisor` is zero.
    ///
    /// ```
    /// # use effloresce::Ratio;
    /// let x = Ratio::from(7).checked_div(&Ratio::from(2)).unwrap();
    /// assert_eq!(x.to_string(), "3.5");
    /// assert!(x.checked_div(&Ratio::ZERO).is_none());
    /// ```
    #[must_use]
    pub fn checked_div(&self, divisor: &Ratio) -> Option<Ratio> {
        let upside_down = divisor.reciprocal()?;
        Some(self.combine(&upside_down, product, product))
    }

    fn reciprocal(&self) -> Option<Ratio> {
        match &self.0 {
            Repr::Small(small) => small.reciprocal().map(|small| Ratio(Repr::Small(small))),
            Repr::Big(big) => {
                let (numerator, denominator) = &**big;
                let sign = numerator.signum();
                Some(Self::from_big((denominator * &sign, numerator * sign)))
            }
        }
    }

    /// Returns `units · 10^exponent`.
    pub(super) fn of_units(units: i128, exponent: i32) -> Ratio {
        match SmallRatio::power_of_ten(-exponent) {
            Some(power) if exponent < 0 => Ratio::new(units, power.numerator()).unwrap_or_default(),
            _ => Ratio::power_of_ten(exponent) * units,
        }
    }

    /// Returns ten to the power `exponent`.
    pub(crate) fn power_of_ten(exponent: i32) -> Ratio {
        if let Some(power) = SmallRatio::power_of_ten(exponent) {
            return Ratio(Repr::Small(power));
        }
        let power = Self::from_whole(big_power_of_ten(exponent.unsigned_abs()));
        if exponent < 0 {
            Ratio::ONE.checked_div(&power).unwrap_or(Ratio::ZERO)
        } else {
            power
        }
    }

    /// Returns whether this is zero.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        *self == Ratio::ZERO
    }

    /// Returns whether this is negative.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        match &self.0 {
            Repr::Small(small) => small.numerator() < 0,
            Repr::Big(big) => big.0.is_negative(),
        }
    }

    /// Returns whether this is positive.
    #[must_use]
    pub fn is_positive(&self) -> bool {
        !self.is_zero() && !self.is_negative()
    }

    /// Returns whether this is a whole number.
    #[must_use]
    pub fn is_integer(&self) -> bool {
        match &self.0 {
            Repr::Small(small) => small.is_integer(),
            Repr::Big(big) => big.1.is_one(),
        }
    }

    /// Returns the absolute value.
    #[must_use]
    pub fn abs(&self) -> Ratio {
        if self.is_negative() {
            -self
        } else {
            self.clone()
        }
    }

    /// Returns the greatest whole number that is not greater than this.
    #[must_use]
    pub fn floor(&self) -> Ratio {
        match &self.0 {
            Repr::Small(small) => Ratio::from(small.floor()),
            Repr::Big(big) => Self::from_whole(big.0.div_floor(&big.1)),
        }
    }

    /// Returns the least whole number that is not less than this.
    #[must_use]
    pub fn ceil(&self) -> Ratio {
        -&(-self).floor()
    }

    /// Returns the shortest decimal that reads back as this binary floating-point number; `None` if it
    /// is not finite.
    ///
    /// ```
    /// # use effloresce::Ratio;
    /// assert_eq!(Ratio::from_float(0.1).unwrap().to_string(), "0.1");
    /// assert!(Ratio::from_float(f64::NAN).is_none());
    /// ```
    #[must_use]
    pub fn from_float(value: f64) -> Option<Ratio> {
        if !value.is_finite() {
            return None;
        }
        let text = format!("{value:e}");
        let (digits, exponent) = text.split_once('e')?;
        let decimal_places = digits
            .split_once('.')
            .map_or(0, |(_, decimals)| decimals.len());
        let mantissa: i128 = digits.replace('.', "").parse().ok()?;
        let exponent = exponent.parse::<i32>().ok()? - i32::try_from(decimal_places).ok()?;
        Some(Ratio::power_of_ten(exponent) * mantissa)
    }

    /// Returns the nearest binary floating-point number, for uncertainties and statistics only.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        match &self.0 {
            Repr::Small(small) => small.numerator() as f64 / small.denominator() as f64,
            Repr::Big(_) => {
                // 25 figures are more than an `f64` can tell apart.
                let places = 24 - self.decimal_exponent().unwrap_or(0);
                let (units, _) = self.nearest_units(places, TieRule::Even);
                let text = format!("{}e{}", units.integer_digits(), -places);
                text.parse().unwrap_or(f64::NAN)
            }
        }
    }

    /// Returns the value if it is a whole number and fits.
    #[must_use]
    pub fn to_i128(&self) -> Option<i128> {
        match &self.0 {
            Repr::Small(small) if small.is_integer() => Some(small.numerator()),
            _ => None,
        }
    }

    /// Returns numerator and denominator in lowest terms, if both fit an `i128`.
    #[must_use]
    pub fn to_parts(&self) -> Option<(i128, i128)> {
        match &self.0 {
            Repr::Small(small) => Some((small.numerator(), small.denominator())),
            Repr::Big(_) => None,
        }
    }

    /// Returns the number of decimal places that write this exactly; `None` if no decimal does.
    pub(crate) fn exact_decimal_places(&self) -> Option<u32> {
        let mut denominator = match &self.0 {
            Repr::Small(small) => return small.exact_decimal_places(),
            Repr::Big(big) => big.1.clone(),
        };
        let mut powers = [0_u32; 2];
        for (power, prime) in powers.iter_mut().zip([2, 5]) {
            let prime = BigInt::from(prime);
            while (&denominator % &prime).is_zero() {
                denominator /= &prime;
                *power += 1;
            }
        }
        denominator.is_one().then(|| powers[0].max(powers[1]))
    }

    /// Returns the whole number nearest to `self · 10^places` by `ties`, and whether the other rule
    /// gives another one.
    pub(super) fn nearest_units(&self, decimal_places: i32, ties: TieRule) -> (Ratio, bool) {
        let small = match &self.0 {
            Repr::Small(small) => small.scaled(decimal_places),
            Repr::Big(_) => None,
        };
        if let Some((numerator, denominator)) = small {
            let (units, differ) = nearest(&numerator, &denominator, ties);
            return (Ratio::from(units), differ);
        }
        let (mut numerator, mut denominator) = self.to_big();
        let scaled = if decimal_places < 0 {
            &mut denominator
        } else {
            &mut numerator
        };
        *scaled *= big_power_of_ten(decimal_places.unsigned_abs());
        let (units, differ) = nearest(&numerator, &denominator, ties);
        (Self::from_whole(units), differ)
    }

    /// Returns the digits of a whole number, with its sign.
    pub(super) fn integer_digits(&self) -> String {
        match &self.0 {
            Repr::Small(small) => small.floor().to_string(),
            Repr::Big(big) => big.0.to_string(),
        }
    }

    /// Returns the text `p/q`.
    pub(super) fn parts_text(&self) -> String {
        match &self.0 {
            Repr::Small(small) => format!("{}/{}", small.numerator(), small.denominator()),
            Repr::Big(big) => format!("{}/{}", big.0, big.1),
        }
    }

    /// Returns `floor(log10 |self|)`, exact; `None` for zero.
    pub(crate) fn decimal_exponent(&self) -> Option<i32> {
        let big = match &self.0 {
            Repr::Small(small) => return small.decimal_exponent(),
            Repr::Big(big) => big,
        };
        let guess = digits(&big.0) - digits(&big.1);
        // The quotient of an m-digit and an n-digit number lies in (10^(m-n-1), 10^(m-n+1)).
        Some(if self.abs() >= Ratio::power_of_ten(guess) {
            guess
        } else {
            guess - 1
        })
    }
}

fn digits(number: &BigInt) -> i32 {
    let text = number.magnitude().to_string();
    i32::try_from(text.len()).unwrap_or(i32::MAX)
}

fn big_power_of_ten(exponent: u32) -> BigInt {
    BigInt::from(10).pow(exponent)
}

macro_rules! operator {
    ($operator:ident, $method:ident, |$one:ident, $other:ident| $result:expr) => {
        impl $operator<&Ratio> for &Ratio {
            type Output = Ratio;
            fn $method(self, $other: &Ratio) -> Ratio {
                let $one = self;
                $result
            }
        }
    };
}
operator!(Add, add, |one, other| one.combine(other, sum, sum));
operator!(Sub, sub, |one, other| one.combine(&-other, sum, sum));
operator!(Mul, mul, |one, other| one.combine(other, product, product));

impl Neg for &Ratio {
    type Output = Ratio;
    fn neg(self) -> Ratio {
        match &self.0 {
            Repr::Small(small) => Ratio(Repr::Small(small.neg())),
            Repr::Big(big) => Ratio::from_big((-&big.0, big.1.clone())),
        }
    }
}

impl Neg for Ratio {
    type Output = Ratio;
    fn neg(self) -> Ratio {
        -&self
    }
}

impl Ord for Ratio {
    fn cmp(&self, other: &Ratio) -> Ordering {
        if let (Repr::Small(one), Repr::Small(other)) = (&self.0, &other.0) {
            let ((a, b), (c, d)) = (one.parts(), other.parts());
            if let Some(order) = order((&a, &b), (&c, &d)) {
                return order;
            }
        }
        let ((a, b), (c, d)) = (self.to_big(), other.to_big());
        (a * d).cmp(&(c * b))
    }
}

impl PartialOrd for Ratio {
    fn partial_cmp(&self, other: &Ratio) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Default for Ratio {
    fn default() -> Self {
        Ratio::ZERO
    }
}

impl From<i128> for Ratio {
    fn from(value: i128) -> Ratio {
        match SmallRatio::lowest(value, 1) {
            Some(small) => Ratio(Repr::Small(small)),
            None => Self::from_whole(value.into()),
        }
    }
}

macro_rules! from_integer {
    ($($integer:ty),+) => {
        $(impl From<$integer> for Ratio {
            fn from(value: $integer) -> Ratio {
                Ratio::from(i128::from(value))
            }
        })+
    };
}
from_integer!(i32, u32, i64, u64);

#[cfg(test)]
mod tests {
    use super::*;

    fn ratio(text: &str) -> Ratio {
        text.parse().unwrap()
    }

    #[test]
    fn goes_on_in_big_integers_and_comes_back() {
        let large = Ratio::from(i128::MAX);
        let product = &large * &large;
        assert!(matches!(product.0, Repr::Big(_)));
        let back = product.checked_div(&large).unwrap();
        assert!(matches!(back.0, Repr::Small(_)));
        assert_eq!(back, large);
        let sum = &large + &large;
        assert_eq!(&sum - &large, large);
        assert_eq!(sum.to_string(), "340282366920938463463374607431768211454");
        assert_eq!(sum.to_f64(), 340282366920938463463374607431768211454.0);
        let long = &Ratio::power_of_ten(400) + &Ratio::ONE;
        let third = long.checked_div(&(&Ratio::from(-3) * &Ratio::power_of_ten(400)));
        assert_eq!(third.as_ref().map(Ratio::to_f64), Some(-1.0 / 3.0));
        let back = third.and_then(|third| Ratio::ONE.checked_div(&third));
        assert!(back.is_some_and(|back| back > Ratio::from(-3) && back.is_negative()));
    }

    #[test]
    fn the_least_integer_is_exact() {
        let least = Ratio::new(i128::MIN, 1).unwrap();
        assert_eq!(
            (-&least).to_string(),
            "170141183460469231731687303715884105728"
        );
        assert_eq!(Ratio::new(i128::MIN, i128::MIN), Some(Ratio::ONE));
        assert_eq!(&Ratio::from(-i128::MAX) - &Ratio::ONE, least);
        assert_eq!(least.floor(), least);
        assert_eq!(
            Ratio::new(-i128::MAX, 2).unwrap().floor().to_string(),
            "-85070591730234615865843651857942052864"
        );
    }

    #[test]
    fn order_and_floor() {
        assert!(ratio("1/3") < ratio("0.34"));
        assert_eq!(ratio("-1/3").floor(), Ratio::from(-1));
        assert_eq!(ratio("-1/3").ceil(), Ratio::ZERO);
        assert_eq!(ratio("7/2").ceil(), Ratio::from(4));
    }
}
