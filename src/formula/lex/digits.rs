//! Digits on the line, lowered and raised, and the numbers that they make.

use nom::IResult;

use crate::text::{digit, subscript_digit, superscript_digit};

/// What a parser returns: the rest of the text, and what was read.
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

/// A parser of the number in the first digits of a text, three at most.
pub(crate) fn small_number(
    figure: impl Fn(char) -> Option<u8> + Copy,
) -> impl FnMut(&str) -> Leaf<'_, u16> {
    move |text| match DigitRun::read(text, figure, 3) {
        (rest, Some(run)) => Ok((rest, run.value as u16)),
        _ => Err(nom::Err::Error(())),
    }
}

/// A count in digits: `5`, `2.5`, `8/3`, `½`, `2½`. The caller says whether a full stop or a comma may
/// be a decimal mark.
pub(crate) struct Digits {
    /// No digits if there is nothing but a vulgar fraction.
    pub(crate) whole: DigitRun,
    pub(crate) fraction: Fraction,
}

/// What may follow whole digits, or take their place.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fraction {
    None,
    /// The digits after the decimal point.
    Decimals(DigitRun),
    /// The digits below the fraction line.
    Below(DigitRun),
    /// The numerator and the denominator of a single character.
    Vulgar(u32, u32),
}

/// Digits in a row.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct DigitRun {
    /// The number, which is wrong if there are more than nine digits.
    pub(crate) value: u32,
    /// A text is short enough for two bytes.
    pub(crate) length: u16,
    pub(crate) begins_with_zero: bool,
}

impl DigitRun {
    /// The digits at the start of a text, if it has any, but no more than `most`, and the rest.
    pub(crate) fn read(
        text: &str,
        figure: impl Fn(char) -> Option<u8>,
        most: u16,
    ) -> (&str, Option<DigitRun>) {
        let mut run = DigitRun::default();
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
    is_decimal_mark: impl Fn(char, DigitRun, &'a str) -> bool,
) -> impl FnMut(&'a str) -> Leaf<'a, Digits> {
    let run = move |text| DigitRun::read(text, figure, u16::MAX);
    move |text| {
        let (after_whole, whole) = run(text);
        let mut signs = after_whole.chars();
        let sign = signs.next();
        let after = signs.as_str();
        let (rest, fraction) = match sign {
            Some(mark @ ('.' | ',')) => match run(after) {
                (rest, Some(decimals))
                    if is_decimal_mark(mark, whole.unwrap_or_default(), after) =>
                {
                    (rest, Fraction::Decimals(decimals))
                }
                _ => (after_whole, Fraction::None),
            },
            Some('/' | '\u{2044}') => match run(after) {
                (rest, Some(below)) => (rest, Fraction::Below(below)),
                _ => (after_whole, Fraction::None),
            },
            Some(sign) => match vulgar_fraction(sign) {
                Some((above, below)) => (after, Fraction::Vulgar(above, below)),
                None => (after_whole, Fraction::None),
            },
            None => (after_whole, Fraction::None),
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

/// The first digit and the others.
pub(crate) fn split_first_digit(digits: &str) -> (&str, &str) {
    let first = digits.chars().next().map_or(0, char::len_utf8);
    digits.split_at(first)
}
