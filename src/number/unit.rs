//! Units as they are written after a number; grams and milligrams are one quantity.

use alloc::format;

use super::error::{Error, ErrorKind};
use super::reading::Reading;
use super::scan::{DecimalMark, ends_a_number};
use crate::text::{Detail, Span, is_space, shorten};

/// The quantity that a number measures, which decides the units that may follow it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Unit {
    /// A mass in grams; milligrams and micrograms are converted exactly.
    Gram,
    /// An amount of substance in moles; millimoles and micromoles are converted exactly.
    Mole,
    /// A percentage.
    Percent,
    /// A number without a unit.
    One,
}

impl Unit {
    /// Returns the power of ten that converts the written unit into this one.
    fn power(self, written: &str) -> Option<i32> {
        let lower = written.to_lowercase();
        match (self, lower.as_str()) {
            (Unit::Gram, "g" | "gram" | "grams" | "gramme" | "grammes") => Some(0),
            // Capitals matter here, because Mg is another unit.
            (Unit::Gram, _) if written == "mg" => Some(-3),
            (Unit::Gram, "milligram" | "milligrams") => Some(-3),
            (Unit::Gram, "\u{B5}g" | "\u{3BC}g" | "ug" | "microgram" | "micrograms") => Some(-6),
            (Unit::Percent, "%" | "\u{FF05}" | "percent" | "per cent") => Some(0),
            (Unit::Mole, "mol" | "mole" | "moles") => Some(0),
            (Unit::Mole, "mmol") => Some(-3),
            (Unit::Mole, "\u{B5}mol" | "\u{3BC}mol" | "umol") => Some(-6),
            _ => None,
        }
    }

    const fn help(self) -> &'static str {
        match self {
            Unit::Gram => "write the mass in g or mg",
            Unit::Percent => "write the percentage alone or with %",
            Unit::Mole => "write the amount in mol or mmol",
            Unit::One => "write the number without a unit",
        }
    }
}

impl Reading {
    /// Reads a number that may be followed by a unit, and converts it: `2666 mg` of a mass is `2.666`.
    /// Every digit written is kept, and with it the doubt about zeros at the end (`1500 mg`).
    ///
    /// # Errors
    /// As [`Reading::read`], and if the written unit does not belong to the quantity.
    ///
    /// ```
    /// use effloresce::{Reading, number::{DecimalMark, Unit}};
    /// let mass = Reading::read_in(Unit::Gram, "1303.50 mg", DecimalMark::Point)?;
    /// assert_eq!(mass.to_string(), "1.30350");
    /// assert!(Reading::read_in(Unit::Gram, "1.3 kg", DecimalMark::Point).is_err());
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[inline]
    pub fn read_in(unit: Unit, text: &str, mark: DecimalMark) -> Result<Reading, Error> {
        if let Some(bare) = Reading::try_read(text, mark) {
            return Ok(bare);
        }
        Reading::read_with_unit(unit, text, mark)
    }

    fn read_with_unit(unit: Unit, text: &str, mark: DecimalMark) -> Result<Reading, Error> {
        let (digits, written) = split(text);
        let power = if written.is_empty() {
            0
        } else {
            unit.power(written)
                .ok_or_else(|| other_unit(unit, text, written))?
        };
        let reading = Reading::read(digits, mark)?;
        reading.times_power_of_ten(power).ok_or_else(|| {
            Error::new(
                ErrorKind::OutOfRange,
                Detail::new(format!("`{}` has too many digits", shorten(text)))
                    .help("write at most 28 digits"),
            )
        })
    }
}

/// Splits `21.352 g` into `21.352` and `g`. A unit begins with a letter or a per cent sign. A full
/// stop after it does not belong to it.
fn split(text: &str) -> (&str, &str) {
    let last = text.char_indices().rev().find(|(_, c)| ends_a_number(*c));
    let Some((at, c)) = last else {
        return (text, "");
    };
    let digits = at + c.len_utf8();
    let mark = text
        .get(digits..)
        .is_some_and(|rest| rest.starts_with(['.', ',']));
    let (number, unit) = text.split_at(digits + usize::from(mark));
    let unit = unit.trim_matches(is_space).trim_end_matches('.');
    match unit.chars().next() {
        Some(c) if c.is_alphabetic() || matches!(c, '%' | '\u{FF05}') => (number, unit),
        _ => (text, ""),
    }
}

fn other_unit(unit: Unit, text: &str, written: &str) -> Error {
    let start = text.len()
        - written.len()
        - text
            .rfind(written)
            .map_or(0, |at| text.len() - at - written.len());
    Error::new(
        ErrorKind::OtherUnit,
        Detail::new(format!(
            "`{}` has the unit `{}`",
            shorten(text.trim_matches(is_space)),
            shorten(written)
        ))
        .at(Span::new(start, start + written.len()))
        .help(unit.help()),
    )
}
