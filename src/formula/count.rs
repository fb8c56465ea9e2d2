//! Counts and coefficients, in any of their forms.

use alloc::format;

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::character::complete::char;
use nom::sequence::{delimited, preceded};

use super::Count;
use super::error::Error;
use super::leaf::{Digits, any_digit, digits, is_digit, lowered, raised_mass_number, small_number};
use super::notation::{LastTerm, Place};
use super::parse::Cursor;
use super::solvate;
use crate::text::{Span, digit, is_space};

/// The most digits in a count, a decimal mark or a fraction line aside.
const MOST_DIGITS: usize = 9;

impl Cursor<'_> {
    pub(super) fn coefficient(&mut self) -> Result<Option<(Count, Place)>, Error> {
        let start = self.at;
        match self.byte() {
            Some(b'0'..=b'9' | 0x80..) => {}
            Some(letter @ (b'x' | b'n')) => {
                let after = self.rest().get(1..).unwrap_or_default();
                let after = after.trim_start_matches(is_space);
                let labelled = raised_mass_number(after).is_ok();
                let begins = |c: char| c.is_ascii_uppercase() || matches!(c, '(' | '[' | '{');
                if !(labelled || after.starts_with(begins)) {
                    return Ok(None);
                }
                self.at += 1;
                let open = Count::Unknown(char::from(letter));
                return Ok(Some((open, self.since(start))));
            }
            _ => return Ok(None),
        }
        let Some(found) = self.take(digits(is_digit, |_, _| true)) else {
            return Ok(None);
        };
        let place = self.since(start);
        let count = self.number(&found, place.span(), "the coefficient")?;
        Ok(Some((count, place)))
    }

    /// The count behind a symbol or a closing bracket, which stands at `name`.
    #[inline(always)]
    pub(super) fn count(&mut self, last: &mut LastTerm, name: Place) -> Result<Count, Error> {
        let start = self.at;
        match self.byte() {
            Some(b'0'..=b'9') => {
                if let Some(whole) = self.whole_number() {
                    last.counted = self.since(start);
                    last.plain_digits = true;
                    return Ok(Count::Known(whole, 1));
                }
            }
            Some(b'x' | b'n' | b'_' | 0x80..) => {}
            _ => return Ok(Count::ONE),
        }
        self.any_count(last, name)
    }

    /// The commonest count: at most nine digits of ASCII with no zero in front, and nothing behind
    /// them that may belong to the number.
    #[inline]
    fn whole_number(&mut self) -> Option<u32> {
        let bytes = self.text.as_bytes().get(self.at..).unwrap_or_default();
        let mut value = 0_u32;
        let mut length = 0;
        while let Some(digit) = bytes.get(length).filter(|b| b.is_ascii_digit()) {
            value = value.wrapping_mul(10).wrapping_add(u32::from(digit - b'0'));
            length += 1;
        }
        let more = matches!(bytes.get(length), Some(b'.' | b'/' | 0x80..));
        let raised_dot = bytes.get(length..length + 2) == Some(b"\xC2\xB7");
        if length > MOST_DIGITS || bytes.first() == Some(&b'0') || (more && !raised_dot) {
            return None;
        }
        self.at += length;
        Some(value)
    }

    /// A count in any of its forms.
    #[cold]
    fn any_count(&mut self, last: &mut LastTerm, name: Place) -> Result<Count, Error> {
        let start = self.at;
        let Some(c) = self.peek() else {
            return Ok(Count::ONE);
        };
        let name = name.span();
        let name = self.text.get(name.start..name.end).unwrap_or_default();
        let found = match c {
            'x' | 'n' | '\u{2093}' | '\u{2099}' => {
                self.at += c.len_utf8();
                let letter = if matches!(c, 'x' | '\u{2093}') {
                    'x'
                } else {
                    'n'
                };
                last.counted = self.since(start);
                return Ok(Count::Unknown(letter));
            }
            '_' => {
                for (text, letter) in [("_x", 'x'), ("_{x}", 'x'), ("_n", 'n'), ("_{n}", 'n')] {
                    if let Some(rest) = self.rest().strip_prefix(text) {
                        self.go_to(rest);
                        last.counted = self.since(start);
                        return Ok(Count::Unknown(letter));
                    }
                }
                let mut lowered = alt((
                    delimited(tag("_{"), digits(is_digit, |_, _| true), char('}')),
                    preceded(char('_'), digits(is_digit, |_, _| false)),
                ));
                let Some(found) = self.take(|text| lowered.parse(text)) else {
                    return Err(Error::bad(
                        self.here(),
                        "no count after `_`",
                        "write the count as `_4` or `_{4}`",
                    ));
                };
                found
            }
            _ if lowered(c).is_some() => {
                let Some(found) = self.take(digits(|c| lowered(c).is_some(), |_, _| true)) else {
                    return Ok(Count::ONE);
                };
                found
            }
            _ => {
                let Some(found) = self.take(digits(is_digit, |whole, behind| {
                    whole == "0" || !solvate::is_adduct_point(behind)
                })) else {
                    return Ok(Count::ONE);
                };
                last.plain_digits =
                    found.decimals.is_none() && found.below.is_none() && found.vulgar.is_none();
                found
            }
        };
        last.counted = self.since(start);
        let span = last.counted.span();
        if last.plain_digits && found.whole.starts_with(|c| digit(c) == Some(0)) {
            return Err(self.zero_count(name, span));
        }
        self.number(&found, span, "the count")
    }

    /// The value of digits: above nought, not too long, no zero in front.
    fn number(&self, found: &Digits<'_>, span: Span, what: &str) -> Result<Count, Error> {
        let decimals = found.decimals.unwrap_or("");
        let length = |text: &str| text.chars().count();
        if length(found.whole) + length(decimals) > MOST_DIGITS
            || found.below.is_some_and(|below| length(below) > MOST_DIGITS)
        {
            return Err(Error::too_large(
                span,
                what,
                format!("{MOST_DIGITS} digits"),
            ));
        }
        let leading = |text: &str| {
            text.chars().count() > 1 && text.chars().next().and_then(any_digit) == Some(0)
        };
        if leading(found.whole) || found.below.is_some_and(leading) {
            return Err(Error::bad(
                span,
                format!("{what} begins with a zero"),
                "take the zero out, or write O for oxygen",
            ));
        }
        let whole = small_number(found.whole).unwrap_or(0);
        let (numerator, denominator) = if let Some((above, below)) = found.vulgar {
            (
                whole.checked_mul(below).and_then(|w| w.checked_add(above)),
                below,
            )
        } else if let Some(below) = found.below {
            (Some(whole), small_number(below).unwrap_or(0))
        } else {
            let scale = 10_u32.pow(u32::try_from(length(decimals)).unwrap_or(0));
            let value = whole
                .checked_mul(scale)
                .and_then(|w| w.checked_add(small_number(decimals).unwrap_or(0)));
            (value, scale)
        };
        let numerator = numerator
            .ok_or_else(|| Error::too_large(span, what, format!("{MOST_DIGITS} digits")))?;
        if denominator == 0 {
            return Err(Error::bad(
                span,
                format!("{what} divides by zero"),
                "write a number other than 0 below the line",
            ));
        }
        if numerator == 0 {
            return Err(Error::bad(
                span,
                format!("{what} is zero"),
                "leave out what is not there",
            ));
        }
        Ok(Count::known(numerator, denominator))
    }
}
