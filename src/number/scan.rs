//! Text to a reading, character by character.

// Inlining into one loop, with errors kept out of it, reads a number in 10 ns. Without these
// attributes it takes 13 ns (release build, numbers of a class sheet).

use alloc::format;
use alloc::string::String;

use core::str::FromStr;

use super::error::{Error, ErrorKind};
use super::reading::{MOST_DIGITS, MOST_EXPONENT, Reading};
use crate::text::{self, Detail, Span, shorten, superscript_digit, superscript_sign};

/// The character between the whole number and its decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum DecimalMark {
    /// A point. A comma is refused, with both of its possible meanings.
    #[default]
    Point,
    /// A comma or a point, as in a sheet that does not separate its cells by commas.
    CommaOrPoint,
}

/// Why a text is not a number. It is put into words only if somebody reads it.
#[derive(Debug, Clone, Copy)]
pub(super) enum ScanError {
    /// The unexpected character and its offset; `None` if digits are missing.
    NotANumber(Option<(usize, char)>),
    /// The offset of a comma that may mark decimals or thousands.
    Comma(usize),
    TooManyDigits,
    /// The last digit is too far from the decimal mark.
    LastDigit,
}

/// A text and the offset that is read next.
struct NumberCursor<'a> {
    text: &'a str,
    offset: usize,
}

impl NumberCursor<'_> {
    #[inline]
    fn peek(&self) -> Option<char> {
        match self.text.as_bytes().get(self.offset) {
            Some(byte) if byte.is_ascii() => Some(char::from(*byte)),
            Some(_) => self.beyond_ascii(),
            None => None,
        }
    }

    #[cold]
    fn beyond_ascii(&self) -> Option<char> {
        self.text.get(self.offset..)?.chars().next()
    }

    /// Returns the next character and its offset.
    fn peek_with_offset(&self) -> Option<(usize, char)> {
        self.peek().map(|c| (self.offset, c))
    }

    #[inline]
    fn next_if(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let c = self.peek().filter(|c| wanted(*c))?;
        self.offset += c.len_utf8();
        Some(c)
    }

    #[inline]
    fn skip(&mut self, wanted: impl Fn(char) -> bool) {
        while self.next_if(&wanted).is_some() {}
    }
}

/// Returns whether a character multiplies a number by its power of ten.
fn is_times(c: char) -> bool {
    matches!(c, 'x' | 'X' | '*' | '\u{D7}' | '\u{B7}' | '\u{22C5}')
}

/// Returns whether a character may end a number: a digit of any kind that is read.
pub(super) fn ends_a_number(c: char) -> bool {
    text::digit(c).is_some() || superscript_digit(c).is_some()
}

/// The most digits that are read, including zeros in front, which are not significant.
const MOST_WRITTEN: i32 = 4 * MOST_DIGITS as i32;
/// The digits that fit a `u64`, with which arithmetic is faster.
const DIGITS_OF_U64: usize = 18;

impl ScanError {
    #[cold]
    fn explain(self, text: &str, mark: DecimalMark) -> Error {
        let all = Span::new(0, text.len());
        let (kind, detail) = match self {
            ScanError::NotANumber(unexpected) => {
                (ErrorKind::NotANumber, explain_text(text, unexpected, mark))
            }
            ScanError::Comma(offset) => {
                let (message, help) = explain_comma(text.trim_matches(text::is_space));
                let detail = Detail::new(message).at(Span::new(offset, offset + 1));
                (ErrorKind::AmbiguousComma, detail.help(help))
            }
            ScanError::TooManyDigits => {
                let message = format!("`{}` has too many digits", shorten(text));
                let help = format!("write at most {MOST_DIGITS} significant digits");
                let detail = Detail::new(message).at(all).help(help);
                (ErrorKind::OutOfRange, detail)
            }
            ScanError::LastDigit => {
                let shown = shorten(text);
                let message =
                    format!("the last digit of `{shown}` is too far from the decimal point");
                let detail = Detail::new(message).at(all).help(LAST_DIGIT);
                (ErrorKind::OutOfRange, detail)
            }
        };
        Error::new(kind, detail)
    }
}

