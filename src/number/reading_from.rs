//! Readings from numbers that are not text: whole numbers, floats, decimals and rounded values.

use alloc::format;
use alloc::string::ToString;

use rust_decimal::Decimal;

use super::error::{Error, ErrorKind};
use super::ratio::Ratio;
use super::reading::{MOST_EXPONENT, Reading};
use super::rounding::Rounded;
use super::ties::TieRule;
use crate::text::{Detail, shorten};

impl Reading {
    /// Returns the reading `mantissa / 10^decimal_places`, as a balance may send it: 21352 and 3 are
    /// `21.352`.
    ///
    /// The decimal places say which digit was read last, so zeros at the end are significant:
    /// 1500 and 0 are `1500.`, with four significant figures. Nothing is allocated.
    ///
    /// # Errors
    /// `out_of_range` if there are more than 28 digits or more than 30 decimal places. Negative decimal
    /// places go down to −30.
    ///
    /// ```
    /// use effloresce::Reading;
    /// let mass = Reading::new(21_350, 3)?;
    /// assert_eq!(mass.to_string(), "21.350");
    /// assert_eq!(mass, "21.350".parse()?);
    /// assert_eq!(Reading::new(15, -2)?.to_string(), "15e2");
    /// assert_eq!(Reading::new(1, 31).unwrap_err().code(), "out_of_range");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    pub fn new(mantissa: i128, decimal_places: i32) -> Result<Reading, Error> {
        let reading = Reading::from_units(mantissa, decimal_places.saturating_neg());
        let too_long = || too_long(&format!("{mantissa} with {decimal_places} decimal places"));
        reading.map(Reading::certain).ok_or_else(too_long)
    }

    /// Returns a float as a reading with these decimal places.
    ///
    /// A float does not know its decimal places: 2.50 and 2.5 are the same float. So give those that the
    /// instrument shows. The shortest decimal that reads back as the float is rounded to them, ties to
    /// even.
    ///
    /// # Errors
    /// `bad_number` if the float is infinite or not a number. `out_of_range` as for
    /// [`new`](Reading::new).
    ///
    /// ```
    /// use effloresce::Reading;
    /// let mass = Reading::from_f64(2.5, 3)?;
    /// assert_eq!(mass.to_string(), "2.500");
    /// let single = f64::from(21.352_f32); // 21.3519992828369140625
    /// assert_eq!(Reading::from_f64(single, 3)?.to_string(), "21.352");
    /// assert_eq!(Reading::from_f64(f64::NAN, 3).unwrap_err().code(), "bad_number");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    pub fn from_f64(value: f64, decimal_places: i32) -> Result<Reading, Error> {
        let exact = Ratio::from_float(value).ok_or_else(|| {
            Error::new(
                ErrorKind::NotANumber,
                Detail::new(format!("the float {value} is not a finite number"))
                    .help("check what the instrument sent"),
            )
        })?;
        if decimal_places.unsigned_abs() > MOST_EXPONENT.unsigned_abs() {
            let value = shorten(&value.to_string());
            return Err(too_long(&format!(
                "{value} with {decimal_places} decimal places"
            )));
        }
        Reading::try_from(exact.to_places(decimal_places, TieRule::Even))
    }
}

impl TryFrom<Decimal> for Reading {
    type Error = Error;

    /// Keeps the decimal places of the decimal, as if its text were read. Zeros at the end of `1500`
    /// may be significant or not.
    ///
    /// ```
    /// use effloresce::{Decimal, Reading};
    /// assert_eq!(Reading::try_from(Decimal::new(21_350, 3))?.to_string(), "21.350");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    fn try_from(value: Decimal) -> Result<Reading, Error> {
        let exponent = i32::try_from(value.scale()).map_or(i32::MIN, |scale| -scale);
        Reading::from_units(value.mantissa(), exponent).ok_or_else(|| too_long(&format!("{value}")))
    }
}

impl TryFrom<Reading> for Decimal {
    type Error = Error;

    /// Keeps the decimal places of the reading. Tens and hundreds (`15e2`) are written out, as 1500.
    ///
    /// Fails with `out_of_range` if there are more than 28 digits or decimal places.
    ///
    /// ```
    /// use effloresce::{Decimal, Reading};
    /// let mass: Reading = "21.350".parse()?;
    /// assert_eq!(Decimal::try_from(mass)?, Decimal::new(21_350, 3));
    /// assert_eq!(Decimal::try_from(mass)?.to_string(), "21.350");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    fn try_from(reading: Reading) -> Result<Decimal, Error> {
        let exponent = -reading.decimal_places().max(0);
        let units = reading.in_units_of(exponent);
        let decimal = units.and_then(|units| {
            Decimal::try_from_i128_with_scale(units, exponent.unsigned_abs()).ok()
        });
        decimal.ok_or_else(|| {
            let message = format!("{} does not fit a decimal", shorten(&reading.to_string()));
            let help = "give at most 28 digits and 28 decimal places";
            Error::new(ErrorKind::OutOfRange, Detail::new(message).help(help))
        })
    }
}

impl TryFrom<&Rounded> for Reading {
    type Error = Error;

