//! The words of a degree of hydration: `heptahydrate`, `0.5-hydrate`, `5-water`.

use alloc::format;

use super::numbers;
use super::reader::{NameReader, bad_name};
use super::remark::NameRemark;
use super::spelling::nearest;
use super::words::{self, MOST_DIGITS, NameToken, trimmed};
use crate::formula::error::Error;
use crate::formula::repr::Count;
use crate::text::Span;

/// The tokens before a number, and the number.
type NumberAfter<'a> = (&'a [NameToken], Count);

/// A count in digits, or an unknown one: `x` or `n`.
pub(super) fn count(token: &NameToken) -> Option<Count> {
    match (token.word(), token.number()) {
        (Some("x"), _) => Some(Count::Unknown('x')),
        (Some("n"), _) => Some(Count::Unknown('n')),
        (_, Some(digits)) => words::count(digits),
        _ => None,
    }
}

impl NameReader<'_> {
    /// The degree of hydration at the end, and the tokens before it. `None` if there is no degree.
    pub(super) fn degree<'a>(
        &mut self,
        tokens: &'a [NameToken],
    ) -> Result<Option<NumberAfter<'a>>, Error> {
        let Some((last, before)) = tokens.split_last() else {
            return Ok(None);
        };
        let before = trimmed(before);
        let word = last.word().unwrap_or_default();
        if word == "water" {
            return self.digits_before(before, last);
        }
        let Some(prefix) = word.strip_suffix("hydrate") else {
            return Ok(None);
        };
        if !prefix.is_empty() {
            let count = numbers::degree(prefix);
            let count = count.ok_or_else(|| self.unknown_prefix(last, prefix))?;
            return Ok(Some((before, count)));
        }
        if let Some(degree) = self.digits_before(before, last)? {
            return Ok(Some(degree));
        }
        if let Some((token, rest)) = before.split_last() {
            let degree = count(token).or_else(|| numbers::degree(token.word()?));
            if let Some(degree) = degree {
                return Ok(Some((trimmed(rest), degree)));
            }
        }
        self.remarks.push(NameRemark::OpenDegree);
        Ok(Some((before, Count::Unknown('x'))))
    }

    /// The number in digits that comes before a word, and the tokens before the number.
    fn digits_before<'a>(
        &self,
        tokens: &'a [NameToken],
        word: &NameToken,
    ) -> Result<Option<NumberAfter<'a>>, Error> {
        let (rest, digits, first) = match tokens {
            [rest @ .., first, slash, last] if slash.is('/') => {
                let (Some(numerator), Some(denominator)) = (first.number(), last.number()) else {
                    return Ok(None);
                };
                (rest, format!("{numerator}/{denominator}"), first)
            }
            [rest @ .., token] => match token.number() {
                Some(digits) => (rest, digits.into(), token),
                None => return Ok(None),
            },
            [] => return Ok(None),
        };
        match words::count(&digits) {
            Some(count) => Ok(Some((trimmed(rest), count))),
            None => Err(bad_name(
                Span::new(first.span.start, word.span.end),
                format!("`{digits}` is not a degree of hydration"),
                format!("write a positive number of at most {MOST_DIGITS} digits: `0.5-hydrate`"),
            )),
        }
    }

    fn unknown_prefix(&self, token: &NameToken, prefix: &str) -> Error {
        // The prefix has the same letters as the text, but it may have other bytes.
        let written = self.written(token.span).len();
        let length = written.saturating_sub("hydrate".len());
        let span = Span::new(token.span.start, token.span.start + length);
        let help = match nearest(prefix, numbers::prefixes()) {
            Some(term) => format!("write `{term}hydrate`, or the number in digits: `7-hydrate`"),
            None => "write the number in digits: `7-hydrate`".into(),
        };
        let message = format!("`{}` is not a numerical prefix", self.quoted(span));
        bad_name(span, message, help)
    }
}
