//! A number as it was written: its value, decimal places and significant figures.

use alloc::format;
use alloc::string::String;
use core::fmt;

use super::format::write_number;
use super::ratio::Ratio;
use super::rounding::Rounded;

/// A number as a person or an instrument wrote it: `2.50` is not `2.5`.
///
/// The value is exact. Up to 28 digits are kept, which no balance exceeds.
///
/// ```
/// use effloresce::Reading;
/// let mass: Reading = "2.50".parse()?;
/// assert_eq!(mass.decimal_places(), 2);
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
    /// Whether a decimal mark was written. If so, final zeros are significant.
    mark: MarkPresence,
}

/// Whether a decimal mark was written. It is as wide as the exponent, so a reading has no gaps and is
/// copied in one piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[repr(u64)]
enum MarkPresence {
    Absent,
    Present,
}

/// The number of significant figures that a number was written with.
///
/// `1500` has at least two and at most four: the text does not say whether its zeros were read. The same
/// holds for `1500 mg`, although it is 1.500 g.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Figures {
    at_least: u32,
    at_most: u32,
}

impl Figures {
    /// Returns the number of figures that are certainly significant.
    #[must_use]
    pub fn at_least(self) -> u32 {
        self.at_least
    }

    /// Returns the number of significant figures if all written zeros are significant.
    #[must_use]
    pub fn at_most(self) -> u32 {
        self.at_most
    }

    /// Returns whether the number of significant figures is certain.
    #[must_use]
    pub fn is_certain(self) -> bool {
        self.at_least == self.at_most
    }
}

pub(super) const MOST_DIGITS: usize = 28;
pub(super) const MOST_EXPONENT: i32 = 30;

impl Reading {
    /// Returns the number `mantissa × 10^exponent` as its text is read; `None` if it is too long.
    pub(crate) fn from_units(mantissa: i128, exponent: i32) -> Option<Reading> {
        let short = mantissa.unsigned_abs() < 10_u128.pow(MOST_DIGITS as u32);
        (short && exponent.abs() <= MOST_EXPONENT)
            .then(|| Reading::from_parts(mantissa, exponent, exponent != 0))
    }

    /// Returns the same digits in another unit.
    pub(crate) fn times_power_of_ten(self, power: i32) -> Option<Reading> {
        let exponent = i32::try_from(self.exponent).ok()?.checked_add(power)?;
        let has_mark =
            self.mark == MarkPresence::Present || (exponent != 0 && self.figures().is_certain());
        (exponent.abs() <= MOST_EXPONENT)
            .then(|| Reading::from_parts(self.mantissa, exponent, has_mark))
    }

    /// Returns the numbers that the text may mean: with all zeros at its end significant, without the
    /// last one, and so on.
    #[cfg(feature = "class")]
    pub(crate) fn meanings(self) -> impl Iterator<Item = Reading> {
        let figures = self.figures();
        (0..=figures.at_most() - figures.at_least()).map(move |zeros| {
            let mantissa = self.mantissa / 10_i128.pow(zeros);
            Reading::from_parts(mantissa, zeros as i32 - self.decimal_places(), true)
        })
    }

    /// Returns the same number with zeros at the end that are certainly significant.
    pub(super) fn certain(mut self) -> Reading {
        if !self.figures().is_certain() {
            self.mark = MarkPresence::Present;
        }
        self
    }

    /// Returns a reading of these parts, which are within the limits.
    pub(super) const fn from_parts(mantissa: i128, exponent: i32, has_mark: bool) -> Reading {
        Reading {
            mantissa,
            exponent: exponent as i64,
            mark: if has_mark {
                MarkPresence::Present
            } else {
                MarkPresence::Absent
            },
        }
    }

    /// Reads a constant of a table: plain digits with at most one point. Any other text does not
    /// compile in a `const`.
    pub(crate) const fn literal(text: &str) -> Reading {
        let bytes = text.as_bytes();
        let mut mantissa: i128 = 0;
        let mut exponent = 0;
        let mut has_mark = false;
        let mut at = 0;
        while at < bytes.len() {
            if bytes[at] == b'.' {
                assert!(!has_mark, "two points");
                has_mark = true;
            } else {
                assert!(bytes[at].is_ascii_digit(), "not a digit");
                mantissa = mantissa * 10 + (bytes[at] - b'0') as i128;
                if has_mark {
                    exponent -= 1;
                }
            }
            at += 1;
        }
        Reading::from_parts(mantissa, exponent, has_mark)
    }

    /// Returns a constant of a table in whole units of a decimal place. It must not have more decimal
    /// places.
    pub(crate) const fn units_of(&self, decimal_places: u32) -> u64 {
        let written = (-self.exponent) as u32;
        assert!(
            self.exponent <= 0 && written <= decimal_places,
            "more places than units"
        );
        self.mantissa as u64 * 10_u64.pow(decimal_places - written)
    }

    /// Returns the exact value.
    #[must_use]
    pub fn value(&self) -> Ratio {
        Ratio::of_units(self.mantissa, -self.decimal_places())
    }

    /// Returns whether the value is negative.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.mantissa < 0
    }

    /// Returns the value in units of `10^exponent`, if that is a whole number.
    pub(crate) fn in_units_of(&self, exponent: i32) -> Option<i128> {
        match u32::try_from(-self.decimal_places() - exponent).ok()? {
            0 => Some(self.mantissa),
            above => self.mantissa.checked_mul(10_i128.checked_pow(above)?),
        }
    }

    /// Returns the number of decimal places written (negative for `1.5e3`).
    #[must_use]
    pub fn decimal_places(&self) -> i32 {
        // Between -30 and 30.
        -(self.exponent as i32)
    }

    /// Returns one unit of the last digit written.
    #[must_use]
    pub fn last_place(&self) -> Ratio {
        Ratio::power_of_ten(-self.decimal_places())
    }

    /// Returns the number of significant figures. A zero has none.
    #[must_use]
    pub fn figures(&self) -> Figures {
        let mut rest = self.mantissa.unsigned_abs();
        let digits = rest.checked_ilog10().map_or(0, |tens| tens + 1);
        let mut doubtful = 0;
        if self.mark == MarkPresence::Absent {
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

    /// Returns the text of the number.
    fn as_written(&self) -> String {
        if self.exponent > 0 {
            return format!("{}e{}", self.mantissa, self.exponent);
        }
        let mut text = Rounded::of_units(self.mantissa, self.decimal_places()).plain();
        if self.mark == MarkPresence::Present && self.exponent == 0 {
            text.push('.');
        }
        text
    }
}

impl fmt::Display for Reading {
    /// Writes the number as it was written, in plain digits. It has an exponent only if its last digit
    /// is before the units.
    ///
    /// A precision is a number of decimal places, and does not change the reading. The value is rounded
    /// to it, ties to even, or gets zeros, which were not read.
    ///
    /// ```
    /// # use effloresce::Reading;
    /// let mass: Reading = "21.350".parse()?;
    /// assert_eq!(format!("{mass} {mass:.1} {mass:.4}"), "21.350 21.4 21.3500");
    /// assert_eq!(format!("{mass:>9}|{mass:<9}|{mass:09}"), "   21.350|21.350   |00021.350");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_number(f, || self.value(), || self.as_written())
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Reading {
    /// Serializes the number as it was written.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl From<&Reading> for Ratio {
    fn from(reading: &Reading) -> Ratio {
        reading.value()
    }
}
