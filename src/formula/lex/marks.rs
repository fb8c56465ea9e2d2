//! Charges, labels of states and labelled atoms. Each function is a nom parser. Charges, which are the
//! commonest, are read character by character.

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::{tag, take};
use nom::character::complete::{char, satisfy};
use nom::combinator::{peek, value};
use nom::sequence::{delimited, pair, preceded};

use super::digits::{DigitRun, Leaf, small_number};
use crate::formula::repr::State;
use crate::text::{digit, is_minus, is_plus, superscript_digit, superscript_sign};

/// Whether a sign on the line is a minus.
pub(crate) fn sign(c: char) -> Option<bool> {
    (is_plus(c) || is_minus(c)).then(|| is_minus(c))
}

/// `2-`, `-2`, `-` or `--`: the rest of the text, and the signed size.
fn charge_body(
    text: &str,
    figure: impl Fn(char) -> Option<u8> + Copy,
    sign: impl Fn(char) -> Option<bool>,
) -> Option<(&str, i32)> {
    const MOST_DIGITS: u16 = 3;
    let (rest, before) = DigitRun::read(text, figure, MOST_DIGITS);
    let mut signs = rest.chars();
    let negative = signs.next().and_then(&sign)?;
    let mut rest = signs.as_str();
    let mut size = 1;
    if let Some(before) = before {
        size = before.value;
    } else if let (shorter, Some(after)) = DigitRun::read(rest, figure, MOST_DIGITS) {
        rest = shorter;
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
    let after = |length: usize| text.get(length..).unwrap_or_default();
    let on_line = |text| charge_body(text, digit, sign);
    let closed = |found: Option<(_, _)>, bracket: char| {
        found.and_then(|(rest, charge): (&str, i32)| Some((rest.strip_prefix(bracket)?, charge)))
    };
    let charge = match text.as_bytes() {
        [b'^', b'{', ..] => closed(on_line(after(2)), '}'),
        [b'^', ..] => on_line(after(1)),
        [b'(', ..] => closed(on_line(after(1)), ')'),
        _ => charge_body(text, superscript_digit, superscript_sign),
    };
    charge.ok_or(nom::Err::Error(()))
}

/// `(s)`, `(l)`, `(g)` or `(aq)`.
pub(crate) fn state_label(text: &str) -> Leaf<'_, State> {
    let label = |state: State| value(state, tag(state.label()));
    let [solid, liquid, gas, aqueous] = State::ALL.map(label);
    alt((solid, liquid, gas, aqueous)).parse(text)
}

/// A capital, with or without a small letter after it.
fn symbol(text: &str) -> Leaf<'_, &str> {
    let length: usize = match text.as_bytes() {
        [b'A'..=b'Z', b'a'..=b'z', ..] => 2,
        [b'A'..=b'Z', ..] => 1,
        _ => return Err(nom::Err::Error(())),
    };
    take(length).parse(text)
}

/// The mass number before a labelled atom: `^18`, `^{18}` or `¹⁸`, with a capital after it.
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