/// Returns why a text is not a number. `unexpected` is the character that does not belong to it.
fn explain_text(text: &str, unexpected: Option<(usize, char)>, mark: DecimalMark) -> Detail {
    let all = Span::new(0, text.len());
    let trimmed = text.trim_matches(text::is_space);
    let digits_and_marks = |c: char| text::digit(c).is_some() || matches!(c, '.' | ',');
    let one = |mark| text.matches(mark).count() == 1;
    if one(',') && one('.') && trimmed.chars().all(digits_and_marks) {
        let (message, help) = explain_comma(trimmed);
        return Detail::new(message).at(all).help(help);
    }
    let shown = shorten(text);
    let (message, span) = match unexpected {
        None if trimmed.is_empty() => ("the text is empty".into(), all),
        None => (format!("`{shown}` has no digits"), all),
        Some((start, c)) => (
            format!("`{shown}` is not a number"),
            Span::new(start, start + c.len_utf8()),
        ),
    };
    let help = match mark {
        DecimalMark::Point => "write digits and one decimal point, such as 2.50",
        DecimalMark::CommaOrPoint => "write digits and one decimal mark, such as 2,50",
    };
    Detail::new(message).at(span).help(help)
}

const LAST_DIGIT: &str = "write a number whose last digit counts between 10^-30 and 10^30";

/// Returns what is wrong with a comma, and how to write the number.
fn explain_comma(text: &str) -> (String, String) {
    let shown = shorten(text);
    let with_point = shorten(&text.replace('.', "").replace(',', "."));
    let without = shorten(&text.replace(',', ""));
    match (text.matches(',').count(), text.find('.')) {
        (1, None) => {
            let unsigned = text.trim_start_matches(|c| c == '+' || text::is_minus(c));
            let after = text.split(',').next_back().unwrap_or_default();
            let digits = after.chars().take_while(|c| text::digit(*c).is_some());
            // Nobody groups the digits after a zero, and a group has three digits.
            if unsigned.starts_with(['0', ',']) || digits.count() != 3 {
                let message = format!("`{shown}` has a decimal comma");
                return (message, format!("write {with_point}"));
            }
            let message = format!("`{shown}` may mean {with_point} or {without}");
            (message, format!("write {with_point} or {without}"))
        }
        (1, Some(point)) => {
            let message = format!("`{shown}` has a comma and a point");
            let comma_is_last = text.find(',') > Some(point);
            let meant = if comma_is_last { with_point } else { without };
            (message, format!("write {meant}"))
        }
        _ => {
            let message = format!("`{shown}` has more than one comma");
            (
                message,
                "write digits and one decimal point, such as 2.50".into(),
            )
        }
    }
}

/// Reads a number of a whole text.
#[inline(always)]
fn scan(text: &str, decimal_mark: DecimalMark) -> Result<Reading, ScanError> {
    let mut cursor = NumberCursor { text, offset: 0 };
    cursor.skip(text::is_space);
    let negative = sign(&mut cursor);
    // The digits that fit a `u64`, and those after them.
    let (mut head, mut tail): (u64, u64) = (0, 0);
    let (mut written, mut significant) = (0, 0);
    // The number of digits before the decimal mark.
    let mut mark = None;
    while let Some(c) = cursor.peek() {
        if let Some(digit) = text::digit(c) {
            let digit = u64::from(digit);
            written += 1;
            significant += usize::from(head | digit != 0);
            if significant <= DIGITS_OF_U64 {
                head = head * 10 + digit;
            } else if significant <= MOST_DIGITS {
                tail = tail * 10 + digit;
            } else {
                return Err(ScanError::TooManyDigits);
            }
        } else if c == ',' && decimal_mark == DecimalMark::Point {
            return Err(ScanError::Comma(cursor.offset));
        } else if matches!(c, '.' | ',') && mark.is_none() {
            mark = Some(written);
        } else {
            break;
        }
        cursor.offset += c.len_utf8();
    }
    if written == 0 {
        return Err(ScanError::NotANumber(cursor.peek_with_offset()));
    }
    if written > MOST_WRITTEN {
        return Err(ScanError::TooManyDigits);
    }
    let below = mark.map_or(0, |above| written - above);
    let scientific = match cursor.peek() {
        None => None,
        Some(_) => power_of_ten(&mut cursor)?,
    };
    let exponent = scientific.unwrap_or(0) - below;
    if exponent.abs() > MOST_EXPONENT {
        return Err(ScanError::LastDigit);
    }
    let mut mantissa = i128::from(head);
    if significant > DIGITS_OF_U64 {
        let beyond = (significant - DIGITS_OF_U64) as u32;
        mantissa = mantissa * 10_i128.pow(beyond) + i128::from(tail);
    }
    // In scientific notation every digit is significant.
    let has_mark = mark.is_some() || scientific.is_some();
    let mantissa = if negative { -mantissa } else { mantissa };
    Ok(Reading::from_parts(mantissa, exponent, has_mark))
}

