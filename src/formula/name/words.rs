//! A name cut into words, numbers and signs, each with its place.

use alloc::string::String;
use alloc::vec::Vec;

use crate::formula::lex::vulgar_fraction;
use crate::formula::repr::Count;
use crate::number::Ratio;
use crate::text::{Span, digit, is_minus, is_space};

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Piece {
    /// Letters, made small; `sulph` is written `sulf`.
    Word(String),
    /// Digits, a decimal point among them or not, or a vulgar fraction.
    Number(String),
    /// `-` for every hyphen and minus, `—` for every longer dash.
    Sign(char),
}

#[derive(Debug, Clone)]
pub(super) struct Token {
    pub(super) piece: Piece,
    pub(super) span: Span,
    /// Whether `sulph` was written.
    pub(super) respelt: bool,
}

impl Token {
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
}

/// From the first of these to the last.
pub(super) fn span(tokens: &[Token]) -> Option<Span> {
    Some(Span::new(
        tokens.first()?.span.start,
        tokens.last()?.span.end,
    ))
}

pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let length = if c.is_alphabetic() {
            run(rest, char::is_alphabetic)
        } else if digit(c).is_some() {
            number(rest)
        } else {
            c.len_utf8()
        };
        let (taken, behind) = rest.split_at_checked(length).unwrap_or((rest, ""));
        let start = text.len() - rest.len();
        rest = behind;
        if is_space(c) {
            continue;
        }
        let small = taken.to_lowercase();
        let respelt = small.contains("sulph");
        let piece = if c.is_alphabetic() {
            Piece::Word(small.replace("sulph", "sulf"))
        } else if digit(c).is_some() {
            Piece::Number(plain(taken))
        } else if let Some((above, below)) = vulgar_fraction(c) {
            Piece::Number(alloc::format!("{above}/{below}"))
        } else {
            Piece::Sign(match c {
                '\u{2013}' | '\u{2014}' | '\u{2015}' | '\u{2012}' => '—',
                c if is_minus(c) => '-',
                '\u{FF08}' => '(',
                '\u{FF09}' => ')',
                c => c,
            })
        };
        tokens.push(Token {
            piece,
            span: Span::new(start, start + taken.len()),
            respelt,
        });
    }
    tokens
}

fn run(text: &str, within: fn(char) -> bool) -> usize {
    text.len() - text.trim_start_matches(within).len()
}

/// Digits, and a decimal mark with digits behind it.
fn number(text: &str) -> usize {
    let is_digit = |c| digit(c).is_some();
    let whole = run(text, is_digit);
    let behind = text.get(whole..).unwrap_or_default();
    match behind.strip_prefix(['.', ',']) {
        Some(decimals) if decimals.starts_with(is_digit) => whole + 1 + run(decimals, is_digit),
        _ => whole,
    }
}

fn plain(digits: &str) -> String {
    let figure = |c| match digit(c) {
        Some(d) => char::from(b'0' + d),
        None => '.',
    };
    digits.chars().map(figure).collect()
}

/// The most digits of a number in a name.
const MOST_DIGITS: usize = 6;

/// The count that digits say, above nought and not too long.
pub(super) fn count(digits: &str) -> Option<Count> {
    if digits.len() > MOST_DIGITS + 1 {
        return None;
    }
    Count::from_ratio(&digits.parse::<Ratio>().ok()?)
}
