//! The school's rule for uncertainties: absolute ones add in sums, relative ones in products.

use core::ops::{Add, Sub};

use super::ratio::Ratio;
use super::reading::Reading;

/// What the school's linear rule takes as the uncertainty of one reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum LinearRule {
    /// Half the last place read.
    HalfDivision,
    /// One unit of the last place read.
    OneDivision,
}

impl LinearRule {
    /// The largest error of one reading on a balance with this division.
    #[must_use]
    pub fn of(self, division: &Ratio) -> Ratio {
        match self {
            LinearRule::HalfDivision => division * &Ratio::new(1, 2).unwrap_or_default(),
            LinearRule::OneDivision => division.clone(),
        }
    }
}

/// A value with a largest error either way, carried through a calculation by the linear rule:
/// absolute errors add in sums and differences, relative errors in products and quotients. It
/// knows nothing of shared readings, so it overstates: that is the rule.
///
/// ```
/// use effloresce::number::{Bounded, LinearRule};
/// let rule = LinearRule::HalfDivision;
/// let read = |text: &str| Ok::<_, effloresce::number::Error>(Bounded::read(&text.parse()?, rule));
/// let water = &read("24.018")? - &read("22.655")?;
/// assert_eq!(water.absolute().to_string(), "0.001");
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bounded {
    value: Ratio,
    absolute: Ratio,
}

impl Bounded {
    /// A reading, with half or one unit of its last place.
    #[must_use]
    pub fn read(reading: &Reading, rule: LinearRule) -> Self {
        Bounded::new(reading.value(), &rule.of(&reading.last_place()))
    }

    /// A value and the largest error of it; the sign of the error does not matter.
    #[must_use]
    pub fn new(value: Ratio, absolute: &Ratio) -> Self {
        Bounded {
            value,
            absolute: absolute.abs(),
        }
    }

    /// The value.
    #[must_use]
    pub fn value(&self) -> &Ratio {
        &self.value
    }

    /// The largest error.
    #[must_use]
    pub fn absolute(&self) -> &Ratio {
        &self.absolute
    }

    /// The largest error as a part of the value; `None` where the value is nought.
    #[must_use]
    pub fn relative(&self) -> Option<Ratio> {
        self.absolute.checked_div(&self.value.abs())
    }

    /// The product: relative errors add, so |a| · Δb + |b| · Δa.
    #[must_use]
    pub fn times(&self, other: &Bounded) -> Bounded {
        Bounded {
            value: &self.value * &other.value,
            absolute: &(&self.value.abs() * &other.absolute)
                + &(&other.value.abs() * &self.absolute),
        }
    }

    /// The quotient: relative errors add; `None` where `divisor` is nought.
    #[must_use]
    pub fn checked_div(&self, divisor: &Bounded) -> Option<Bounded> {
        let value = self.value.checked_div(&divisor.value)?;
        let own = self.absolute.checked_div(&divisor.value.abs())?;
        let other = &value.abs() * &divisor.relative()?;
        Some(Bounded {
            value,
            absolute: &own + &other,
        })
    }
}

impl Add for &Bounded {
    type Output = Bounded;
    fn add(self, other: &Bounded) -> Bounded {
        Bounded::new(
            &self.value + &other.value,
            &(&self.absolute + &other.absolute),
        )
    }
}

impl Sub for &Bounded {
    type Output = Bounded;
    fn sub(self, other: &Bounded) -> Bounded {
        Bounded::new(
            &self.value - &other.value,
            &(&self.absolute + &other.absolute),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn absolute_in_sums_relative_in_products() {
        let of = |value: &str, absolute: &str| {
            Bounded::new(value.parse().unwrap(), &absolute.parse().unwrap())
        };
        let (a, b) = (of("10", "0.5"), of("4", "0.2"));
        assert_eq!(&a + &b, of("14", "0.7"));
        assert_eq!(&a - &b, of("6", "0.7"));
        assert_eq!(a.times(&b), of("40", "4"));
        assert_eq!(a.checked_div(&b), Some(of("2.5", "0.25")));
        assert_eq!(of("-10", "0.5").checked_div(&b), Some(of("-2.5", "0.25")));
        assert_eq!(a.checked_div(&of("0", "1")), None);
        assert_eq!(of("0", "1").relative(), None);
    }
}
