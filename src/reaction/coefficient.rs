//! The number before a species.

use alloc::format;
use alloc::string::String;

use super::error::Error;
use crate::number::Ratio;
use crate::text::{Span, digit};

/// More digits than any coefficient has.
pub(super) const MOST_DIGITS: usize = 28;

/// A coefficient, and how many bytes it takes.
pub(super) struct Number {
    pub(super) value: Ratio,
    pub(super) length: usize,
}

/// Returns the number at the start of `text`, which begins at `at` in the equation; `None` if there
/// is no number.
#[inline]
pub(super) fn read(text: &str, at: usize) -> Result<Option<Number>, Error> {
    match text.as_bytes() {
        // Nearly every species begins with its formula, or with one short number.
        [b'A'..=b'Z' | b'(' | b'[' | b'{' | b'e' | b'^', ..] => Ok(None),
        [d @ b'1'..=b'9', b'A'..=b'Z' | b' ' | b'(' | b'[' | b'e', ..] => Ok(Some(Number {
            value: Ratio::from(u32::from(d - b'0')),
            length: 1,
        })),
        _ => CoefficientReader { text, at, i: 0 }.number(),
    }
}

struct CoefficientReader<'a> {
    text: &'a str,
    at: usize,
    i: usize,
}

impl CoefficientReader<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.i..).unwrap_or_default()
    }

    fn span(&self) -> Span {
        Span::new(self.at, self.at + self.i)
    }

    /// Takes plain or full-width digits.
    fn digits(&mut self) -> Result<String, Error> {
        let mut digits = String::new();
        while let Some((c, d)) = self
            .rest()
            .chars()
            .next()
            .and_then(|c| Some((c, digit(c)?)))
        {
            self.i += c.len_utf8();
            digits.push((b'0' + d) as char);
            if digits.len() > MOST_DIGITS {
                return Err(self.too_long());
            }
        }
        Ok(digits)
    }

    /// Takes one of these signs, if a digit follows it.
    fn sign(&mut self, signs: &[char]) -> bool {
        let mut chars = self.rest().chars();
        let (Some(c), Some(after)) = (chars.next(), chars.next()) else {
            return false;
        };
        let found = signs.contains(&c) && digit(after).is_some();
        if found {
            self.i += c.len_utf8();
        }
        found
    }

    fn vulgar(&mut self) -> Option<Ratio> {
        let c = self.rest().chars().next()?;
        let (above, below) = crate::formula::vulgar_fraction(c)?;
        self.i += c.len_utf8();
        Ratio::new(above.into(), below.into())
    }

    fn number(mut self) -> Result<Option<Number>, Error> {
        if let Some(value) = self.vulgar() {
            return Ok(Some(self.found(value)));
        }
        let whole = self.digits()?;
        if whole.is_empty() {
            return Ok(None);
        }
        let mut value = self.parsed(&whole)?;
        let mut zeros = whole.starts_with('0') && whole.len() > 1;
        if self.sign(&[',']) {
            return Err(Error::bad(
                self.span(),
                "the coefficient has a comma",
                "write a decimal point, such as `0.5 O2`",
            ));
        }
        if self.sign(&['.', '\u{FF0E}']) {
            let places = self.digits()?;
            value = self.parsed(&format!("{whole}.{places}"))?;
        } else if self.sign(&['/', '\u{2044}']) {
            let below = self.digits()?;
            zeros |= below.starts_with('0');
            value = match value.checked_div(&self.parsed(&below)?) {
                Some(value) => value,
                None => return Err(self.zero()),
            };
        } else if let Some(fraction) = self.vulgar() {
            value += fraction;
        }
        if value.is_zero() || zeros {
            return Err(self.zero());
        }
        Ok(Some(self.found(value)))
    }

    fn found(&self, value: Ratio) -> Number {
        Number {
            value,
            length: self.i,
        }
    }

    fn parsed(&self, digits: &str) -> Result<Ratio, Error> {
        digits.parse().map_err(|_| self.too_long())
    }

    fn too_long(&self) -> Error {
        let message = format!("the coefficient has more than {MOST_DIGITS} digits");
        Error::too_large(self.span(), message)
    }

    fn zero(&self) -> Error {
        Error::bad(
            self.span(),
            "the coefficient is zero or begins with a zero",
            "delete the zero, or write the letter O for oxygen",
        )
    }
}
