//! A number as it was written: its value, its places, its figures.

use alloc::format;
use core::fmt;
use core::str::FromStr;

use super::scan::Scan;
use super::{Error, Ratio, Rounded};

/// Which character stands between the whole number and its decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum DecimalMark {
    /// A point; a comma is refused, with both of its possible meanings.
    #[default]
    Point,
    /// A comma or a point, as in a sheet whose cells are not separated by commas.
    CommaOrPoint,
}

/// A number as a person or an instrument wrote it: `2.50` is not `2.5`.
///
/// The value is exact. Up to 28 digits are kept, which no balance exceeds.
///
/// ```
/// use effloresce::Reading;
/// let mass: Reading = "2.50".parse()?;
/// assert_eq!(mass.places(), 2);
/// assert_eq!(mass.figures().at_least(), 3);
/// assert_eq!(mass.last_place().to_string(), "0.01");
/// assert_ne!(mass, "2.5".parse()?);
/// assert_eq!(mass.value(), "2.5".parse::<Reading>()?.value());
/// assert_eq!(mass.to_string(), "2.50");
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Reading {
    mantissa: i128,
    /// The power of ten of the last digit written.
    exponent: i64,
    /// Whether a decimal mark was written, which makes final zeros count.
    marked: Marked,
}

/// Whether a decimal mark was written. As wide as the exponent, so that a reading has no gaps: it
/// is copied for each cell of a sheet, and with gaps it would be copied in pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[repr(u64)]
enum Marked {
    No,
    Yes,
}

/// How many significant figures a number was written with.
///
/// `1500` has at least two: whether its zeros were read or only hold the place, the text does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Figures {
    at_least: u32,
    at_most: u32,
}

impl Figures {
    /// The figures that certainly count.
    #[must_use]
    pub fn at_least(self) -> u32 {
        self.at_least
    }

    /// The figures that count if all written zeros do.
    #[must_use]
    pub fn at_most(self) -> u32 {
        self.at_most
    }

    /// Whether the text leaves no doubt.
    #[must_use]
    pub fn is_certain(self) -> bool {
        self.at_least == self.at_most
    }
}

pub(super) const MOST_DIGITS: usize = 28;
pub(super) const MOST_EXPONENT: i32 = 30;

