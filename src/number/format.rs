//! Numbers as a format asks for them: decimal places, sign, width and fill.

use alloc::string::String;
use core::fmt::{self, Write};
use core::iter::repeat_n;

use super::ratio::Ratio;
use super::rounding::{MOST_DECIMAL_PLACES, Rounded};
use super::ties::TieRule;

/// Writes a number as a format asks. A precision is a number of decimal places, to which the exact
/// value is rounded, ties to even. Without one the number is written `in_full`.
pub(crate) fn write_number(
    f: &mut fmt::Formatter<'_>,
    value: impl FnOnce() -> Ratio,
    in_full: impl FnOnce() -> String,
) -> fmt::Result {
    let text = match f.precision() {
        Some(decimal_places) => {
            let decimal_places = i32::try_from(decimal_places).unwrap_or(MOST_DECIMAL_PLACES);
            value().to_places(decimal_places, TieRule::Even).plain()
        }
        None => in_full(),
    };
    pad_number(f, &text)
}

/// Writes the text of a number with the sign, the zeros in front, the width and the fill of a format.
///
/// [`fmt::Formatter::pad_integral`] would count the bytes of `±`.
pub(super) fn pad_number(f: &mut fmt::Formatter<'_>, text: &str) -> fmt::Result {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(digits) => ("-", digits),
        None if f.sign_plus() => ("+", text),
        None => ("", text),
    };
    let written = sign.len() + digits.chars().count();
    let missing = f.width().unwrap_or(0).saturating_sub(written);
    // Zeros in front of a fraction would read as another one.
    let by_zeros = f.sign_aware_zero_pad();
    let fill = if by_zeros { ' ' } else { f.fill() };
    let (before, zeros, after) = match f.align() {
        _ if by_zeros && digits.contains('/') => (missing, 0, 0),
        _ if by_zeros => (0, missing, 0),
        Some(fmt::Alignment::Left) => (0, 0, missing),
        Some(fmt::Alignment::Center) => (missing / 2, 0, missing.div_ceil(2)),
        Some(fmt::Alignment::Right) | None => (missing, 0, 0),
    };
    repeat_n(fill, before).try_for_each(|c| f.write_char(c))?;
    f.write_str(sign)?;
    repeat_n('0', zeros).try_for_each(|c| f.write_char(c))?;
    f.write_str(digits)?;
    repeat_n(fill, after).try_for_each(|c| f.write_char(c))
}

impl fmt::Display for Rounded {
    /// Writes plain decimal notation, never an exponent. A precision (`{:.1}`) rounds once more, ties
    /// to even.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_number(f, || self.value(), || self.plain())
    }
}
