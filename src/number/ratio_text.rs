//! Fractions as text: reading and writing.

use core::fmt;
use core::str::FromStr;

use num_bigint::BigInt;

use super::error::{Error, ErrorKind};
use super::format::write_number;
use super::ratio::Ratio;
use super::reading::Reading;
use super::ties::TieRule;

impl FromStr for Ratio {
    type Err = Error;

    /// Reads `7`, `0.5`, `-2.5e-3` or `8/3`, and every plain decimal that [`to_plain`](Ratio::to_plain)
    /// writes, even with more decimal places than a reading has.
    fn from_str(text: &str) -> Result<Ratio, Error> {
        let Some((above, below)) = text.split_once('/') else {
            return decimal(text);
        };
        let above = decimal(above)?;
        let offset = text.len() - below.len();
        let below = decimal(below).map_err(|error| error.shifted(offset))?;
        above.checked_div(&below).ok_or_else(|| {
            Error::new(
                ErrorKind::NotANumber,
                crate::text::Detail::new(alloc::format!("`{text}` divides by zero"))
                    .help("write a number other than 0 after the `/`"),
            )
        })
    }
}

/// Reads a number as a reading is written, or a plain decimal with more digits.
fn decimal(text: &str) -> Result<Ratio, Error> {
    match text.parse::<Reading>() {
        Ok(reading) => Ok(reading.value()),
        Err(error) => plain_decimal(text).ok_or(error),
    }
}

/// The longest plain decimal that is read, in bytes.
const MOST_PLAIN: usize = 128;

/// Reads a decimal of ASCII digits without an exponent.
fn plain_decimal(text: &str) -> Option<Ratio> {
    let size = text.strip_prefix('-').unwrap_or(text);
    let (whole, decimals) = size.split_once('.').unwrap_or((size, ""));
    let digits = alloc::format!("{whole}{decimals}");
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !plain || text.len() > MOST_PLAIN {
        return None;
    }
    let number = Ratio::from_whole(BigInt::parse_bytes(digits.as_bytes(), 10)?);
    let decimal_places = i32::try_from(decimals.len()).ok()?;
    let value = &number * Ratio::power_of_ten(-decimal_places);
    Some(if size.len() < text.len() {
        -value
    } else {
        value
    })
}

impl fmt::Display for Ratio {
    /// Writes an exact text: a decimal if it ends within 28 decimal places, otherwise `p/q`.
    /// [`FromStr`] reads it back if `p` and `q` have at most 127 digits.
    ///
    /// A precision is a number of decimal places, at most 400. The exact value is rounded to it, ties
    /// to even. Sign, width, fill and zeros in front are those of the format, as for any number.
    ///
    /// ```
    /// # use effloresce::Ratio;
    /// let x: Ratio = "6.988806".parse()?;
    /// assert_eq!(format!("{x:.2} {x:+.0} {x:08.3}"), "6.99 +7 0006.989");
    /// assert_eq!(format!("{:.3}", "2/3".parse::<Ratio>()?), "0.667");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let in_full = || match self.exact_decimal_places() {
            Some(decimal_places @ ..=28) => {
                let decimal_places = i32::try_from(decimal_places).unwrap_or(28);
                self.to_places(decimal_places, TieRule::Even).plain()
            }
            _ => self.parts_text(),
        };
        write_number(f, || self.clone(), in_full)
    }
}

impl fmt::Debug for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Ratio({self})")
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Ratio {
    /// Serializes the exact text: `"2.5"`, `"8/3"`.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Ratio {
    /// Reads text. A number is refused, because most formats round it to binary floating point.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        const EXPECTED: &str = "text in quotation marks such as \"0.05\" or \"8/3\", because a number may not be exact";
        crate::text::read_text(deserializer, EXPECTED, str::parse)
    }
}

#[cfg(test)]
mod tests {
    use alloc::string::ToString;

    use super::*;

    fn ratio(text: &str) -> Ratio {
        text.parse().unwrap()
    }

    #[test]
    fn text_is_exact() {
        for text in [
            "0",
            "1",
            "-2.5",
            "8/3",
            "-1/7",
            "0.0000001",
            "1234567890.12345",
        ] {
            assert_eq!(ratio(text).to_string(), text);
        }
        assert_eq!(ratio("1/8").to_string(), "0.125");
    }

    #[test]
    fn division_by_zero_is_an_error() {
        assert!("1/0".parse::<Ratio>().is_err());
        let error = "8/x".parse::<Ratio>().unwrap_err();
        assert_eq!(error.span(), Some(crate::Span::new(2, 3)));
        assert!(Ratio::ONE.checked_div(&Ratio::ZERO).is_none());
    }
}
