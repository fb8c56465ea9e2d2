//! Significant figures through a whole calculation. The value stays exact; the rules only decide how
//! many of its digits are written.

use alloc::format;
use alloc::string::String;
use core::ops::{Add, Mul, Sub};

use super::ratio::Ratio;
use super::reading::Reading;
use super::rounding::Rounded;
use super::ties::TieRule;

/// An exact value with its significant figures.
///
/// Addition and subtraction keep decimal places, multiplication and division keep significant
/// figures; exact counts and table weights limit nothing. Every digit stays until the result is
/// written, unless [`rounded_here`](Measured::rounded_here) rounds a step.
///
/// ```
/// use effloresce::number::{Measured, TieRule};
/// let mass = Measured::from(&"69.658".parse()?);
/// let volume = &Measured::from(&"22.4".parse()?) - &Measured::from(&"13.5".parse()?);
/// assert_eq!(volume.written(TieRule::Even).to_string(), "8.9");
/// let density = mass.checked_div(&volume).unwrap();
/// assert_eq!(density.written(TieRule::Even).to_string(), "7.8");
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Measured {
    value: Ratio,
    limit: Limit,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Limit {
    Exact,
    DecimalPlaces(i32),
    Figures(u32),
}

impl Measured {
    /// Returns a value that limits no significant figures: a count, a coefficient, a weight of a table.
    #[must_use]
    pub fn exact(value: Ratio) -> Self {
        Measured {
            value,
            limit: Limit::Exact,
        }
    }

    /// Returns a value known to a number of decimal places (negative: tens, hundreds …).
    #[must_use]
    pub fn with_places(value: Ratio, decimal_places: i32) -> Self {
        Measured {
            value,
            limit: Limit::DecimalPlaces(decimal_places),
        }
    }

    /// Returns the exact value.
    #[must_use]
    pub fn value(&self) -> &Ratio {
        &self.value
    }

    /// Returns the number of significant figures; `None` for an exact value. A value that is zero, or
    /// smaller than its last decimal place, has none.
    #[must_use]
    pub fn figures(&self) -> Option<u32> {
        match self.limit {
            Limit::Exact => None,
            Limit::Figures(figures) => Some(figures),
            Limit::DecimalPlaces(decimal_places) => {
                // Of the rounded value, so that 9.96 to one place has three.
                let rounded = self.value.to_places(decimal_places, TieRule::Even).value();
                let exponent = rounded
                    .decimal_exponent()
                    .map_or(-1 - decimal_places, |e| e);
                Some(u32::try_from(exponent + 1 + decimal_places).unwrap_or(0))
            }
        }
    }

    /// Returns the number of decimal places; `None` for an exact value.
    #[must_use]
    pub fn decimal_places(&self) -> Option<i32> {
        match self.limit {
            Limit::Exact => None,
            Limit::DecimalPlaces(decimal_places) => Some(decimal_places),
            Limit::Figures(figures) => Some(
                self.value
                    .to_figures(figures, TieRule::Even)
                    .decimal_places(),
            ),
        }
    }

    /// Returns the quotient; `None` if `divisor` is zero.
    #[must_use]
    pub fn checked_div(&self, divisor: &Measured) -> Option<Measured> {
        Some(Measured {
            value: self.value.checked_div(&divisor.value)?,
            limit: self.fewest_figures(divisor),
        })
    }

    /// Rounds the value to its significant figures; an exact value to at most 28.
    #[must_use]
    pub fn written(&self, ties: TieRule) -> Rounded {
        match self.limit {
            Limit::Exact => self.value.in_full(ties),
            Limit::DecimalPlaces(decimal_places) => self.value.to_places(decimal_places, ties),
            Limit::Figures(figures) => self.value.to_figures(figures, ties),
        }
    }

    /// Returns the significant digits in plain notation, ties to even. A value that has none after
    /// the units is written to the units, because a zero there would look significant.
    pub(crate) fn to_plain(&self) -> String {
        let written = self.written(TieRule::Even);
        let written = match written.decimal_places() {
            ..0 => self.value.to_places(0, TieRule::Even),
            _ => written,
        };
        format!("{written}")
    }

    /// Returns the value with one digit more than is significant, for a step in between.
    pub(crate) fn with_guard_digit(&self) -> String {
        format!("{}", self.guarded(1, TieRule::Even))
    }

    /// Rounds the value to a number of digits more than are significant, for a step in between.
    #[must_use]
    pub fn guarded(&self, digits: u32, ties: TieRule) -> Rounded {
        match self.limit {
            Limit::Exact => self.written(ties),
            Limit::DecimalPlaces(decimal_places) => {
                let digits = i32::try_from(digits).unwrap_or(0);
                self.value
                    .to_places(decimal_places.saturating_add(digits), ties)
            }
            Limit::Figures(figures) => self.value.to_figures(figures.saturating_add(digits), ties),
        }
    }

    /// Rounds the value now, for a calculation that rounds each step.
    #[must_use]
    pub fn rounded_here(&self, ties: TieRule) -> Measured {
        Measured {
            value: self.written(ties).value(),
            limit: self.limit,
        }
    }

    fn fewest_figures(&self, other: &Measured) -> Limit {
        fewest(self.figures(), other.figures(), Limit::Figures)
    }

    fn fewest_decimal_places(&self, other: &Measured) -> Limit {
        let (one, other) = (self.decimal_places(), other.decimal_places());
        fewest(one, other, Limit::DecimalPlaces)
    }
}

fn fewest<T: Ord>(one: Option<T>, other: Option<T>, limit: fn(T) -> Limit) -> Limit {
    let fewest = one.into_iter().chain(other).min();
    fewest.map_or(Limit::Exact, limit)
}

impl From<&Reading> for Measured {
    /// Keeps the decimal places written. A number such as `1500` is known to its last certain figure.
    fn from(reading: &Reading) -> Measured {
        let figures = reading.figures();
        let doubtful = i32::try_from(figures.at_most() - figures.at_least()).unwrap_or(0);
        Measured::with_places(reading.value(), reading.decimal_places() - doubtful)
    }
}

macro_rules! operator {
    ($operator:ident, $method:ident, $limit:ident) => {
        impl $operator for &Measured {
            type Output = Measured;
            fn $method(self, other: &Measured) -> Measured {
                Measured {
                    value: $operator::$method(&self.value, &other.value),
                    limit: self.$limit(other),
                }
            }
        }
    };
}
operator!(Add, add, fewest_decimal_places);
operator!(Sub, sub, fewest_decimal_places);
operator!(Mul, mul, fewest_figures);

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    fn read(text: &str) -> Measured {
        Measured::from(&text.parse::<Reading>().unwrap())
    }

    #[track_caller]
    fn writes(value: &Measured, text: &str) {
        assert_eq!(value.written(TieRule::Even).to_string(), text);
    }

    #[test]
    fn places_and_figures() {
        writes(&(&read("1.0023") + &read("4.383")), "5.385");
        writes(&(&read("56.533") - &read("55.8752")), "0.658");
        writes(&(&read("0.6238") * &read("6.6")), "4.1");
        writes(&read("421.23").checked_div(&read("486")).unwrap(), "0.867");
        assert!(read("1").checked_div(&read("0.00")).is_none());
    }

    #[test]
    fn exact_values_limit_nothing() {
        let two = Measured::exact(Ratio::from(2));
        writes(&(&two * &read("18.015")), "36.030");
        writes(&(&two + &read("0.5")), "2.5");
        let third = Measured::exact("1/3".parse().unwrap());
        writes(&third, "0.3333333333333333333333333333");
        assert_eq!((two.figures(), two.decimal_places()), (None, None));
    }

    #[test]
    fn zeros_without_a_mark_are_doubtful() {
        writes(&(&read("1500") + &read("26")), "1500");
        writes(&(&read("1500.") + &read("26")), "1526");
        assert_eq!(read("1500").figures(), Some(2));
        assert_eq!(read("1500").decimal_places(), Some(-2));
    }

    #[test]
    fn guard_digits_stay_unless_a_step_is_rounded() {
        let a = &read("2.5") * &read("3.5"); // 8.75, two figures
        let kept = &a * &read("2.0");
        let rounded = &a.rounded_here(TieRule::Even) * &read("2.0");
        assert_eq!(
            (kept.value().to_string(), rounded.value().to_string()),
            ("17.5".into(), "17.6".into())
        );
        assert_eq!(a.guarded(1, TieRule::Even).to_string(), "8.75");
    }

    #[test]
    fn nothing_left_has_no_figures() {
        let gone = &read("24.018") - &read("24.018");
        writes(&gone, "0.000");
        assert_eq!(gone.figures(), Some(0));
        assert_eq!(gone.decimal_places(), Some(3));
        let carried = Measured::with_places("9.96".parse().unwrap(), 1);
        assert_eq!(carried.figures(), Some(3));
    }
}
