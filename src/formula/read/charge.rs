//! Charges whose sign stands on the line: which digits are their size, and where that is open.

use alloc::format;
use alloc::string::String;

use super::parse::notation::Counted;
use crate::element::Element;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::repr::{Bracket, Token};
use crate::text::{Span, is_minus};

/// As much as three digits behind a caret say.
const MOST_CHARGE: i32 = 999;

/// A charge whose sign stands on the line.
pub(crate) struct Bare<'t> {
    pub(crate) text: &'t str,
    pub(crate) part: Span,
    /// The count before the sign.
    pub(crate) counted: Counted,
    /// Whether the last bracket closes a group that is the whole part.
    pub(crate) one_unit: bool,
    pub(crate) tokens: &'t [Token],
    pub(crate) negative: bool,
    pub(crate) signs: u32,
    pub(crate) digits_after: Option<u32>,
    pub(crate) span: Span,
}

impl Bare<'_> {
    /// The size of the charge, if it has one honest reading, and whether the digits before the sign
    /// remain a count; else an error that names both readings.
    pub(crate) fn size(&self) -> Result<(i32, bool), Error> {
        let written = self.counted.place.somewhere();
        let last = self.tokens.last();
        let closes = matches!(last, Some(Token::Close(..)));
        let ambiguous = |from: usize| {
            let doubtful = Span::new(from, self.span.end);
            Err(two_readings(self.text, self.part, doubtful, self.span))
        };
        if let Some(size) = self.digits_after {
            // `]-2`: nothing but a charge can begin with a sign behind a bracket.
            return match i32::try_from(size) {
                Ok(size) if closes && written.is_none() && self.signs == 1 && size > 0 => {
                    Ok((size, true))
                }
                _ => ambiguous(self.span.start),
            };
        }
        if self.signs > 1 {
            let size = i32::try_from(self.signs).ok();
            let size = size.filter(|size| *size <= MOST_CHARGE);
            let size = size.ok_or_else(|| Error::too_large(self.span, "the charge", MOST_CHARGE));
            return Ok((size?, true));
        }
        let Some(written) = written.filter(|_| self.counted.plain_digits) else {
            return Ok((1, true));
        };
        let single = self.tokens.len() == 1;
        let square = matches!(last, Some(Token::Close(Bracket::Square, _)));
        let metal = |token: Option<&Token>| matches!(token, Some(Token::Atom(a, _)) if a.element().is_metal());
        let digit = small_digit(
            self.text
                .get(written.start..written.end)
                .unwrap_or_default(),
        );
        let as_charge = if closes {
            square || self.one_unit
        } else {
            single && metal(self.tokens.first()) && !self.negative
        };
        // VO2+ is VO2^+ or VO^2+.
        let oxygen =
            |token: &Token| matches!(token, Token::Atom(a, _) if a.element() == Element::OXYGEN);
        let oxo_cation = !self.negative
            && metal(self.tokens.first())
            && matches!(self.tokens, [_, second] if oxygen(second));
        match digit {
            Some(size) if as_charge => Ok((size, false)),
            Some(_) if !closes && !single && !oxo_cation => Ok((1, true)),
            _ => ambiguous(written.start),
        }
    }
}

fn small_digit(digits: &str) -> Option<i32> {
    let mut chars = digits.chars();
    match (chars.next().and_then(crate::text::digit), chars.next()) {
        (Some(digit), None) => Some(i32::from(digit)),
        _ => None,
    }
}

/// `SO42-` is SO4^2- or SO42^-.
#[cold]
fn two_readings(text: &str, part: Span, doubtful: Span, signs: Span) -> Error {
    let between = |from: usize, to: usize| text.get(from..to).unwrap_or_default();
    let digits = between(doubtful.start, signs.start.max(doubtful.start));
    let before = between(part.start, doubtful.start);
    let written = between(signs.start, signs.end);
    let sign = if written.starts_with(is_minus) {
        '-'
    } else {
        '+'
    };
    let after: String = written
        .chars()
        .filter(|c| !is_minus(*c) && *c != '+')
        .collect();
    let (first, second) = if after.is_empty() {
        let (kept, last) =
            digits.split_at(digits.char_indices().next_back().map_or(0, |(at, _)| at));
        let as_charge = if last == "1" {
            String::new()
        } else {
            last.into()
        };
        (
            format!("{before}{kept}^{as_charge}{sign}"),
            format!("{before}{digits}^{sign}"),
        )
    } else {
        (
            format!("{before}{digits}^{after}{sign}"),
            format!("{before}{digits}^{sign} and {after} more"),
        )
    };
    Error::say(
        ErrorKind::AmbiguousNotation,
        doubtful,
        format!(
            "`{}` can be read as {first} or as {second}",
            between(part.start, part.end)
        ),
        format!("write the charge after a caret: `{first}`"),
    )
}
