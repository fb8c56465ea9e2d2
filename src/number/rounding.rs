//! Rounding by decimal places and by significant figures, with a named rule for ties.

use alloc::string::String;
use core::iter::repeat_n;

use super::ratio::Ratio;
use super::ties::TieRule;

/// A value rounded to a stated number of decimal places, which it keeps when it is printed.
///
/// ```
/// use effloresce::{Ratio, number::TieRule};
/// let rounded = "6.988806".parse::<Ratio>()?.to_places(2, TieRule::Even);
/// assert_eq!(rounded.to_string(), "6.99");
/// assert_eq!(rounded.decimal_places(), 2);
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Rounded {
    /// The rounded value in units of its last decimal place.
    units: Ratio,
    decimal_places: i32,
    ties_differ: bool,
}

/// The most decimal places, or zeros before the point, that a rounded value keeps.
pub(super) const MOST_DECIMAL_PLACES: i32 = 400;

impl Rounded {
    /// Returns a number of units of the last decimal place, which needs no rounding.
    pub(super) fn of_units(units: i128, decimal_places: i32) -> Rounded {
        Rounded {
            units: Ratio::from(units),
            decimal_places,
            ties_differ: false,
        }
    }

    /// Returns the rounded value in units of its last decimal place.
    pub(super) fn units(&self) -> &Ratio {
        &self.units
    }

    /// Returns the rounded value, exact.
    #[must_use]
    pub fn value(&self) -> Ratio {
        &self.units * Ratio::power_of_ten(-self.decimal_places)
    }

    /// Returns the number of decimal places; negative if tens, hundreds … were rounded.
    #[must_use]
    pub fn decimal_places(&self) -> i32 {
        self.decimal_places
    }

    /// Returns the value in scientific notation, with one digit before the point: `1.50e3`.
    /// [`Reading`] reads it back with the same significant figures.
    ///
    /// [`Reading`]: crate::Reading
    ///
    /// ```
    /// use effloresce::{Ratio, number::TieRule};
    /// assert_eq!(Ratio::from(1500).to_figures(3, TieRule::Even).to_scientific(), "1.50e3");
    /// assert_eq!("0.00123".parse::<Ratio>()?.to_figures(2, TieRule::Even).to_scientific(), "1.2e-3");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn to_scientific(&self) -> String {
        let text = self.units.integer_digits();
        let (sign, digits) = match text.strip_prefix('-') {
            Some(digits) => ("-", digits),
            None => ("", text.as_str()),
        };
        let (first, rest) = digits.split_at(digits.len().min(1));
        let point = if rest.is_empty() { "" } else { "." };
        let length = i32::try_from(rest.len()).unwrap_or(0);
        alloc::format!(
            "{sign}{first}{point}{rest}e{}",
            length - self.decimal_places
        )
    }

    /// Returns whether the other tie rule gives other digits.
    #[must_use]
    pub fn ties_differ(&self) -> bool {
        self.ties_differ
    }

    /// Returns plain decimal notation with all its decimal places, never an exponent.
    pub(super) fn plain(&self) -> String {
        let units = self.units.integer_digits();
        let digits = units.trim_start_matches('-');
        let decimal_places = usize::try_from(self.decimal_places).unwrap_or(0);
        // At least one digit is before the point.
        let leading_zeros = (decimal_places + 1).saturating_sub(digits.len());
        let final_zeros = match self.decimal_places {
            ..0 if !self.units.is_zero() => self.decimal_places.unsigned_abs() as usize,
            _ => 0,
        };
        let mut text = String::with_capacity(leading_zeros + units.len() + final_zeros + 1);
        text.push_str(if digits.len() < units.len() { "-" } else { "" });
        text.extend(repeat_n('0', leading_zeros));
        text.push_str(digits);
        text.extend(repeat_n('0', final_zeros));
        if decimal_places > 0 {
            text.insert(text.len() - decimal_places, '.');
        }
        text
    }
}

