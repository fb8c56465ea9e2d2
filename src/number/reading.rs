//! A number as it was written: its value, its places, its figures.

use alloc::format;
use alloc::string::String;
use core::fmt;
use core::str::FromStr;

use super::{Error, ErrorKind, Ratio};
use crate::text::{self, Detail, Span};

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
    exponent: i8,
    /// Whether a decimal mark was written, which makes final zeros count.
    marked: bool,
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

const MOST_DIGITS: usize = 28;
const MOST_EXPONENT: i32 = 30;

impl Reading {
    /// Reads a number, with the given decimal mark.
    ///
    /// White space around it, full-width digits and typographic minus signs do no harm;
    /// grouping by thousands is not read.
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
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    pub fn read(text: &str, mark: DecimalMark) -> Result<Reading, Error> {
        Scan::new(text, mark).number()
    }

    /// The number `mantissa × 10^exponent`, written out to its last digit; for values that are
    /// known to be short.
    pub(crate) fn from_units(mantissa: i128, exponent: i32) -> Option<Reading> {
        let short = mantissa.unsigned_abs() < 10_u128.pow(MOST_DIGITS as u32);
        (short && exponent.abs() <= MOST_EXPONENT).then_some(Reading {
            mantissa,
            exponent: exponent as i8,
            marked: exponent < 0,
        })
    }

    /// A constant of a table. The text is plain digits with at most one point; anything else
    /// does not compile where the constant is used in a `const`.
    pub(crate) const fn literal(text: &str) -> Reading {
        let bytes = text.as_bytes();
        let mut mantissa: i128 = 0;
        let mut exponent: i8 = 0;
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
        Reading {
            mantissa,
            exponent,
            marked,
        }
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
        let (size, above) = (u32::from(self.exponent.unsigned_abs()), self.exponent > 0);
        let below = 10_i128.pow(if above { 0 } else { size });
        let value = Ratio::new(self.mantissa, below).unwrap_or_default();
        if above {
            &value * &Ratio::power_of_ten(i32::from(self.exponent))
        } else {
            value
        }
    }

    /// The number of decimal places written (negative for `1.5e3`).
    #[must_use]
    pub fn places(&self) -> i32 {
        -i32::from(self.exponent)
    }

    /// One unit of the last digit written.
    #[must_use]
    pub fn last_place(&self) -> Ratio {
        Ratio::power_of_ten(i32::from(self.exponent))
    }

    /// The significant figures. A zero has none: only its places say anything.
    #[must_use]
    pub fn figures(&self) -> Figures {
        let mut digits = 0;
        let mut zeros = 0;
        let mut rest = self.mantissa.unsigned_abs();
        while rest > 0 {
            if rest % 10 == 0 && zeros == digits {
                zeros += 1;
            }
            digits += 1;
            rest /= 10;
        }
        let doubtful = if self.marked || self.exponent != 0 {
            0
        } else {
            zeros
        };
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
        let rounded = Ratio::from(self.mantissa);
        if self.exponent > 0 {
            return f.pad(&format!("{rounded}e{}", self.exponent));
        }
        let places = self.places();
        let mut text = format!("{}", self.value().to_places(places, super::TieRule::Even));
        if self.marked && places == 0 {
            text.push('.');
        }
        f.pad(&text)
    }
}

struct Scan<'a> {
    text: &'a str,
    mark: DecimalMark,
}

impl<'a> Scan<'a> {
    fn new(text: &'a str, mark: DecimalMark) -> Self {
        Scan { text, mark }
    }

    #[cold]
    fn not_a_number(&self, at: Option<(usize, char)>) -> Error {
        let shown = shorten(self.text);
        let detail = match at {
            None if self.text.chars().all(text::is_space) => {
                Detail::new("an empty text where a number was expected")
                    .at(Span::new(0, self.text.len()))
            }
            None => {
                Detail::new(format!("`{shown}` has no digits")).at(Span::new(0, self.text.len()))
            }
            Some((start, c)) => Detail::new(format!(
                "`{shown}` is not a number: `{c}` has no place in it"
            ))
            .at(Span::new(start, start + c.len_utf8())),
        };
        Error::new(
            ErrorKind::NotANumber,
            detail.help(match self.mark {
                DecimalMark::Point => "write digits with one decimal point, such as 2.50",
                DecimalMark::CommaOrPoint => "write digits with one decimal mark, such as 2,50",
            }),
        )
    }

