//! The leaves of the notation: numbers, charges, labels, symbols. Each is a nom parser to whoever
//! calls it; runs of digits and charges, which are the commonest, are read character by character.

use nom::branch::alt;
use nom::bytes::complete::{tag, take};
use nom::character::complete::{char, satisfy};
use nom::combinator::{peek, value};
use nom::sequence::{delimited, pair, preceded};
use nom::{IResult, Parser};

use crate::formula::repr::State;
use crate::text::{digit, is_minus, is_plus, subscript_digit, superscript_digit, superscript_sign};

pub(crate) type Leaf<'a, T> = IResult<&'a str, T, ()>;

pub(crate) fn is_digit(c: char) -> bool {
    digit(c).is_some()
}

/// Digits in any of their forms, as a number.
pub(crate) fn any_digit(c: char) -> Option<u8> {
    digit(c)
        .or_else(|| subscript_digit(c))
        .or_else(|| superscript_digit(c))
}

/// Whether a sign on the line is a minus.
pub(crate) fn sign(c: char) -> Option<bool> {
    (is_plus(c) || is_minus(c)).then(|| is_minus(c))
}

/// The number in the first digits of a text, three at most.
pub(crate) fn small_number(
    figure: impl Fn(char) -> Option<u8> + Copy,
) -> impl FnMut(&str) -> Leaf<'_, u16> {
    move |text| match Run::read(text, figure, 3) {
        (rest, Some(run)) => Ok((rest, run.value as u16)),
        _ => Err(nom::Err::Error(())),
    }
}

/// `2-`, `-2`, `-` or `--`: the signed size, and what is left of the text.
fn charge_body(
    text: &str,
    figure: impl Fn(char) -> Option<u8> + Copy,
    sign: impl Fn(char) -> Option<bool>,
) -> Option<(&str, i32)> {
    const MOST_DIGITS: u16 = 3;
    let (rest, before) = Run::read(text, figure, MOST_DIGITS);
    let mut signs = rest.chars();
    let negative = signs.next().and_then(&sign)?;
    let mut rest = signs.as_str();
    let mut size = 1;
    if let Some(before) = before {
        size = before.value;
    } else if let (behind, Some(after)) = Run::read(rest, figure, MOST_DIGITS) {
        rest = behind;
        size = after.value;
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
pub(crate) fn marked_charge(text: &str) -> Leaf<'_, i32> {
    let behind = |length: usize| text.get(length..).unwrap_or_default();
    let on_line = |text| charge_body(text, digit, sign);
    let closed = |found: Option<(_, _)>, bracket: char| {
        found.and_then(|(rest, charge): (&str, i32)| Some((rest.strip_prefix(bracket)?, charge)))
    };
    let charge = match text.as_bytes() {
        [b'^', b'{', ..] => closed(on_line(behind(2)), '}'),
        [b'^', ..] => on_line(behind(1)),
        [b'(', ..] => closed(on_line(behind(1)), ')'),
        _ => charge_body(text, superscript_digit, superscript_sign),
    };
    charge.ok_or(nom::Err::Error(()))
}

/// `(s)`, `(l)`, `(g)` or `(aq)`.
pub(crate) fn state(text: &str) -> Leaf<'_, State> {
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

/// A capital, with a small letter behind it or not.
fn symbol(text: &str) -> Leaf<'_, &str> {
    let length: usize = match text.as_bytes() {
        [b'A'..=b'Z', b'a'..=b'z', ..] => 2,
        [b'A'..=b'Z', ..] => 1,
        _ => return Err(nom::Err::Error(())),
    };
    take(length).parse(text)
}

/// The mass number before a labelled atom: `^18`, `^{18}` or `¹⁸`, with a capital behind it.
pub(crate) fn raised_mass_number(text: &str) -> Leaf<'_, u16> {
    let (rest, number) = match text.as_bytes() {
        [b'^', b'{', ..] => delimited(tag("^{"), small_number(digit), char('}')).parse(text),
        [b'^', ..] => preceded(char('^'), small_number(digit)).parse(text),
        _ => small_number(superscript_digit)(text),
    }?;
    peek(satisfy(|c| c.is_ascii_uppercase())).parse(rest)?;
    Ok((rest, number))
}

/// The mass number and the symbol of `[18O]`.
pub(crate) fn bracketed_nuclide(text: &str) -> Leaf<'_, (u16, &str)> {
    delimited(char('['), pair(small_number(digit), symbol), char(']')).parse(text)
}

/// A count in digits: `5`, `2.5`, `8/3`, `½`, `2½`. The caller says whether a full stop may be
/// a decimal point.
pub(crate) struct Digits {
    /// No digits, where a vulgar fraction stands alone.
    pub(crate) whole: Run,
    pub(crate) fraction: Fraction,
}

/// What may stand behind whole digits, or in their place.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fraction {
    None,
    /// Behind the decimal point.
    Decimals(Run),
    /// Below the fraction line.
    Below(Run),
    /// The numerator and the denominator of a single sign.
    Vulgar(u32, u32),
}

/// Digits in a row.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Run {
    /// Means nothing where there are more digits than nine.
    pub(crate) value: u32,
    /// A text is short enough for two bytes.
    pub(crate) length: u16,
    pub(crate) begins_with_zero: bool,
}

impl Run {
    /// The digits at the head of a text, if it has any, but no more than so many; and the rest.
    #[inline(always)]
    fn read(text: &str, figure: impl Fn(char) -> Option<u8>, most: u16) -> (&str, Option<Run>) {
        let mut run = Run::default();
        let mut chars = text.chars();
        let mut rest = text;
        while run.length < most {
            let Some(figure) = chars.next().and_then(&figure) else {
                break;
            };
            run.begins_with_zero |= run.length == 0 && figure == 0;
            run.value = run.value.wrapping_mul(10).wrapping_add(figure.into());
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

pub(crate) fn digits<'a>(
    figure: impl Fn(char) -> Option<u8> + Copy,
    decimal_point: impl Fn(Run, &'a str) -> bool,
) -> impl FnMut(&'a str) -> Leaf<'a, Digits> {
    let run = move |text| Run::read(text, figure, u16::MAX);
    move |text| {
        let (behind, whole) = run(text);
        let mut signs = behind.chars();
        let sign = signs.next();
        let after = signs.as_str();
        let (rest, fraction) = match sign {
            Some('.') => match run(after) {
                (rest, Some(decimals)) if decimal_point(whole.unwrap_or_default(), after) => {
                    (rest, Fraction::Decimals(decimals))
                }
                _ => (behind, Fraction::None),
            },
            Some('/' | '\u{2044}') => match run(after) {
                (rest, Some(below)) => (rest, Fraction::Below(below)),
                _ => (behind, Fraction::None),
            },
            Some(sign) => match vulgar_fraction(sign) {
                Some((above, below)) => (after, Fraction::Vulgar(above, below)),
                None => (behind, Fraction::None),
            },
            None => (behind, Fraction::None),
        };
        match (whole, fraction) {
            (None, Fraction::Vulgar(..)) | (Some(_), _) => {
                let whole = whole.unwrap_or_default();
                Ok((rest, Digits { whole, fraction }))
            }
            (None, _) => Err(nom::Err::Error(())),
        }
    }
}
