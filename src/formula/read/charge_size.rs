//! The size of a charge whose sign is on the line, or both meanings if there are two.

use alloc::format;
use alloc::string::String;

use super::parse::BareCharge;
use crate::element::{Atom, Element};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::lex::corrected;
use crate::formula::limits::MOST_CHARGE;
use crate::formula::repr::{Bracket, Count, Token};
use crate::text::{Span, digit, is_minus};

impl BareCharge {
    /// The size of the charge, and whether the digits before the sign remain a count. An error names
    /// both meanings if there are two. `is_one_group` says whether the part is one group in brackets.
    pub(crate) fn size(
        &self,
        text: &str,
        part: Span,
        tokens: &[Token],
        is_one_group: bool,
    ) -> Result<(i32, bool), Error> {
        let signs = self.span.span();
        let ambiguous = |from: usize| {
            let span = Span::new(from, signs.end);
            Err(two_meanings(text, part, span, signs))
        };
        let count = self.count.span.span_if_any();
        let after_bracket = matches!(tokens.last(), Some(Token::Close(..)));
        if let Some(size) = self.digits_after {
            if let Some(error) = self.as_nuclide(text, tokens, size) {
                return Err(error);
            }
            // `]-2`: nothing but a charge can begin with a sign after a bracket.
            let certain = after_bracket && count.is_none() && self.signs == 1;
            return match i32::try_from(size) {
                Ok(size) if certain && size > 0 => Ok((size, true)),
                _ => ambiguous(signs.start),
            };
        }
        if self.signs > 1 {
            let size = i32::try_from(self.signs).ok();
            let size = size.filter(|size| *size <= MOST_CHARGE);
            let size = size.ok_or_else(|| Error::too_large(signs, "the charge", MOST_CHARGE));
            return Ok((size?, true));
        }
        let Some(count) = count.filter(|_| self.count.plain_digits) else {
            return Ok((1, true));
        };
        let digits = text.get(count.start..count.end).unwrap_or_default();
        match one_digit(digits) {
            Some(size) if self.follows_its_size(tokens, is_one_group) => Ok((size, false)),
            Some(_) if !after_bracket && tokens.len() > 1 && !self.is_of_oxo_cation(tokens) => {
                Ok((1, true))
            }
            _ => ambiguous(count.start),
        }
    }

    /// The error of a nuclide with its mass number after a hyphen: `U-235`.
    fn as_nuclide(&self, text: &str, tokens: &[Token], number: u32) -> Option<Error> {
        let [Token::Atom(atom, Count::ONE)] = tokens else {
            return None;
        };
        let number = u16::try_from(number).ok()?;
        let nuclide = Atom::labelled(atom.element(), number)?;
        if !self.negative || self.signs != 1 || atom.mass_number().is_some() {
            return None;
        }
        let signs = self.span.span();
        let start = signs.start.checked_sub(atom.element().symbol().len())?;
        let span = Span::new(start, signs.end);
        let written = text.get(span.start..span.end).unwrap_or_default();
        let corrected = corrected(text, span, &format!("{nuclide}"));
        Some(Error::say(
            ErrorKind::AmbiguousNotation,
            span,
            format!("`{written}` is the name of a nuclide, not a formula"),
            format!("write its mass number in square brackets: `{corrected}`"),
        ))
    }

    /// Whether one digit before the sign is the size of the charge: `Cu2+`, `[Fe(CN)6]3-`.
    fn follows_its_size(&self, tokens: &[Token], is_one_group: bool) -> bool {
        match tokens {
            [.., Token::Close(bracket, _)] => *bracket == Bracket::Square || is_one_group,
            [Token::Atom(atom, _)] => atom.element().is_metal() && !self.negative,
            _ => false,
        }
    }

    /// `VO2+` is VO2^+ or VO^2+.
    fn is_of_oxo_cation(&self, tokens: &[Token]) -> bool {
        matches!(tokens, [Token::Atom(metal, _), Token::Atom(oxygen, _)]
            if !self.negative
                && metal.element().is_metal()
                && oxygen.element() == Element::OXYGEN)
    }
}

fn one_digit(digits: &str) -> Option<i32> {
    let mut chars = digits.chars();
    let digit = chars.next().and_then(digit);
    digit.filter(|_| chars.next().is_none()).map(i32::from)
}

/// `SO42-` is SO4^2- or SO42^-.
fn two_meanings(text: &str, part: Span, ambiguous_span: Span, signs: Span) -> Error {
    let between = |from: usize, to: usize| text.get(from..to).unwrap_or_default();
    let digits = between(ambiguous_span.start, signs.start.max(ambiguous_span.start));
    let before = between(part.start, ambiguous_span.start);
    let written = between(signs.start, signs.end);
    let is_negative = written.starts_with(is_minus);
    let sign = if is_negative { '-' } else { '+' };
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
        ambiguous_span,
        format!(
            "`{}` can be read as {first} or as {second}",
            between(part.start, part.end)
        ),
        format!("write the charge after a caret: `{first}`"),
    )
}
