//! The maximum (worst-case) uncertainty: absolute uncertainties add in sums, relative ones in products.

use core::ops::{Add, Sub};

use super::ratio::Ratio;
use super::reading::Reading;

/// The maximum (worst-case) uncertainty of one reading.
#[doc(alias = "worst case")]
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum MaximumUncertainty {
    /// Half a unit of the last decimal place read.
    HalfDivision,
    /// One unit of the last decimal place read.
    OneDivision,
}

impl MaximumUncertainty {
    /// Returns the maximum uncertainty of one reading on a balance with this smallest step.
    #[must_use]
    pub fn of(self, division: &Ratio) -> Ratio {
        match self {
            MaximumUncertainty::HalfDivision => division * Ratio::new(1, 2).unwrap_or_default(),
            MaximumUncertainty::OneDivision => division.clone(),
        }
    }
}

/// A value with its maximum uncertainty, carried through a calculation.
///
/// Absolute uncertainties add in sums and differences, relative ones in products and quotients.
/// Shared readings count each time that they are used, so the result is the worst case.
///
/// ```
/// use effloresce::number::{Bounded, MaximumUncertainty};
/// let each = MaximumUncertainty::HalfDivision;
/// let read = |text: &str| Ok::<_, effloresce::number::Error>(Bounded::read(&text.parse()?, each));
/// let water = &read("24.018")? - &read("22.655")?;
/// assert_eq!(water.absolute().to_string(), "0.001");
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Bounded {
    value: Ratio,
    absolute: Ratio,
}

impl Bounded {
    /// Returns a reading with half a unit or one unit of its last decimal place.
    #[must_use]
    pub fn read(reading: &Reading, of_one_reading: MaximumUncertainty) -> Self {
        Bounded::new(reading.value(), &of_one_reading.of(&reading.last_place()))
    }

    /// Returns a value with its maximum uncertainty. The sign of the uncertainty does not matter.
    #[must_use]
    pub fn new(value: Ratio, absolute: &Ratio) -> Self {
        Bounded {
            value,
            absolute: absolute.abs(),
        }
    }

    /// Returns the value.
    #[must_use]
    pub fn value(&self) -> &Ratio {
        &self.value
    }

    /// Returns the maximum uncertainty, in the unit of the value.
    #[must_use]
    pub fn absolute(&self) -> &Ratio {
        &self.absolute
    }

    /// Returns the maximum uncertainty divided by the value; `None` if the value is zero.
    #[must_use]
    pub fn relative(&self) -> Option<Ratio> {
        self.absolute.checked_div(&self.value.abs())
    }

    /// Returns the product. Relative uncertainties add: the result has |a| · Δb + |b| · Δa.
    #[must_use]
    pub fn times(&self, other: &Bounded) -> Bounded {
        Bounded {
            value: &self.value * &other.value,
            absolute: self.value.abs() * &other.absolute + other.value.abs() * &self.absolute,
        }
    }

    /// Returns the quotient; `None` if `divisor` is zero. Relative uncertainties add.
    #[must_use]
    pub fn checked_div(&self, divisor: &Bounded) -> Option<Bounded> {
        let value = self.value.checked_div(&divisor.value)?;
        let own = self.absolute.checked_div(&divisor.value.abs())?;
        let other = value.abs() * divisor.relative()?;
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
