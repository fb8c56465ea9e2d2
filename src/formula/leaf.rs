//! The leaves of the notation: numbers, charges, labels, symbols. Each is a nom parser to whoever
//! calls it; runs of digits and charges, which are the commonest, are read character by character.

use nom::branch::alt;
use nom::bytes::complete::{tag, take_while_m_n};
use nom::character::complete::{anychar, char, satisfy};
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

/// Whether a sign on the line is a minus.
pub(super) fn sign(c: char) -> Option<bool> {
    (c == '+' || c == '\u{FF0B}' || is_minus(c)).then(|| is_minus(c))
}

fn raised_sign(c: char) -> Option<bool> {
    match c {
        '\u{207A}' => Some(false),
        '\u{207B}' => Some(true),
        _ => None,
    }
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

/// `2-`, `-2`, `-` or `--`: the signed size, and what is left of the text.
fn charge_body(
    text: &str,
    figure: impl Fn(char) -> Option<u8> + Copy,
    sign: impl Fn(char) -> Option<bool>,
) -> Option<(&str, i32)> {
    const MOST_DIGITS: usize = 3;
    let (rest, before) = Run::read(text, figure, MOST_DIGITS);
    let mut signs = rest.chars();
    let negative = signs.next().and_then(&sign)?;
    let mut rest = signs.as_str();
    let mut size = 1;
    if let Some(before) = before {
        size = before.value?;
    } else if let (behind, Some(after)) = Run::read(rest, figure, MOST_DIGITS) {
        rest = behind;
        size = after.value?;
    } else {
        while let Some(next) = signs.next().and_then(&sign) {
            if next != negative {
                return None;
            }
            size += 1;
            rest = signs.as_str();
        }
    }
    let size = i32::try_from(size).ok().filter(|size| *size > 0)?;
    Some((rest, if negative { -size } else { size }))
}

/// A charge that is marked as one: `^2-`, `^{2-}`, `²⁻`, `(2-)`.
pub(super) fn marked_charge(text: &str) -> Leaf<'_, i32> {
    let behind = |length: usize| text.get(length..).unwrap_or_default();
    let on_line = |text| charge_body(text, digit, sign);
    let closed = |found: Option<(_, _)>, bracket: char| {
        found.and_then(|(rest, charge): (&str, i32)| Some((rest.strip_prefix(bracket)?, charge)))
    };
    let charge = match text.as_bytes() {
        [b'^', b'{', ..] => closed(on_line(behind(2)), '}'),
        [b'^', ..] => on_line(behind(1)),
        [b'(', ..] => closed(on_line(behind(1)), ')'),
        _ => charge_body(text, raised, raised_sign),
    };
    charge.ok_or(nom::Err::Error(()))
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
    let (rest, number) = match text.as_bytes() {
        [b'^', b'{', ..] => delimited(tag("^{"), digits(), char('}')).parse(text),
        [b'^', ..] => preceded(char('^'), digits()).parse(text),
        _ => take_while_m_n(1, 3, |c| raised(c).is_some()).parse(text),
    }?;
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
#[derive(Default)]
pub(super) struct Digits {
    pub(super) whole: Run,
    pub(super) decimals: Option<Run>,
    pub(super) below: Option<Run>,
    pub(super) vulgar: Option<(u32, u32)>,
}

/// Digits in a row.
#[derive(Clone, Copy, Default)]
pub(super) struct Run {
    pub(super) length: usize,
    pub(super) begins_with_zero: bool,
    /// `None` where it is too large.
    pub(super) value: Option<u32>,
}

impl Run {
    /// The digits at the head of a text, if it has any, but no more than so many; and the rest.
    #[inline(always)]
    fn read(text: &str, figure: impl Fn(char) -> Option<u8>, most: usize) -> (&str, Option<Run>) {
        let mut run = Run::default();
        let mut chars = text.chars();
        let mut rest = text;
        while run.length < most {
            let Some(figure) = chars.next().and_then(&figure) else {
                break;
            };
            run.begins_with_zero |= run.length == 0 && figure == 0;
            let value = match run.length {
                0 => Some(0),
                _ => run.value.and_then(|value| value.checked_mul(10)),
            };
            run.value = value.and_then(|value| value.checked_add(figure.into()));
            run.length += 1;
            rest = chars.as_str();
        }
        (rest, (run.length > 0).then_some(run))
    }
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
    figure: impl Fn(char) -> Option<u8> + Copy,
    decimal_point: impl Fn(Run, &'a str) -> bool,
) -> impl FnMut(&'a str) -> Leaf<'a, Digits> {
    let run = move |text| Run::read(text, figure, usize::MAX);
    move |text| {
        let (rest, whole) = run(text);
        let mut found = Digits {
            whole: whole.unwrap_or_default(),
            ..Digits::default()
        };
        if let Ok((rest, fraction)) = vulgar(rest) {
            found.vulgar = Some(fraction);
            return Ok((rest, found));
        }
        let whole = whole.ok_or(nom::Err::Error(()))?;
        if let Some(behind) = rest.strip_prefix('.') {
            if let (rest, Some(decimals)) = run(behind) {
                if decimal_point(whole, behind) {
                    found.decimals = Some(decimals);
                    return Ok((rest, found));
                }
            }
        } else if let Some(behind) = rest.strip_prefix(['/', '\u{2044}']) {
            if let (rest, Some(below)) = run(behind) {
                found.below = Some(below);
                return Ok((rest, found));
            }
        }
        Ok((rest, found))
    }
}
