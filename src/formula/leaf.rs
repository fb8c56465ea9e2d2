//! The leaves of the notation, as nom parsers that look like the grammar: numbers, charges,
//! labels, symbols.

use nom::branch::alt;
use nom::bytes::complete::{tag, take_while_m_n, take_while1};
use nom::character::complete::{anychar, char, one_of, satisfy};
use nom::combinator::{map_opt, opt, peek, recognize, value};
use nom::sequence::{delimited, pair, preceded};
use nom::{IResult, Parser};

use super::State;
use crate::text::{digit, is_minus};

pub(super) type Leaf<'a, T> = IResult<&'a str, T, ()>;

pub(super) fn is_digit(c: char) -> bool {
    digit(c).is_some()
}

pub(super) fn lowered(c: char) -> Option<u8> {
    u8::try_from((c as u32).checked_sub(0x2080)?)
        .ok()
        .filter(|d| *d < 10)
}

pub(super) fn raised(c: char) -> Option<u8> {
    match c {
        '\u{00B2}' => Some(2),
        '\u{00B3}' => Some(3),
        '\u{00B9}' => Some(1),
        '\u{2070}' | '\u{2074}'..='\u{2079}' => u8::try_from(c as u32 - 0x2070).ok(),
        _ => None,
    }
}

/// Digits in any of their forms, as a number.
pub(super) fn any_digit(c: char) -> Option<u8> {
    digit(c).or_else(|| lowered(c)).or_else(|| raised(c))
}

pub(super) fn sign(text: &str) -> Leaf<'_, bool> {
    satisfy(|c| c == '+' || c == '\u{FF0B}' || is_minus(c))
        .map(is_minus)
        .parse(text)
}

pub(super) fn raised_sign(text: &str) -> Leaf<'_, bool> {
    alt((
        value(false, char('\u{207A}')),
        value(true, char('\u{207B}')),
    ))
    .parse(text)
}

pub(super) fn small_number(digits: &str) -> Option<u32> {
    let mut number: u32 = 0;
    for c in digits.chars() {
        number = number
            .checked_mul(10)?
            .checked_add(u32::from(any_digit(c)?))?;
    }
    Some(number)
}

/// `2-`, `-2`, `-` or `--`: the signed size.
pub(super) fn charge_body<'a>(
    is_figure: fn(char) -> bool,
    sign: fn(&'a str) -> Leaf<'a, bool>,
) -> impl FnMut(&'a str) -> Leaf<'a, i32> {
    move |text| {
        let (rest, before) = opt(take_while_m_n(1, 3, is_figure)).parse(text)?;
        let (mut rest, negative) = sign(rest)?;
        let mut size = 1;
        if let Some(before) = before {
            size = small_number(before).unwrap_or(0);
        } else if let (after, Some(digits)) = opt(take_while_m_n(1, 3, is_figure)).parse(rest)? {
            rest = after;
            size = small_number(digits).unwrap_or(0);
        } else {
            while let Ok((after, next)) = sign(rest) {
                if next != negative {
                    return Err(nom::Err::Error(()));
                }
                size += 1;
                rest = after;
            }
        }
        let size = i32::try_from(size).unwrap_or(0);
        if size == 0 {
            return Err(nom::Err::Error(()));
        }
        Ok((rest, if negative { -size } else { size }))
    }
}

/// A charge that is marked as one: `^2-`, `^{2-}`, `²⁻`, `(2-)`.
pub(super) fn marked_charge(text: &str) -> Leaf<'_, i32> {
    alt((
        delimited(tag("^{"), charge_body(is_digit, sign), char('}')),
        preceded(char('^'), charge_body(is_digit, sign)),
        charge_body(|c| raised(c).is_some(), raised_sign),
        delimited(char('('), charge_body(is_digit, sign), char(')')),
    ))
    .parse(text)
}

/// `(s)`, `(l)`, `(g)` or `(aq)`.
pub(super) fn state(text: &str) -> Leaf<'_, State> {
    delimited(
        char('('),
        alt((
            value(State::Aqueous, tag("aq")),
            value(State::Solid, tag("s")),
            value(State::Liquid, tag("l")),
            value(State::Gas, tag("g")),
        )),
        char(')'),
    )
    .parse(text)
}

pub(super) fn symbol(text: &str) -> Leaf<'_, &str> {
    recognize(pair(
        satisfy(|c| c.is_ascii_uppercase()),
        opt(satisfy(|c| c.is_ascii_lowercase())),
    ))
    .parse(text)
}

/// The mass number before a labelled atom: `^18`, `^{18}` or `¹⁸`, with a capital behind it.
pub(super) fn raised_mass_number(text: &str) -> Leaf<'_, &str> {
    let digits = || take_while_m_n(1, 3, is_digit);
    let (rest, number) = alt((
        delimited(tag("^{"), digits(), char('}')),
        preceded(char('^'), digits()),
        take_while_m_n(1, 3, |c| raised(c).is_some()),
    ))
    .parse(text)?;
    peek(satisfy(|c| c.is_ascii_uppercase())).parse(rest)?;
    Ok((rest, number))
}

/// The inside of `[18O]`.
pub(super) fn bracketed_nuclide(text: &str) -> Leaf<'_, (&str, &str)> {
    delimited(
        char('['),
        pair(take_while_m_n(1, 3, is_digit), symbol),
        char(']'),
    )
    .parse(text)
}

/// A count in digits: `5`, `2.5`, `8/3`, `½`, `2½`. The caller says whether a full stop may be
/// a decimal point.
pub(super) struct Digits<'a> {
    pub(super) whole: &'a str,
    pub(super) decimals: Option<&'a str>,
    pub(super) below: Option<&'a str>,
    pub(super) vulgar: Option<(u32, u32)>,
}

/// `½` and its like, as numerator and denominator.
pub(crate) fn vulgar_fraction(c: char) -> Option<(u32, u32)> {
    Some(match c {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}

fn vulgar(text: &str) -> Leaf<'_, (u32, u32)> {
    map_opt(anychar, vulgar_fraction).parse(text)
}

pub(super) fn digits<'a>(
    is_figure: fn(char) -> bool,
    decimal_point: impl Fn(&'a str, &'a str) -> bool,
) -> impl FnMut(&'a str) -> Leaf<'a, Digits<'a>> {
    move |text| {
        if let Ok((rest, fraction)) = vulgar(text) {
            let digits = Digits {
                whole: "",
                decimals: None,
                below: None,
                vulgar: Some(fraction),
            };
            return Ok((rest, digits));
        }
        let (rest, whole) = take_while1(is_figure).parse(text)?;
        let figures_behind = |marks: &'static str, text: &'a str| -> Leaf<'a, &'a str> {
            preceded(one_of(marks), take_while1(is_figure)).parse(text)
        };
        let mut found = Digits {
            whole,
            decimals: None,
            below: None,
            vulgar: None,
        };
        if let Ok((after, decimals)) = figures_behind(".", rest) {
            if decimal_point(whole, rest.get(1..).unwrap_or_default()) {
                found.decimals = Some(decimals);
                return Ok((after, found));
            }
        } else if let Ok((after, below)) = figures_behind("/\u{2044}", rest) {
            found.below = Some(below);
            return Ok((after, found));
        } else if let Ok((after, fraction)) = vulgar(rest) {
            found.vulgar = Some(fraction);
            return Ok((after, found));
        }
        Ok((rest, found))
    }
}