/// Reads a sign, if there is one. Returns whether it is a minus.
#[inline]
fn sign(cursor: &mut NumberCursor<'_>) -> bool {
    let sign = cursor.next_if(|c| c == '+' || text::is_minus(c));
    sign.is_some_and(|c| c != '+')
}

/// Reads what follows the digits to the end of the text: nothing, or a power of ten.
#[inline(never)]
fn power_of_ten(cursor: &mut NumberCursor<'_>) -> Result<Option<i32>, ScanError> {
    let mut power = None;
    if cursor.next_if(|c| matches!(c, 'e' | 'E')).is_some() {
        let negative = sign(cursor);
        power = Some(whole(cursor, negative, text::digit)?);
    }
    cursor.skip(text::is_space);
    if let (None, Some(times)) = (power, cursor.peek_with_offset()) {
        if !is_times(times.1) {
            return Err(ScanError::NotANumber(Some(times)));
        }
        cursor.next_if(is_times);
        power = Some(handwritten_exponent(cursor, times)?);
        cursor.skip(text::is_space);
    }
    match cursor.peek_with_offset() {
        Some(rest) => Err(ScanError::NotANumber(Some(rest))),
        None => Ok(power),
    }
}

/// Reads the exponent after `×`: `10^-2`, `10-2`, `10⁻²`. If no ten follows, or its exponent looks
/// like more of its digits, the sign `times` is the unexpected character.
fn handwritten_exponent(
    cursor: &mut NumberCursor<'_>,
    times: (usize, char),
) -> Result<i32, ScanError> {
    cursor.skip(text::is_space);
    for wanted in [1, 0] {
        let found = cursor.next_if(|c| text::digit(c) == Some(wanted));
        found.ok_or(ScanError::NotANumber(Some(times)))?;
    }
    match cursor.peek() {
        Some('^') => {
            cursor.next_if(|c| c == '^');
            let negative = sign(cursor);
            whole(cursor, negative, text::digit)
        }
        Some(c) if c == '+' || text::is_minus(c) => {
            let negative = sign(cursor);
            whole(cursor, negative, text::digit)
        }
        Some(c) if superscript_digit(c).is_some() || superscript_sign(c).is_some() => {
            let sign = cursor.next_if(|c| superscript_sign(c).is_some());
            let negative = sign.and_then(superscript_sign).unwrap_or(false);
            whole(cursor, negative, superscript_digit)
        }
        _ => Err(ScanError::NotANumber(Some(times))),
    }
}

/// Reads a whole number in digits of one kind. Beyond ten times the largest exponent it stays the same.
fn whole(
    cursor: &mut NumberCursor<'_>,
    negative: bool,
    digit: impl Fn(char) -> Option<u8>,
) -> Result<i32, ScanError> {
    let mut value: i32 = 0;
    let mut written = false;
    while let Some(c) = cursor.next_if(|c| digit(c).is_some()) {
        written = true;
        let digit = digit(c).unwrap_or_default();
        value = (value * 10 + i32::from(digit)).min(10 * MOST_EXPONENT);
    }
    if !written {
        return Err(ScanError::NotANumber(cursor.peek_with_offset()));
    }
    Ok(if negative { -value } else { value })
}

