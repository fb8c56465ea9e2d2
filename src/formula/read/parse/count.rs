//! Counts and coefficients, in any of their forms.

use alloc::format;

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::character::complete::char;
use nom::sequence::{delimited, preceded};

use super::cursor::Cursor;
use super::notation::Counted;
use crate::formula::error::Error;
use crate::formula::lex::{Digits, Fraction, Run, digits, is_adduct_point, raised_mass_number};
use crate::formula::repr::{Count, Place};
use crate::text::{Span, digit, is_space, subscript_digit};

/// The most digits in a count, a decimal mark or a fraction line aside.
const MOST_DIGITS: u16 = 9;

impl Cursor<'_> {
    /// A coefficient in any of its forms, if there is one.
    pub(crate) fn any_coefficient(&mut self) -> Result<Option<(Count, Place)>, Error> {
        let start = self.at;
        match self.byte() {
            // A point behind a coefficient is a decimal one.
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
        let Some(found) = self.take(digits(digit, |_, _| true)) else {
            return Ok(None);
        };
        let place = self.since(start);
        match found.count() {
            Ok(count) => Ok(Some((count, place))),
            Err(fault) => Err(fault.told(place.span(), "the coefficient")),
        }
    }

    /// The count that ends where a sign stands.
    pub(crate) fn count_before(&self, sign: usize) -> Counted {
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
    pub(crate) fn any_count(&mut self, name: Place) -> Result<Count, Error> {
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
                    delimited(tag("_{"), digits(digit, |_, _| true), char('}')),
                    preceded(char('_'), digits(digit, |_, _| false)),
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
            _ if subscript_digit(c).is_some() => {
                let Some(found) = self.take(digits(subscript_digit, |_, _| true)) else {
                    return Ok(Count::ONE);
                };
                found
            }
            _ => {
                let Some(found) = self.take(digits(digit, |whole, behind| {
                    let nought = whole.begins_with_zero && whole.length == 1;
                    nought || !is_adduct_point(behind)
                })) else {
                    return Ok(Count::ONE);
                };
                plain_digits = found.fraction == Fraction::None;
                found
            }
        };
        let place = self.since(start);
        self.unusual = Counted {
            place,
            plain_digits,
        };
        let span = place.span();
        if plain_digits && found.whole.begins_with_zero {
            return Err(self.zero_count(name, span));
        }
        let count = found.count();
        count.map_err(|fault| fault.told(span, "the count"))
    }
}

/// Why digits are no count.
#[derive(Clone, Copy)]
enum Fault {
    TooLong,
    BeginsWithZero,
    DividesByZero,
    Zero,
}

impl Digits {
    /// The value: above nought, not too long, no zero in front.
    #[inline(always)]
    fn count(&self) -> Result<Count, Fault> {
        let whole = self.whole;
        let (decimals, below) = match self.fraction {
            Fraction::Decimals(decimals) => (decimals.length, Run::default()),
            Fraction::Below(below) => (0, below),
            Fraction::None | Fraction::Vulgar(..) => (0, Run::default()),
        };
        if whole.length + decimals > MOST_DIGITS || below.length > MOST_DIGITS {
            return Err(Fault::TooLong);
        }
        let leading = |run: Run| run.begins_with_zero && run.length > 1;
        if leading(whole) || leading(below) {
            return Err(Fault::BeginsWithZero);
        }
        let mixed = |above: u32, below| whole.value.checked_mul(below)?.checked_add(above);
        let (numerator, denominator) = match self.fraction {
            Fraction::None => (Some(whole.value), 1),
            Fraction::Decimals(decimals) => {
                let scale = 10_u32.pow(decimals.length.into());
                (mixed(decimals.value, scale), scale)
            }
            Fraction::Below(below) => (Some(whole.value), below.value),
            Fraction::Vulgar(above, below) => (mixed(above, below), below),
        };
        match (numerator, denominator) {
            (None, _) => Err(Fault::TooLong),
            (_, 0) => Err(Fault::DividesByZero),
            (Some(0), _) => Err(Fault::Zero),
            (Some(numerator), _) => match Count::known(numerator, denominator) {
                // A whole number and a fraction may make one.
                Count::Known(more, _) if more > Count::MOST => Err(Fault::TooLong),
                count => Ok(count),
            },
        }
    }
}

impl Fault {
    /// The fault of a count or a coefficient, as it is called.
    #[cold]
    fn told(self, span: Span, what: &str) -> Error {
        match self {
            Fault::TooLong => Error::too_large(span, what, format!("{MOST_DIGITS} digits")),
            Fault::BeginsWithZero => Error::bad(
                span,
                format!("{what} begins with a zero"),
                "take the zero out, or write O for oxygen",
            ),
            Fault::DividesByZero => Error::bad(
                span,
                format!("{what} divides by zero"),
                "write a number other than 0 below the line",
            ),
            Fault::Zero => Error::bad(
                span,
                format!("{what} is zero"),
                "leave out what is not there",
            ),
        }
    }
}
