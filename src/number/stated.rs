//! A value written with its uncertainty.

use alloc::format;
use alloc::string::String;
use core::fmt;

use super::format::pad_number;
use super::ratio::Ratio;
use super::rounding::Rounded;
use super::ties::TieRule;

/// A value and its uncertainty, rounded to be written together: the uncertainty to one or two
/// significant figures, the value to the same decimal place.
///
/// ```
/// use effloresce::{Ratio, number::Stated};
/// let x: Ratio = "6.988806".parse()?;
/// let stated = Stated::new(&x, 0.01268).unwrap();
/// assert_eq!(stated.short(), "6.989(13)");
/// assert_eq!(stated.plus_minus(), "6.989 ± 0.013");
/// assert_eq!(format!("{stated:.2}"), "6.99 ± 0.01");
/// assert_eq!(Stated::with_digits(&x, 0.01268, 1).unwrap().short(), "6.99(1)");
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stated {
    value: Rounded,
    uncertainty: Rounded,
}

impl Stated {
    /// Rounds the uncertainty to two significant figures; `None` if it is negative or not finite.
    #[must_use]
    pub fn new(value: &Ratio, uncertainty: f64) -> Option<Stated> {
        Stated::with_digits(value, uncertainty, 2)
    }

    /// Rounds the uncertainty to one or two significant figures. Any other number is read as the nearer
    /// of these.
    #[must_use]
    pub fn with_digits(value: &Ratio, uncertainty: f64, digits: u32) -> Option<Stated> {
        let uncertainty = Ratio::from_float(uncertainty).filter(|u| !u.is_negative())?;
        Some(Stated::of(value, &uncertainty, digits))
    }

    /// Rounds a value and its uncertainty, which is not negative.
    pub(crate) fn of(value: &Ratio, uncertainty: &Ratio, digits: u32) -> Stated {
        if uncertainty.is_zero() {
            // Without an uncertainty the value is written in full.
            let value = value.in_full(TieRule::Even);
            let uncertainty = uncertainty.to_places(0, TieRule::Even);
            return Stated { value, uncertainty };
        }
        let uncertainty = uncertainty.to_figures(digits.clamp(1, 2), TieRule::Even);
        Stated {
            value: value.to_places(uncertainty.decimal_places(), TieRule::Even),
            uncertainty,
        }
    }

    /// Returns the rounded value.
    #[must_use]
    pub fn value(&self) -> &Rounded {
        &self.value
    }

    /// Returns the rounded uncertainty.
    #[must_use]
    pub fn uncertainty(&self) -> &Rounded {
        &self.uncertainty
    }

    /// Returns the value with its uncertainty in brackets, in units of the last decimal place:
    /// `1.234(5)`.
    #[must_use]
    pub fn short(&self) -> String {
        let decimal_places = self.uncertainty.decimal_places().max(0);
        let last = self.uncertainty.value() * Ratio::power_of_ten(decimal_places);
        format!("{}({})", self.value, last.to_places(0, TieRule::Even))
    }

    /// Returns both in full: `1.234 ± 0.005`.
    #[must_use]
    pub fn plus_minus(&self) -> String {
        format!("{} ± {}", self.value, self.uncertainty)
    }
}

impl fmt::Display for Stated {
    /// Writes both in full: `1.234 ± 0.005`. A precision (`{:.2}`) is that of both numbers, which are
    /// rounded once more, ties to even. At least one significant figure of the uncertainty stays, because
    /// `± 0.0` would say that there is none. A width counts for the whole text.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match f.precision() {
            Some(places) => {
                let one_figure = self.uncertainty.value().to_figures(1, TieRule::Even);
                let least = usize::try_from(one_figure.decimal_places()).unwrap_or(0);
                let places = places.max(least);
                format!("{:.places$} ± {:.places$}", self.value, self.uncertainty)
            }
            None => self.plus_minus(),
        };
        pad_number(f, &text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn states(value: &str, uncertainty: f64, digits: u32, short: &str, full: &str) {
        let value: Ratio = value.parse().unwrap();
        let stated = Stated::with_digits(&value, uncertainty, digits).unwrap();
        assert_eq!(
            (stated.short().as_str(), stated.plus_minus().as_str()),
            (short, full)
        );
    }

    #[test]
    fn both_ways() {
        states("1.2344", 0.005, 1, "1.234(5)", "1.234 ± 0.005");
        states("10.05762", 0.027, 2, "10.058(27)", "10.058 ± 0.027");
        states("18", 1.209, 2, "18.0(12)", "18.0 ± 1.2");
        states("4530", 120.0, 2, "4530(120)", "4530 ± 120");
        states("4537", 95.0, 1, "4500(100)", "4500 ± 100");
        states("0.9996", 0.00096, 1, "1.000(1)", "1.000 ± 0.001");
        states("-0.0004", 0.01, 2, "0.000(10)", "0.000 ± 0.010");
        states("7", 0.0, 2, "7(0)", "7 ± 0");
        states(
            "1/3",
            0.0,
            2,
            "0.3333333333333333333333333333(0)",
            "0.3333333333333333333333333333 ± 0",
        );
    }

    #[test]
    fn what_is_no_uncertainty() {
        for wrong in [-0.1, f64::NAN, f64::INFINITY] {
            assert!(Stated::new(&Ratio::ONE, wrong).is_none());
        }
    }
}
