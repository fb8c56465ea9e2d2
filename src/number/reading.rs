//! A number as it was written: its value, its places, its figures.

use alloc::format;
use core::fmt;

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
    /// Whether a decimal mark was written, which makes final zeros count.
    marked: MarkPresence,
}

/// Whether a decimal mark was written. As wide as the exponent, so that a reading has no gaps: it
/// is copied for each cell of a sheet, and with gaps it would be copied in pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[repr(u64)]
enum MarkPresence {
    Absent,
    Present,
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
            marked: if marked {
                MarkPresence::Present
            } else {
                MarkPresence::Absent
            },
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
        Ratio::of_units(self.mantissa, -self.decimal_places())
    }

    /// Whether the value is less than nought.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.mantissa < 0
    }

    /// The value as a whole number of units of `10^exponent`, where it is one.
    pub(crate) fn in_units_of(&self, exponent: i32) -> Option<i128> {
        match u32::try_from(-self.decimal_places() - exponent).ok()? {
            0 => Some(self.mantissa),
            above => self.mantissa.checked_mul(10_i128.checked_pow(above)?),
        }
    }

    /// The number of decimal places written (negative for `1.5e3`).
    #[must_use]
    pub fn decimal_places(&self) -> i32 {
        // Between -30 and 30.
        -(self.exponent as i32)
    }

    /// One unit of the last digit written.
    #[must_use]
    pub fn last_place(&self) -> Ratio {
        Ratio::power_of_ten(-self.decimal_places())
    }

    /// The significant figures. A zero has none: only its places say anything.
    #[must_use]
    pub fn figures(&self) -> Figures {
        let mut rest = self.mantissa.unsigned_abs();
        let digits = rest.checked_ilog10().map_or(0, |tens| tens + 1);
        let mut doubtful = 0;
        if self.marked == MarkPresence::Absent && self.exponent == 0 {
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

impl fmt::Display for Reading {
    /// As written, in plain digits; with an exponent only where the last digit stands above the units.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.exponent > 0 {
            return f.pad(&format!("{}e{}", self.mantissa, self.exponent));
        }
        let mut text = format!(
            "{}",
            Rounded::of_units(self.mantissa, self.decimal_places())
        );
        if self.marked == MarkPresence::Present && self.exponent == 0 {
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

impl From<&Reading> for Ratio {
    fn from(reading: &Reading) -> Ratio {
        reading.value()
    }
}