impl Reading {
    /// Reads a number, with the given decimal mark.
    ///
    /// White space around the number, full-width digits and typographic minus signs are read. Groups
    /// of thousands are not. A power of ten may follow as a calculator shows it (`1.08E-02`) or as it
    /// is written by hand (`1.08×10^-2`, `1.08 x 10⁻²`, `1.08*10-2`). An exponent without a sign, a
    /// caret or superscripts is refused, because `1.08x102` may have lost a superscript 2.
    ///
    /// # Errors
    /// If the text is not a number, or has a comma where a point is the decimal mark. Also if it has more
    /// than 28 digits, or its last digit counts less than 10⁻³⁰ or more than 10³⁰.
    ///
    /// ```
    /// use effloresce::{Reading, number::DecimalMark};
    /// let mass = Reading::read("21,352", DecimalMark::CommaOrPoint)?;
    /// assert_eq!(mass.to_string(), "21.352");
    /// assert!(Reading::read("21,352", DecimalMark::Point).is_err());
    /// let amount = Reading::read("1.08 × 10⁻²", DecimalMark::Point)?;
    /// assert_eq!(amount.to_string(), "0.0108");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    pub fn read(text: &str, mark: DecimalMark) -> Result<Reading, Error> {
        scan(text, mark).map_err(|error| error.explain(text, mark))
    }

    /// Reads a number if the text is one.
    #[inline(always)]
    pub(super) fn try_read(text: &str, mark: DecimalMark) -> Option<Reading> {
        scan(text, mark).ok()
    }
}

impl FromStr for Reading {
    type Err = Error;

    fn from_str(text: &str) -> Result<Reading, Error> {
        Reading::read(text, DecimalMark::Point)
    }
}

