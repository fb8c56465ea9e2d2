//! A name cut into words, numbers and signs, each with its place in the text.

use alloc::string::String;
use alloc::vec::Vec;

use crate::formula::lex::vulgar_fraction;
use crate::formula::repr::Count;
use crate::number::Ratio;
use crate::text::{Span, digit, is_minus, is_space};

#[derive(PartialEq)]
pub(super) enum Piece {
    /// Letters in lower case. `sulph` becomes `sulf`.
    Word(String),
    /// Digits with or without a decimal point, or a vulgar fraction.
    Number(String),
    /// `-` for every hyphen and minus, `—` for every longer dash.
    Sign(char),
}

pub(super) struct NameToken {
    pub(super) piece: Piece,
    pub(super) span: Span,
    /// Whether the text has `sulph`.
    pub(super) has_sulph: bool,
}

impl NameToken {
    pub(super) fn word(&self) -> Option<&str> {
        match &self.piece {
            Piece::Word(word) => Some(word),
            _ => None,
        }
    }

    pub(super) fn number(&self) -> Option<&str> {
        match &self.piece {
            Piece::Number(digits) => Some(digits),
            _ => None,
        }
    }

    pub(super) fn is(&self, sign: char) -> bool {
        self.piece == Piece::Sign(sign)
    }

    fn is_dash(&self) -> bool {
        self.is('-') || self.is('—')
    }
}

/// From the first of these to the last.
pub(super) fn span(tokens: &[NameToken]) -> Option<Span> {
    Some(Span::new(
        tokens.first()?.span.start,
        tokens.last()?.span.end,
    ))
}

/// The tokens without a dash or a comma at the end.
pub(super) fn trimmed(tokens: &[NameToken]) -> &[NameToken] {
    match tokens.split_last() {
        Some((last, before)) if last.is_dash() || last.is(',') => before,
        _ => tokens,
    }
}

/// The tokens as one text, with a space before each word that is not the first or in brackets.
pub(super) fn joined<'t>(tokens: impl Iterator<Item = &'t NameToken>) -> String {
    let mut text = String::new();
    for token in tokens {
        match &token.piece {
            Piece::Sign(sign) => text.push(*sign),
            Piece::Word(word) | Piece::Number(word) => {
                if !(text.is_empty() || text.ends_with('(')) {
                    text.push(' ');
                }
                text.push_str(word);
            }
        }
    }
    text
}

pub(super) fn split(text: &str) -> Vec<NameToken> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let length = if c.is_alphabetic() {
            length_while(rest, char::is_alphabetic)
        } else if digit(c).is_some() {
            number_length(rest)
        } else {
            c.len_utf8()
        };
        let start = text.len() - rest.len();
        let (taken, after) = rest.split_at_checked(length).unwrap_or((rest, ""));
        rest = after;
        if is_space(c) {
            continue;
        }
        let lower = taken.to_lowercase();
        let has_sulph = lower.contains("sulph");
        let piece = if c.is_alphabetic() {
            Piece::Word(lower.replace("sulph", "sulf"))
        } else if digit(c).is_some() {
            Piece::Number(ascii_digits(taken))
        } else if let Some((numerator, denominator)) = vulgar_fraction(c) {
            Piece::Number(alloc::format!("{numerator}/{denominator}"))
        } else {
            Piece::Sign(match c {
                '\u{2013}' | '\u{2014}' | '\u{2015}' | '\u{2012}' => '—',
                c if is_minus(c) => '-',
                '\u{FF08}' => '(',
                '\u{FF09}' => ')',
                c => c,
            })
        };
        tokens.push(NameToken {
            piece,
            span: Span::new(start, start + taken.len()),
            has_sulph,
        });
    }
    tokens
}

fn length_while(text: &str, within: fn(char) -> bool) -> usize {
    text.len() - text.trim_start_matches(within).len()
}

/// The length of digits, and of a decimal mark if digits follow it.
fn number_length(text: &str) -> usize {
    let is_digit = |c| digit(c).is_some();
    let whole = length_while(text, is_digit);
    let after = text.get(whole..).unwrap_or_default();
    match after.strip_prefix(['.', ',']) {
        Some(decimals) if decimals.starts_with(is_digit) => {
            whole + 1 + length_while(decimals, is_digit)
        }
        _ => whole,
    }
}

fn ascii_digits(digits: &str) -> String {
    let ascii = |c| digit(c).map_or('.', |d| char::from(b'0' + d));
    digits.chars().map(ascii).collect()
}

/// The largest number of digits that a number in a name has.
pub(super) const MOST_DIGITS: usize = 6;

/// The count that digits give, if it is positive and not too long.
pub(super) fn count(digits: &str) -> Option<Count> {
    if digits.len() > MOST_DIGITS + 1 {
        return None;
    }
    Count::from_ratio(&digits.parse::<Ratio>().ok()?)
}
