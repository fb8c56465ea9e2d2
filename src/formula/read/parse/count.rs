//! Counts and coefficients, in any of their forms.

use alloc::format;

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::character::complete::char;
use nom::combinator::value;
use nom::sequence::{delimited, preceded};

use super::super::draft::Draft;
use super::cursor::{CountNotation, Cursor};
use super::diagnostics::LEAVE_OUT;
use crate::formula::error::Error;
use crate::formula::lex::{
    DigitRun, Digits, Fraction, Leaf, counts_solvate, digits, is_adduct_point, is_digit,
    raised_mass_number,
};
use crate::formula::repr::{Count, ShortSpan};
use crate::text::{Span, digit, is_space, subscript_digit};

/// The most digits in a count, apart from a decimal mark or a fraction line.
const MOST_DIGITS: u16 = 9;

impl Cursor<'_> {
    /// Reads a coefficient in any form, if there is one.
    pub(crate) fn any_coefficient(&mut self) -> Result<Option<(Count, ShortSpan)>, Error> {
        let start = self.at;
        match self.byte() {
            // A point or a comma after a coefficient is a decimal mark.
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
                return Ok(Some((open, self.span_since(start))));
            }
            _ => return Ok(None),
        }
        let Some(found) = self.take(digits(digit, |_, _, _| true)) else {
            return Ok(None);
        };
        let span = self.span_since(start);
        match found.count() {
            Ok(count) => Ok(Some((count, span))),
            Err(bad) => Err(bad.error(span.span(), "the coefficient")),
        }
    }

    /// The count that ends where a sign begins.
    pub(crate) fn count_before(&self, sign: usize) -> CountNotation {
        let rare = self.last_rare_count;
        if rare.span.span_if_any().is_some_and(|span| span.end == sign) {
            return rare;
        }
        let before = self.text.get(..sign).unwrap_or_default();
        let start = before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        match start < sign {
            true => CountNotation {
                span: ShortSpan::new(start, sign),
                plain_digits: true,
            },
            false => CountNotation::NONE,
        }
    }

    /// Reads a count in any form, of what has a name in the text.
    #[cold]
    pub(crate) fn any_count(
        &mut self,
        draft: &mut Draft<'_>,
        name: ShortSpan,
    ) -> Result<Count, Error> {
        let start = self.at;
        draft.maybe_typo = true;
        if let Some(letter) = self.take(unknown_count) {
            self.last_rare_count = CountNotation {
                span: self.span_since(start),
                plain_digits: false,
            };
            return Ok(Count::Unknown(letter));
        }
        let on_line = self.peek().is_some_and(is_digit);
        let Some(found) = self.take(known_count) else {
            return match self.byte() {
                Some(b'_') => Err(Error::bad(
                    self.here(),
                    "no count after `_`",
                    "write the count as `_4` or `_{4}`",
                )),
                _ => Ok(Count::ONE),
            };
        };
        let plain_digits = on_line && found.fraction == Fraction::None;
        let span = self.span_since(start);
        self.last_rare_count = CountNotation { span, plain_digits };
        let span = span.span();
        if plain_digits && found.whole.begins_with_zero {
            let name = name.span();
            let name = self.text.get(name.start..name.end).unwrap_or_default();
            return Err(self.zero_count(name, span));
        }
        let count = found.count();
        count.map_err(|bad| bad.error(span, "the count"))
    }
}

/// An unknown count: `x` or `n`, on the line or lowered.
fn unknown_count(text: &str) -> Leaf<'_, char> {
    let x = alt((tag("x"), tag("\u{2093}"), tag("_x"), tag("_{x}")));
    let n = alt((tag("n"), tag("\u{2099}"), tag("_n"), tag("_{n}")));
    alt((value('x', x), value('n', n))).parse(text)
}

/// A count in digits, lowered or on the line.
fn known_count(text: &str) -> Leaf<'_, Digits> {
    // On the line a point is a decimal point after a lone zero, or if no adduct follows. Nobody writes a
    // count of one, so that a lone one begins a decimal if no solvate follows.
    let is_decimal = |mark: char, whole: DigitRun, after: &str| {
        let counts_more = || match (whole.length, whole.value) {
            (1, 0) => true,
            (1, 1) => !counts_solvate(after),
            _ => false,
        };
        mark == '.' && (!is_adduct_point(after) || counts_more())
    };
    let is_point = |mark, _, _: &str| mark == '.';
    alt((
        delimited(tag("_{"), digits(digit, is_point), char('}')),
        preceded(char('_'), digits(digit, |_, _, _| false)),
        digits(digit, is_decimal),
        digits(subscript_digit, is_point),
    ))
    .parse(text)
}

/// Why digits are not a count.
#[derive(Clone, Copy)]
enum BadCount {
    TooLong,
    BeginsWithZero,
    DividesByZero,
    Zero,
}

impl Digits {
    /// The value, which is positive, not too long, and has no leading zero.
    fn count(&self) -> Result<Count, BadCount> {
        let whole = self.whole;
        let (decimals, below) = match self.fraction {
            Fraction::Decimals(decimals) => (decimals.length, DigitRun::default()),
            Fraction::Below(below) => (0, below),
            Fraction::None | Fraction::Vulgar(..) => (0, DigitRun::default()),
        };
        if whole.length + decimals > MOST_DIGITS || below.length > MOST_DIGITS {
            return Err(BadCount::TooLong);
        }
        let leading = |run: DigitRun| run.begins_with_zero && run.length > 1;
        if leading(whole) || leading(below) {
            return Err(BadCount::BeginsWithZero);
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
            (None, _) => Err(BadCount::TooLong),
            (_, 0) => Err(BadCount::DividesByZero),
            (Some(0), _) => Err(BadCount::Zero),
            (Some(numerator), _) => match Count::known(numerator, denominator) {
                // A whole number and a fraction together may be too large.
                Count::Known(more, _) if more > Count::MOST => Err(BadCount::TooLong),
                count => Ok(count),
            },
        }
    }
}

impl BadCount {
    /// The error about a count or a coefficient.
    fn error(self, span: Span, what: &str) -> Error {
        match self {
            BadCount::TooLong => Error::too_large(span, what, format!("{MOST_DIGITS} digits")),
            BadCount::BeginsWithZero => Error::bad(
                span,
                format!("{what} begins with a zero"),
                "take the zero out, or write O for oxygen",
            ),
            BadCount::DividesByZero => Error::bad(
                span,
                format!("{what} divides by zero"),
                "write a number other than 0 below the line",
            ),
            BadCount::Zero => Error::bad(span, format!("{what} is zero"), LEAVE_OUT),
        }
    }
}