    #[cold]
    fn comma(&self, at: usize) -> Error {
        let trimmed = self.text.trim_matches(text::is_space);
        let shown = shorten(trimmed);
        let as_point = shorten(&trimmed.replacen(',', ".", 1));
        let without = shorten(&trimmed.replace(',', ""));
        Error::new(
            ErrorKind::AmbiguousComma,
            Detail::new(format!("`{shown}` may mean {as_point} or {without}"))
                .at(Span::new(at, at + 1))
                .help(format!(
                    "write {as_point} with a point, or {without} without a mark"
                )),
        )
    }

    #[cold]
    fn out_of_range(&self) -> Error {
        Error::new(
            ErrorKind::OutOfRange,
            Detail::new(format!(
                "`{}` has more digits or a larger exponent than can be kept",
                shorten(self.text)
            ))
            .at(Span::new(0, self.text.len()))
            .help("write at most 28 digits and a power of ten between -30 and 30"),
        )
    }

    fn number(&self) -> Result<Reading, Error> {
        let mut chars = self.text.char_indices().peekable();
        while chars.next_if(|(_, c)| text::is_space(*c)).is_some() {}
        let negative = match chars.next_if(|(_, c)| *c == '+' || text::is_minus(*c)) {
            Some((_, c)) => c != '+',
            None => false,
        };
        let mut mantissa: i128 = 0;
        let mut exponent: i32 = 0;
        let mut written = 0;
        let mut significant = 0;
        let mut marked = false;
        while let Some(&(at, c)) = chars.peek() {
            if let Some(digit) = text::digit(c) {
                written += 1;
                if significant > 0 || digit > 0 {
                    significant += 1;
                }
                if significant > MOST_DIGITS || written > 4 * MOST_DIGITS {
                    return Err(self.out_of_range());
                }
                mantissa = mantissa * 10 + i128::from(digit);
                exponent -= i32::from(marked);
            } else if c == ',' && self.mark == DecimalMark::Point {
                return Err(self.comma(at));
            } else if matches!(c, '.' | ',') && !marked {
                marked = true;
            } else {
                break;
            }
            chars.next();
        }
        if written == 0 {
            return Err(self.not_a_number(chars.next()));
        }
        let mut scientific = false;
        if chars.next_if(|(_, c)| matches!(c, 'e' | 'E')).is_some() {
            scientific = true;
            exponent += self.exponent(&mut chars)?;
        }
        while chars.next_if(|(_, c)| text::is_space(*c)).is_some() {}
        if let Some(rest) = chars.next() {
            return Err(self.not_a_number(Some(rest)));
        }
        if exponent.abs() > MOST_EXPONENT {
            return Err(self.out_of_range());
        }
        Ok(Reading {
            mantissa: if negative { -mantissa } else { mantissa },
            exponent: exponent as i8,
            // In scientific notation every digit written counts.
            marked: marked || scientific,
        })
    }

    fn exponent(
        &self,
        chars: &mut core::iter::Peekable<core::str::CharIndices<'_>>,
    ) -> Result<i32, Error> {
        let negative = match chars.next_if(|(_, c)| *c == '+' || text::is_minus(*c)) {
            Some((_, c)) => c != '+',
            None => false,
        };
        let mut value: i32 = 0;
        let mut written = false;
        while let Some(digit) = chars.peek().and_then(|(_, c)| text::digit(*c)) {
            chars.next();
            written = true;
            value = (value * 10 + i32::from(digit)).min(10 * MOST_EXPONENT);
        }
        if !written {
            return Err(self.not_a_number(chars.next()));
        }
        Ok(if negative { -value } else { value })
    }
}

/// At most the first forty characters, on one line, so that no error is longer than a line.
pub(super) fn shorten(text: &str) -> String {
    let mut shown: String = text
        .chars()
        .take(MOST_SHOWN)
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    if text.chars().nth(MOST_SHOWN).is_some() {
        shown.push('…');
    }
    shown
}

const MOST_SHOWN: usize = 40;

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
    fn points_at_the_place() {
        let error = "21.5x8".parse::<Reading>().unwrap_err();
        assert_eq!(error.span(), Some(Span::new(4, 5)));
    }
}