impl Ratio {
    /// Rounds the value to a number of decimal places (negative: tens, hundreds …), at most 400.
    ///
    /// ```
    /// use effloresce::{Ratio, number::TieRule};
    /// let value: Ratio = "2.345".parse()?;
    /// assert_eq!(value.to_places(2, TieRule::Even).to_string(), "2.34");
    /// assert_eq!(value.to_places(2, TieRule::AwayFromZero).to_string(), "2.35");
    /// assert_eq!(Ratio::from(42).to_places(2, TieRule::Even).to_string(), "42.00");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn to_places(&self, decimal_places: i32, ties: TieRule) -> Rounded {
        let decimal_places = decimal_places.clamp(-MOST_DECIMAL_PLACES, MOST_DECIMAL_PLACES);
        let (units, ties_differ) = self.nearest_units(decimal_places, ties);
        Rounded {
            units,
            decimal_places,
            ties_differ,
        }
    }

    /// Rounds the value to a multiple of a step, such as the smallest step of a balance; `None` if the
    /// step is zero or not a finite decimal.
    ///
    /// ```
    /// use effloresce::{Ratio, number::TieRule};
    /// let value: Ratio = "22.6543".parse()?;
    /// let shown = value.to_multiple(&"0.002".parse()?, TieRule::Even).unwrap();
    /// assert_eq!(shown.to_string(), "22.654");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn to_multiple(&self, step: &Ratio, ties: TieRule) -> Option<Rounded> {
        let decimal_places = i32::try_from(step.exact_decimal_places()?).ok()?;
        let multiple = self.checked_div(step)?.to_places(0, ties);
        Some(Rounded {
            ties_differ: multiple.ties_differ,
            ..(multiple.value() * step).to_places(decimal_places, ties)
        })
    }

    /// Rounds the value to a number of significant figures (at least one).
    ///
    /// ```
    /// use effloresce::{Ratio, number::TieRule};
    /// let value: Ratio = "0.9950".parse()?;
    /// assert_eq!(value.to_figures(2, TieRule::AwayFromZero).to_string(), "1.0");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn to_figures(&self, figures: u32, ties: TieRule) -> Rounded {
        let figures = i32::try_from(figures.max(1)).unwrap_or(MOST_DECIMAL_PLACES);
        let Some(exponent) = self.decimal_exponent() else {
            return self.to_places(figures.saturating_sub(1), ties);
        };
        let decimal_places = figures.saturating_sub(1).saturating_sub(exponent);
        let rounded = self.to_places(decimal_places, ties);
        // 0.995 to two figures is 1.0, not 1.00: a carry makes one place too many.
        if rounded.units.decimal_exponent() > Some(exponent + rounded.decimal_places) {
            return Rounded {
                ties_differ: rounded.ties_differ,
                ..self.to_places(decimal_places - 1, ties)
            };
        }
        rounded
    }

    /// Returns plain decimal notation with the nearest 28 significant figures and no final zeros.
    ///
    /// ```
    /// # use effloresce::Ratio;
    /// assert_eq!("2/3".parse::<Ratio>()?.to_plain(), "0.6666666666666666666666666667");
    /// assert_eq!("249.6770".parse::<Ratio>()?.to_plain(), "249.677");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn to_plain(&self) -> String {
        let mut text = self.to_figures(28, TieRule::Even).plain();
        if text.contains('.') {
            text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
        }
        text
    }

    /// Returns every digit if there are at most 28 decimal places, otherwise 28 significant figures.
    pub(super) fn in_full(&self, ties: TieRule) -> Rounded {
        let decimal_places = self
            .exact_decimal_places()
            .and_then(|p| i32::try_from(p).ok());
        match decimal_places.filter(|decimal_places| *decimal_places <= 28) {
            Some(decimal_places) => self.to_places(decimal_places, ties),
            None => self.to_figures(28, ties),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    #[track_caller]
    fn figures(value: &str, figures: u32, ties: TieRule, expected: &str) {
        let value: Ratio = value.parse().unwrap();
        assert_eq!(value.to_figures(figures, ties).to_string(), expected);
    }

    #[track_caller]
    fn places(value: &str, places: i32, ties: TieRule, expected: &str) {
        let value: Ratio = value.parse().unwrap();
        assert_eq!(value.to_places(places, ties).to_string(), expected);
    }

    #[test]
    fn carries_zeros_in_front_and_places() {
        figures("0.95", 1, TieRule::AwayFromZero, "1");
        figures("0.95", 1, TieRule::Even, "1");
        figures("9.995", 3, TieRule::AwayFromZero, "10.0");
        figures("9.995", 3, TieRule::Even, "10.0");
        figures("0.0012345", 3, TieRule::Even, "0.00123");
        figures("123456", 2, TieRule::Even, "120000");
        figures("999.9", 2, TieRule::Even, "1000");
        figures("0", 3, TieRule::Even, "0.00");
        places("42", 2, TieRule::Even, "42.00");
        places("-0.004", 2, TieRule::Even, "0.00");
        places("1500", -2, TieRule::Even, "1500");
        places("1450", -2, TieRule::Even, "1400");
        places("0.4", -2, TieRule::Even, "0");
    }

    #[test]
    fn ties_on_both_sides_of_zero() {
        places("2.345", 2, TieRule::Even, "2.34");
        places("2.355", 2, TieRule::Even, "2.36");
        places("-2.345", 2, TieRule::Even, "-2.34");
        places("-2.345", 2, TieRule::AwayFromZero, "-2.35");
        places("2.5", 0, TieRule::Even, "2");
        places("-2.5", 0, TieRule::AwayFromZero, "-3");
    }

    #[test]
    fn multiples_of_a_step() {
        let to = |value: &str, step: &str, ties| {
            let value: Ratio = value.parse().unwrap();
            let rounded = value.to_multiple(&step.parse().unwrap(), ties);
            rounded.map(|r| (r.to_string(), r.ties_differ()))
        };
        assert_eq!(
            to("21.45", "0.1", TieRule::Even),
            Some(("21.4".into(), true))
        );
        assert_eq!(
            to("21.45", "0.1", TieRule::AwayFromZero),
            Some(("21.5".into(), true))
        );
        assert_eq!(
            to("0.37", "0.25", TieRule::Even),
            Some(("0.25".into(), false))
        );
        assert_eq!(
            to("0.375", "0.25", TieRule::Even),
            Some(("0.50".into(), false))
        );
        assert_eq!(to("7", "5", TieRule::Even), Some(("5".into(), false)));
        assert_eq!(to("1", "0", TieRule::Even), None);
        assert_eq!(to("1", "1/3", TieRule::Even), None);
    }

    #[test]
    fn says_when_the_rules_differ() {
        let tie: Ratio = "2.345".parse().unwrap();
        assert!(tie.to_places(2, TieRule::Even).ties_differ());
        assert!(!tie.to_places(3, TieRule::Even).ties_differ());
        assert!(!tie.to_places(1, TieRule::Even).ties_differ());
        let odd: Ratio = "2.355".parse().unwrap();
        assert!(!odd.to_places(2, TieRule::Even).ties_differ());
    }
}