impl Reading {
    /// Reads a number, with the given decimal mark.
    ///
    /// White space around it, full-width digits and typographic minus signs do no harm;
    /// grouping by thousands is not read. A power of ten may follow as a calculator shows it
    /// (`1.08E-02`) or as it is written by hand (`1.08×10^-2`, `1.08 x 10⁻²`, `1.08*10-2`); without
    /// a sign, a caret or raised digits it is refused, for `1.08x102` may have lost its raised 2.
    ///
    /// # Errors
    /// Where the text is not a number, where a comma could mean either of two numbers,
    /// or beyond 28 digits or a power of ten of ±30.
    ///
    /// ```
    /// use effloresce::{Reading, number::DecimalMark};
    /// let mass = Reading::read("21,352", DecimalMark::CommaOrPoint)?;
    /// assert_eq!(mass.to_string(), "21.352");
    /// assert!(Reading::read("21,352", DecimalMark::Point).is_err());
    /// let amount = Reading::read("1.08 × 10⁻²", DecimalMark::Point)?;
    /// assert_eq!(amount.to_string(), "0.0108");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    pub fn read(text: &str, mark: DecimalMark) -> Result<Reading, Error> {
        Scan::new(text, mark).read()
    }

    /// As [`Reading::read`], where it is no matter what is wrong.
    #[inline(always)]
    pub(super) fn try_read(text: &str, mark: DecimalMark) -> Option<Reading> {
        Scan::new(text, mark).number().ok()
    }

    /// The number `mantissa × 10^exponent`, written out to its last digit; for values that are
    /// known to be short.
    pub(crate) fn from_units(mantissa: i128, exponent: i32) -> Option<Reading> {
        let short = mantissa.unsigned_abs() < 10_u128.pow(MOST_DIGITS as u32);
        (short && exponent.abs() <= MOST_EXPONENT)
            .then(|| Reading::made(mantissa, exponent, exponent < 0))
    }

    /// From its parts, which are within the limits.
    #[inline]
    pub(super) const fn made(mantissa: i128, exponent: i32, marked: bool) -> Reading {
        Reading {
            mantissa,
            exponent: exponent as i64,
            marked: if marked { Marked::Yes } else { Marked::No },
        }
    }

    /// A constant of a table. The text is plain digits with at most one point; anything else
    /// does not compile where the constant is used in a `const`.
    pub(crate) const fn literal(text: &str) -> Reading {
        let bytes = text.as_bytes();
        let mut mantissa: i128 = 0;
        let mut exponent = 0;
        let mut marked = false;
        let mut at = 0;
        while at < bytes.len() {
            if bytes[at] == b'.' {
                assert!(!marked, "two points");
                marked = true;
            } else {
                assert!(bytes[at].is_ascii_digit(), "not a digit");
                mantissa = mantissa * 10 + (bytes[at] - b'0') as i128;
                if marked {
                    exponent -= 1;
                }
            }
            at += 1;
        }
        Reading::made(mantissa, exponent, marked)
    }

    /// A constant of a table in whole units of so many decimal places, which it must not exceed.
    pub(crate) const fn units_of(&self, places: u32) -> u64 {
        let written = (-self.exponent) as u32;
        assert!(
            self.exponent <= 0 && written <= places,
            "more places than units"
        );
        self.mantissa as u64 * 10_u64.pow(places - written)
    }

    /// The exact value.
    #[must_use]
    pub fn value(&self) -> Ratio {
        Ratio::of_units(self.mantissa, -self.places())
    }

    /// Whether the value is less than nought.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.mantissa < 0
    }

    /// The value as a whole number of units of `10^exponent`, where it is one.
    pub(crate) fn in_units_of(&self, exponent: i32) -> Option<i128> {
        match u32::try_from(-self.places() - exponent).ok()? {
            0 => Some(self.mantissa),
            above => self.mantissa.checked_mul(10_i128.checked_pow(above)?),
        }
    }

    /// The number of decimal places written (negative for `1.5e3`).
    #[must_use]
    pub fn places(&self) -> i32 {
        // Between -30 and 30.
        -(self.exponent as i32)
    }

    /// One unit of the last digit written.
    #[must_use]
    pub fn last_place(&self) -> Ratio {
        Ratio::power_of_ten(-self.places())
    }

    /// The significant figures. A zero has none: only its places say anything.
    #[must_use]
    pub fn figures(&self) -> Figures {
        let mut rest = self.mantissa.unsigned_abs();
        let digits = rest.checked_ilog10().map_or(0, |tens| tens + 1);
        let mut doubtful = 0;
        if self.marked == Marked::No && self.exponent == 0 {
            while rest > 0 && rest % 10 == 0 {
                rest /= 10;
                doubtful += 1;
            }
        }
        Figures {
            at_least: digits - doubtful,
            at_most: digits,
        }
    }
}

impl FromStr for Reading {
    type Err = Error;

    fn from_str(text: &str) -> Result<Reading, Error> {
        Reading::read(text, DecimalMark::Point)
    }
}