    /// Keeps the decimal places of the rounded value, and so its significant figures.
    ///
    /// ```
    /// use effloresce::{Ratio, Reading, number::TieRule};
    /// let rounded = Ratio::from(1496).to_figures(2, TieRule::Even);
    /// assert_eq!(Reading::try_from(&rounded)?.to_string(), "15e2");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    fn try_from(rounded: &Rounded) -> Result<Reading, Error> {
        let whole = rounded.units().to_i128();
        let reading = whole.and_then(|units| Reading::new(units, rounded.decimal_places()).ok());
        reading.ok_or_else(|| too_long(&shorten(&rounded.to_string())))
    }
}

impl TryFrom<Rounded> for Reading {
    type Error = Error;

    /// As for a reference.
    fn try_from(rounded: Rounded) -> Result<Reading, Error> {
        Reading::try_from(&rounded)
    }
}

fn too_long(number: &str) -> Error {
    let message = format!("{number} is longer than a reading");
    let help = "give at most 28 digits, and between -30 and 30 decimal places";
    Error::new(ErrorKind::OutOfRange, Detail::new(message).help(help))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn reads(mantissa: i128, places: i32, text: &str) {
        let reading = Reading::new(mantissa, places).unwrap();
        assert_eq!(reading.to_string(), text);
        assert_eq!(reading, text.parse().unwrap());
        assert_eq!(reading.decimal_places(), places);
        assert!(reading.figures().is_certain());
    }

    #[test]
    fn from_its_digits() {
        reads(21_350, 3, "21.350");
        reads(-45, 3, "-0.045");
        reads(0, 2, "0.00");
        reads(0, 0, "0");
        reads(7, 0, "7");
        reads(1500, 0, "1500.");
        reads(15, -2, "15e2");
        reads(10_i128.pow(28) - 1, 30, "0.009999999999999999999999999999");
        for (mantissa, places) in [
            (10_i128.pow(28), 0),
            (i128::MIN, 0),
            (i128::MAX, 3),
            (1, 31),
            (1, -31),
            (0, i32::MAX),
            (0, i32::MIN),
        ] {
            let error = Reading::new(mantissa, places).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::OutOfRange, "{mantissa} {places}");
        }
        assert_eq!(
            Reading::new(1, 31).unwrap_err().to_string(),
            "1 with 31 decimal places is longer than a reading"
        );
    }

    #[test]
    fn to_a_decimal() {
        let decimal = |text: &str| Decimal::try_from(text.parse::<Reading>().unwrap());
        for (text, written) in [
            ("21.350", "21.350"),
            ("-0.045", "-0.045"),
            ("0.00", "0.00"),
            ("1500.", "1500"),
            ("15e2", "1500"),
            (
                "9999999999999999999999999999",
                "9999999999999999999999999999",
            ),
        ] {
            assert_eq!(decimal(text).unwrap().to_string(), written);
        }
        for text in ["1e-29", "1e29", "999e27"] {
            let error = decimal(text).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::OutOfRange, "{text}");
            assert!(
                error.to_string().ends_with("does not fit a decimal"),
                "{error}"
            );
        }
    }

    #[test]
    fn from_a_float() {
        let read = |value, places| Reading::from_f64(value, places).map(|r| r.to_string());
        assert_eq!(read(21.35, 3).unwrap(), "21.350");
        assert_eq!(read(0.125, 2).unwrap(), "0.12");
        assert_eq!(read(2.675, 2).unwrap(), "2.68");
        assert_eq!(read(-0.0, 1).unwrap(), "0.0");
        assert_eq!(read(1500.0, 0).unwrap(), "1500.");
        assert_eq!(read(1496.0, -2).unwrap(), "15e2");
        assert_eq!(
            read(5e-324, 30).unwrap(),
            "0.000000000000000000000000000000"
        );
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let error = read(value, 2).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::NotANumber);
            assert!(error.to_string().contains("not a finite number") && error.help().is_some());
        }
        for (value, places) in [
            (1e300, 2),
            (1e27, 2),
            (1.0, 31),
            (1.0, 1000),
            (0.0, i32::MIN),
        ] {
            let error = read(value, places).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::OutOfRange, "{value} {places}");
        }
        assert_eq!(
            read(1.0, i32::MIN).unwrap_err().to_string(),
            "1 with -2147483648 decimal places is longer than a reading"
        );
    }

    #[test]
    fn from_a_decimal() {
        let read = |text: &str| Reading::try_from(text.parse::<Decimal>().unwrap());
        for text in [
            "21.350",
            "-0.045",
            "0.00",
            "1500",
            "9999999999999999999999999999",
        ] {
            assert_eq!(read(text).unwrap(), text.parse().unwrap(), "{text}");
        }
        let error = Reading::try_from(Decimal::MAX).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert_eq!(
            error.help(),
            Some("give at most 28 digits, and between -30 and 30 decimal places")
        );
    }

    #[test]
    fn from_a_rounded_value() {
        let read = |text: &str, places| {
            let value: Ratio = text.parse().unwrap();
            Reading::try_from(value.to_places(places, TieRule::Even))
        };
        assert_eq!(read("2/3", 3).unwrap().to_string(), "0.667");
        assert_eq!(read("1500.4", 0).unwrap().to_string(), "1500.");
        assert_eq!(read("1460", -2).unwrap().to_string(), "15e2");
        assert!(read("2/3", 31).is_err() && read("1e30", 0).is_err());
        assert!(read("1", 400).unwrap_err().to_string().len() < 120);
    }
}
