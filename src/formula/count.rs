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
use super::notation::{Counted, Place};
use super::packed::MORE;
use super::parse::Cursor;
use super::solvate;
use crate::text::{Span, digit, is_space};

/// The most digits in a count, a decimal mark or a fraction line aside.
const MOST_DIGITS: usize = 9;

/// A count in a few plain digits, or none, which counts one.
pub(super) struct PlainCount {
    pub(super) value: u16,
    /// Where the text goes on, and with which byte; nought at its end.
    pub(super) end: usize,
    pub(super) next: u8,
    /// Whether it has more digits than one and an H behind them, which may be the number of waters.
    pub(super) before_hydrogen: bool,
}

/// The count at a place, where it is plain, and begins with this byte: few digits of ASCII, no zero in front, and nothing
/// behind that may belong to them.
#[inline(always)]
pub(super) fn plain_count(bytes: &[u8], start: usize, first: u8) -> Option<PlainCount> {
    let mut end = start;
    let mut value = 1_u32;
    let mut next = first;
    let mut digits = 0;
    if first.is_ascii_digit() {
        value = 0;
        while next.is_ascii_digit() {
            value = value.wrapping_mul(10).wrapping_add((next - b'0').into());
            end += 1;
            next = bytes.get(end).copied().unwrap_or_default();
        }
        digits = end - start;
        if digits > 3 || value >= MORE.into() || first == b'0' {
            return None;
        }
    }
    if GOES_ON.get(usize::from(next)).copied().unwrap_or_default() && !ends(bytes, end, digits) {
        return None;
    }
    Some(PlainCount {
        value: value as u16,
        end,
        next,
        before_hydrogen: next == b'H' && digits > 1,
    })
}

/// The bytes that may go on with a count.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static GOES_ON: [bool; 256] = {
    let mut table = [false; 256];
    let mut byte = 0x80;
    while byte < 256 {
        table[byte] = true;
        byte += 1;
    }
    let mut index = 0;
    while index < b"./_xn".len() {
        table[b"./_xn"[index] as usize] = true;
        index += 1;
    }
    table
};

/// Whether a count ends here though its next byte might go on with it.
#[inline]
fn ends(bytes: &[u8], end: usize, digits: usize) -> bool {
    match bytes.get(end..) {
        Some([0xC2, 0xB7, ..]) => true,
        Some([b'.', ..]) if digits == 0 => true,
        Some([b'.', behind @ ..]) => solvate::is_plain_adduct_point(behind),
        _ => false,
    }
}

impl Cursor<'_> {
    pub(super) fn coefficient(&mut self) -> Result<Option<(Count, Place)>, Error> {
        let start = self.at;
        match self.byte() {
            Some(first @ b'0'..=b'9') => {
                // A point behind a coefficient is a decimal one.
                let plain = plain_count(self.text.as_bytes(), start, first);
                if let Some(plain) = plain.filter(|plain| plain.next != b'.') {
                    self.at = plain.end;
                    let count = Count::Known(plain.value.into(), 1);
                    return Ok(Some((count, self.since(start))));
                }
            }
            Some(0x80..) => {}
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
        self.strange = true;
        let place = self.since(start);
        let count = self.number(&found, place.span(), "the coefficient")?;
        Ok(Some((count, place)))
    }

    /// The count behind a symbol or a closing bracket, which stands at `name`.
    #[inline]
    pub(super) fn count(&mut self, name: Place) -> Result<Count, Error> {
        let first = self.byte().unwrap_or_default();
        match plain_count(self.text.as_bytes(), self.at, first) {
            Some(plain) => {
                self.at = plain.end;
                self.strange |= plain.before_hydrogen;
                Ok(Count::Known(plain.value.into(), 1))
            }
            None => self.any_count(name),
        }
    }

    /// The count that ends where a sign stands.
    pub(super) fn count_before(&self, sign: usize) -> Counted {
        if self.unusual.place.somewhere().is_some() && self.unusual.place.end() == sign {
            return self.unusual;
        }
        let before = self.text.get(..sign).unwrap_or_default();
        let start = before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        match start < sign {
            true => Counted {
                place: Place::new(start, sign),
                plain_digits: true,
            },
            false => Counted::NOT,
        }
    }

    /// A count in any of its forms.
    #[cold]
    fn any_count(&mut self, name: Place) -> Result<Count, Error> {
        let start = self.at;
        let mut plain_digits = false;
        self.strange = true;
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
                self.unusual.place = self.since(start);
                self.unusual.plain_digits = false;
                return Ok(Count::Unknown(letter));
            }
            '_' => {
                for (text, letter) in [("_x", 'x'), ("_{x}", 'x'), ("_n", 'n'), ("_{n}", 'n')] {
                    if let Some(rest) = self.rest().strip_prefix(text) {
                        self.go_to(rest);
                        self.unusual.place = self.since(start);
                        self.unusual.plain_digits = false;
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
                plain_digits =
                    found.decimals.is_none() && found.below.is_none() && found.vulgar.is_none();
                found
            }
        };
        let place = self.since(start);
        self.unusual = Counted {
            place,
            plain_digits,
        };
        let span = place.span();
        if plain_digits && found.whole.starts_with(|c| digit(c) == Some(0)) {
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