impl fmt::Display for Reading {
    /// As written, in plain digits; with an exponent only where the last digit stands above the units.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.exponent > 0 {
            return f.pad(&format!("{}e{}", self.mantissa, self.exponent));
        }
        let mut text = format!("{}", Rounded::of_units(self.mantissa, self.places()));
        if self.marked == Marked::Yes && self.exponent == 0 {
            text.push('.');
        }
        f.pad(&text)
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Reading {
    /// As it was written.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Reading {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <alloc::borrow::Cow<'_, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::ErrorKind;
    use crate::text::Span;
    use alloc::string::ToString;

    #[track_caller]
    fn shape(text: &str, value: &str, places: i32, at_least: u32, at_most: u32) {
        let reading: Reading = text.parse().unwrap();
        assert_eq!(reading.value(), value.parse().unwrap(), "value of {text}");
        assert_eq!(reading.places(), places, "places of {text}");
        assert_eq!(
            reading.figures(),
            Figures { at_least, at_most },
            "figures of {text}"
        );
    }

    #[test]
    fn keeps_what_was_written() {
        shape("2.50", "2.5", 2, 3, 3);
        shape("1500", "1500", 0, 2, 4);
        shape("1500.", "1500", 0, 4, 4);
        shape("0.00120", "0.0012", 5, 3, 3);
        shape("1.50e3", "1500", -1, 3, 3);
        shape("2.5E-3", "0.0025", 4, 2, 2);
        shape(".5", "0.5", 1, 1, 1);
        shape("0.00", "0", 2, 0, 0);
        shape("-0.045", "-0.045", 3, 2, 2);
        shape(" \u{2212}１２.５\u{00A0}", "-12.5", 1, 3, 3);
    }

    #[test]
    fn prints_what_was_written() {
        for text in [
            "2.50", "1500", "1500.", "0.00120", "-0.045", "0.00", "21.352", "15e1",
        ] {
            assert_eq!(text.parse::<Reading>().unwrap().to_string(), text);
        }
    }

    #[track_caller]
    fn refused(text: &str, kind: ErrorKind, message: &str) {
        let error = text.parse::<Reading>().unwrap_err();
        assert_eq!(error.kind(), kind);
        assert_eq!(error.to_string(), message);
    }

    #[test]
    fn refuses_with_a_sentence() {
        refused(
            "",
            ErrorKind::NotANumber,
            "an empty text where a number was expected",
        );
        refused("-", ErrorKind::NotANumber, "`-` has no digits");
        refused(
            "21.5x8",
            ErrorKind::NotANumber,
            "`21.5x8` is not a number: `x` has no place in it",
        );
        refused(
            "1.2.3",
            ErrorKind::NotANumber,
            "`1.2.3` is not a number: `.` has no place in it",
        );
        refused(
            "1,234",
            ErrorKind::AmbiguousComma,
            "`1,234` may mean 1.234 or 1234",
        );
        refused("1e", ErrorKind::NotANumber, "`1e` has no digits");
        refused(
            "1e99",
            ErrorKind::OutOfRange,
            "`1e99` has more digits or a larger exponent than can be kept",
        );
        let long = "1".repeat(29);
        assert_eq!(
            long.parse::<Reading>().unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        let zeros = alloc::format!("0.{}", "0".repeat(100_000));
        assert_eq!(
            zeros.parse::<Reading>().unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert!(Reading::read("1.234,5", DecimalMark::CommaOrPoint).is_err());
    }

    #[test]
    fn powers_of_ten_by_hand() {
        for text in [
            "1.08E-02",
            "1.08e-2",
            "1.08×10^-2",
            "1.08x10-2",
            "1.08X10^\u{2212}2",
            "1.08 × 10⁻²",
            "1.08*10^-02",
            "1.08 \u{B7} １０⁻²",
        ] {
            shape(text, "0.0108", 4, 3, 3);
        }
        shape("15×10²", "1500", -2, 2, 2);
        shape("1.50x10+3", "1500", -1, 3, 3);
        shape("-2×10⁰", "-2", 0, 1, 1);
        for (text, sign) in [
            ("1.08x102", 'x'),
            ("1.08x10", 'x'),
            ("1.08 × 2", '×'),
            ("2*", '*'),
        ] {
            refused(
                text,
                ErrorKind::NotANumber,
                &format!("`{text}` is not a number: `{sign}` has no place in it"),
            );
        }
        refused("1×10^", ErrorKind::NotANumber, "`1×10^` has no digits");
        refused(
            "1×10^-2x",
            ErrorKind::NotANumber,
            "`1×10^-2x` is not a number: `x` has no place in it",
        );
        refused(
            "1e5×10²",
            ErrorKind::NotANumber,
            "`1e5×10²` is not a number: `×` has no place in it",
        );
    }

    #[test]
    fn all_digits_are_kept() {
        for text in [
            "999999999999999999",
            "9999999999999999999",
            "0.1000000000000000001",
            "1234567890123456789.012345678",
            "9999999999999999999999999999",
        ] {
            assert_eq!(text.parse::<Reading>().unwrap().to_string(), text);
        }
    }

    #[test]
    fn points_at_the_place() {
        let error = "21.5x8".parse::<Reading>().unwrap_err();
        assert_eq!(error.span(), Some(Span::new(4, 5)));
    }
}