/// What serialised data must have for a reading.
#[cfg(feature = "serde")]
pub(crate) const READING_AS_TEXT: &str =
    "text in quotation marks such as \"2.50\", because a number loses its final zeros";

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Reading {
    /// Reads text. A number is refused, because it has lost its final zeros and with them what the
    /// instrument shows.
    ///
    /// ```
    /// use effloresce::Reading;
    /// let mass: Reading = serde_json::from_str(r#""2.50""#)?;
    /// assert_eq!(mass.decimal_places(), 2);
    /// let error = serde_json::from_str::<Reading>("2.5").unwrap_err().to_string();
    /// assert!(error.contains("a number loses its final zeros"), "{error}");
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        crate::text::read_text(deserializer, READING_AS_TEXT, str::parse)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    #[track_caller]
    fn shape(text: &str, value: &str, places: i32, at_least: u32, at_most: u32) {
        let reading: Reading = text.parse().unwrap();
        assert_eq!(reading.value(), value.parse().unwrap(), "value of {text}");
        assert_eq!(reading.decimal_places(), places, "places of {text}");
        assert_eq!(
            (reading.figures().at_least(), reading.figures().at_most()),
            (at_least, at_most),
            "figures of {text}"
        );
    }

    #[test]
    fn keeps_what_was_written() {
        shape("2.50", "2.5", 2, 3, 3);
        shape("1500", "1500", 0, 2, 4);
        shape("1500.", "1500", 0, 4, 4);
        shape("0.00120", "0.0012", 5, 3, 3);
        shape("1.50e3", "1500", -1, 3, 3);
        shape("2.5E-3", "0.0025", 4, 2, 2);
        shape(".5", "0.5", 1, 1, 1);
        shape("0.00", "0", 2, 0, 0);
        shape("-0.045", "-0.045", 3, 2, 2);
        shape(" \u{2212}１２.５\u{00A0}", "-12.5", 1, 3, 3);
    }

    #[test]
    fn prints_what_was_written() {
        for text in [
            "2.50", "1500", "1500.", "0.00120", "-0.045", "0.00", "21.352", "15e1",
        ] {
            assert_eq!(text.parse::<Reading>().unwrap().to_string(), text);
        }
    }

    #[track_caller]
    fn refused(text: &str, kind: ErrorKind, message: &str) {
        let error = text.parse::<Reading>().unwrap_err();
        assert_eq!(error.kind(), kind);
        assert_eq!(error.to_string(), message);
    }

    #[test]
    fn refuses_with_a_sentence() {
        refused("", ErrorKind::NotANumber, "the text is empty");
        refused("-", ErrorKind::NotANumber, "`-` has no digits");
        refused("21.5x8", ErrorKind::NotANumber, "`21.5x8` is not a number");
        refused("1.2.3", ErrorKind::NotANumber, "`1.2.3` is not a number");
        refused(
            "1,234",
            ErrorKind::AmbiguousComma,
            "`1,234` may mean 1.234 or 1234",
        );
        refused("1e", ErrorKind::NotANumber, "`1e` has no digits");
        let far = |text: &str| {
            alloc::format!("the last digit of `{text}` is too far from the decimal point")
        };
        for text in ["1e99", "9.5e-30"] {
            refused(text, ErrorKind::OutOfRange, &far(text));
        }
        let long = "1".repeat(29);
        let error = long.parse::<Reading>().unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert_eq!(error.help(), Some("write at most 28 significant digits"));
        let zeros = alloc::format!("0.{}", "0".repeat(100_000));
        assert_eq!(
            zeros.parse::<Reading>().unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert!(Reading::read("1.234,5", DecimalMark::CommaOrPoint).is_err());
    }

    #[test]
    fn a_comma_is_explained_as_it_may_be_meant() {
        for (text, message, help) in [
            ("6,99", "has a decimal comma", "write 6.99"),
            ("0,05", "has a decimal comma", "write 0.05"),
            ("-0,05", "has a decimal comma", "write -0.05"),
            (",5", "has a decimal comma", "write .5"),
            ("2,666.0", "has a comma and a point", "write 2666.0"),
            ("2.666,0", "has a comma and a point", "write 2666.0"),
            (
                "2,666,0",
                "has more than one comma",
                "write digits and one decimal point, such as 2.50",
            ),
        ] {
            refused(
                text,
                ErrorKind::AmbiguousComma,
                &alloc::format!("`{text}` {message}"),
            );
            assert_eq!(text.parse::<Reading>().unwrap_err().help(), Some(help));
        }
        // Where a comma may be the decimal mark, too.
        let error = Reading::read("2,666.0", DecimalMark::CommaOrPoint).unwrap_err();
        assert_eq!(error.to_string(), "`2,666.0` has a comma and a point");
        assert_eq!(error.help(), Some("write 2666.0"));
    }

    #[test]
    fn powers_of_ten_by_hand() {
        for text in [
            "1.08E-02",
            "1.08e-2",
            "1.08×10^-2",
            "1.08x10-2",
            "1.08X10^\u{2212}2",
            "1.08 × 10⁻²",
            "1.08*10^-02",
            "1.08 \u{B7} １０⁻²",
        ] {
            shape(text, "0.0108", 4, 3, 3);
        }
        shape("15×10²", "1500", -2, 2, 2);
        shape("1.50x10+3", "1500", -1, 3, 3);
        shape("-2×10⁰", "-2", 0, 1, 1);
        for (text, sign) in [
            ("1.08x102", "x"),
            ("1.08x10", "x"),
            ("1.08 × 2", "×"),
            ("2*", "*"),
            ("1.2.3", "."),
            ("1×10^-2x", "x"),
            ("1e5×10²", "×"),
            ("=7", "="),
            ("ca. 7", "c"),
        ] {
            let message = format!("`{text}` is not a number");
            refused(text, ErrorKind::NotANumber, &message);
            let span = text.parse::<Reading>().unwrap_err().span().unwrap();
            assert_eq!(&text[span.start..span.end], sign, "{text}");
            let last = text.rfind(sign).unwrap();
            assert_eq!(span.start, last, "{text}");
        }
        refused("1×10^", ErrorKind::NotANumber, "`1×10^` has no digits");
    }

    #[test]
    fn all_digits_are_kept() {
        for text in [
            "999999999999999999",
            "9999999999999999999",
            "0.1000000000000000001",
            "1234567890123456789.012345678",
            "9999999999999999999999999999",
        ] {
            assert_eq!(text.parse::<Reading>().unwrap().to_string(), text);
        }
    }

    #[test]
    fn points_at_the_place() {
        let error = "21.5x8".parse::<Reading>().unwrap_err();
        assert_eq!(error.span(), Some(Span::new(4, 5)));
    }
}
