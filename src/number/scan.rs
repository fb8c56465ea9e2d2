//! Reading a number character by character.

use alloc::format;
use alloc::string::String;

use super::reading::{MOST_DIGITS, MOST_EXPONENT};
use super::{DecimalMark, Error, ErrorKind, Reading};
use crate::text::{self, Detail, Span};

/// Why a text is not a number; worded only where it is asked for.
#[derive(Debug, Clone, Copy)]
pub(super) enum Fault {
    /// The character that has no place, and where; none where digits are lacking.
    NotANumber(Option<(usize, char)>),
    /// A comma that may mark decimals or thousands.
    Comma(usize),
    OutOfRange,
}

/// A place in a text.
struct Cursor<'a> {
    text: &'a str,
    at: usize,
}

impl Cursor<'_> {
    #[inline]
    fn peek(&self) -> Option<char> {
        match self.text.as_bytes().get(self.at) {
            Some(byte) if byte.is_ascii() => Some(char::from(*byte)),
            Some(_) => self.beyond_ascii(),
            None => None,
        }
    }

    #[cold]
    fn beyond_ascii(&self) -> Option<char> {
        self.text.get(self.at..)?.chars().next()
    }

    /// The next character and where it stands.
    fn found(&self) -> Option<(usize, char)> {
        self.peek().map(|c| (self.at, c))
    }

    #[inline]
    fn next_if(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let c = self.peek().filter(|c| wanted(*c))?;
        self.at += c.len_utf8();
        Some(c)
    }

    #[inline]
    fn skip(&mut self, wanted: impl Fn(char) -> bool) {
        while self.next_if(&wanted).is_some() {}
    }
}

/// A superscript digit.
fn raised(c: char) -> Option<u8> {
    match c {
        '\u{2070}' => Some(0),
        '\u{B9}' => Some(1),
        '\u{B2}' => Some(2),
        '\u{B3}' => Some(3),
        '\u{2074}'..='\u{2079}' => u8::try_from(c as u32 - 0x2070).ok(),
        _ => None,
    }
}

/// What stands between a number and its power of ten.
fn is_times(c: char) -> bool {
    matches!(c, 'x' | 'X' | '*' | '\u{D7}' | '\u{B7}' | '\u{22C5}')
}

/// Whether a character may end a number: a digit in any of the forms in which one is read.
pub(super) fn ends_a_number(c: char) -> bool {
    text::digit(c).is_some() || raised(c).is_some()
}

/// Zeros in front are no figures, but no balance shows that many.
const MOST_WRITTEN: i32 = 4 * MOST_DIGITS as i32;
/// So many digits fit a `u64`, which is quicker to reckon with.
const DIGITS_OF_U64: usize = 18;

/// A text that should be a number.
pub(super) struct Scan<'a> {
    text: &'a str,
    mark: DecimalMark,
}

impl<'a> Scan<'a> {
    pub(super) fn new(text: &'a str, mark: DecimalMark) -> Self {
        Scan { text, mark }
    }

    pub(super) fn read(&self) -> Result<Reading, Error> {
        self.number().map_err(|fault| self.error(fault))
    }

    #[cold]
    fn error(&self, fault: Fault) -> Error {
        match fault {
            Fault::NotANumber(at) => self.not_a_number(at),
            Fault::Comma(at) => self.comma(at),
            Fault::OutOfRange => self.out_of_range(),
        }
    }

    #[cold]
    fn not_a_number(&self, at: Option<(usize, char)>) -> Error {
        let shown = shorten(self.text);
        let detail = match at {
            None if self.text.chars().all(text::is_space) => {
                Detail::new("an empty text where a number was expected")
                    .at(Span::new(0, self.text.len()))
            }
            None => {
                Detail::new(format!("`{shown}` has no digits")).at(Span::new(0, self.text.len()))
            }
            Some((start, c)) => Detail::new(format!(
                "`{shown}` is not a number: `{c}` has no place in it"
            ))
            .at(Span::new(start, start + c.len_utf8())),
        };
        Error::new(
            ErrorKind::NotANumber,
            detail.help(match self.mark {
                DecimalMark::Point => "write digits with one decimal point, such as 2.50",
                DecimalMark::CommaOrPoint => "write digits with one decimal mark, such as 2,50",
            }),
        )
    }

    #[cold]
    fn comma(&self, at: usize) -> Error {
        let trimmed = self.text.trim_matches(text::is_space);
        let shown = shorten(trimmed);
        let as_point = shorten(&trimmed.replacen(',', ".", 1));
        let without = shorten(&trimmed.replace(',', ""));
        Error::new(
            ErrorKind::AmbiguousComma,
            Detail::new(format!("`{shown}` may mean {as_point} or {without}"))
                .at(Span::new(at, at + 1))
                .help(format!(
                    "write {as_point} with a point, or {without} without a mark"
                )),
        )
    }

    #[cold]
    fn out_of_range(&self) -> Error {
        Error::new(
            ErrorKind::OutOfRange,
            Detail::new(format!(
                "`{}` has more digits or a larger exponent than can be kept",
                shorten(self.text)
            ))
            .at(Span::new(0, self.text.len()))
            .help("write at most 28 digits and a power of ten between -30 and 30"),
        )
    }

    #[inline(always)]
    pub(super) fn number(&self) -> Result<Reading, Fault> {
        let mut cursor = Cursor {
            text: self.text,
            at: 0,
        };
        cursor.skip(text::is_space);
        let negative = sign(&mut cursor);
        // The first digits, and those beyond them.
        let (mut head, mut tail): (u64, u64) = (0, 0);
        let (mut written, mut significant) = (0, 0);
        // How many digits were written before the decimal mark.
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
                    return Err(Fault::OutOfRange);
                }
            } else if c == ',' && self.mark == DecimalMark::Point {
                return Err(Fault::Comma(cursor.at));
            } else if matches!(c, '.' | ',') && mark.is_none() {
                mark = Some(written);
            } else {
                break;
            }
            cursor.at += c.len_utf8();
        }
        if written == 0 {
            return Err(Fault::NotANumber(cursor.found()));
        }
        if written > MOST_WRITTEN {
            return Err(Fault::OutOfRange);
        }
        let below = mark.map_or(0, |above| written - above);
        let scientific = match cursor.peek() {
            None => None,
            Some(_) => power_of_ten(&mut cursor)?,
        };
        let exponent = scientific.unwrap_or(0) - below;
        if exponent.abs() > MOST_EXPONENT {
            return Err(Fault::OutOfRange);
        }
        let mut mantissa = i128::from(head);
        if significant > DIGITS_OF_U64 {
            let beyond = (significant - DIGITS_OF_U64) as u32;
            mantissa = mantissa * 10_i128.pow(beyond) + i128::from(tail);
        }
        // In scientific notation every digit written counts.
        let marked = mark.is_some() || scientific.is_some();
        let mantissa = if negative { -mantissa } else { mantissa };
        Ok(Reading::made(mantissa, exponent, marked))
    }
}

/// Whether a sign makes what follows negative.
#[inline]
fn sign(cursor: &mut Cursor<'_>) -> bool {
    let sign = cursor.next_if(|c| c == '+' || text::is_minus(c));
    sign.is_some_and(|c| c != '+')
}

/// What follows the digits, to the end of the text: nothing, or a power of ten.
#[inline(never)]
fn power_of_ten(cursor: &mut Cursor<'_>) -> Result<Option<i32>, Fault> {
    let mut power = None;
    if cursor.next_if(|c| matches!(c, 'e' | 'E')).is_some() {
        let negative = sign(cursor);
        power = Some(whole(cursor, negative, text::digit)?);
    }
    cursor.skip(text::is_space);
    if let (None, Some(times)) = (power, cursor.found()) {
        if !is_times(times.1) {
            return Err(Fault::NotANumber(Some(times)));
        }
        cursor.next_if(is_times);
        power = Some(by_hand(cursor, times)?);
        cursor.skip(text::is_space);
    }
    match cursor.found() {
        Some(rest) => Err(Fault::NotANumber(Some(rest))),
        None => Ok(power),
    }
}

/// The exponent behind `×`: `10^-2`, `10-2`, `10⁻²`. Where no ten follows, or nothing tells its
/// exponent from more of its digits, it is the sign `times` that has no place.
fn by_hand(cursor: &mut Cursor<'_>, times: (usize, char)) -> Result<i32, Fault> {
    cursor.skip(text::is_space);
    for wanted in [1, 0] {
        let found = cursor.next_if(|c| text::digit(c) == Some(wanted));
        found.ok_or(Fault::NotANumber(Some(times)))?;
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
        Some(c) if raised(c).is_some() || matches!(c, '\u{207A}' | '\u{207B}') => {
            let sign = cursor.next_if(|c| matches!(c, '\u{207A}' | '\u{207B}'));
            whole(cursor, sign == Some('\u{207B}'), raised)
        }
        _ => Err(Fault::NotANumber(Some(times))),
    }
}

/// A whole number in digits of one kind, as large as may matter.
fn whole(
    cursor: &mut Cursor<'_>,
    negative: bool,
    digit: impl Fn(char) -> Option<u8>,
) -> Result<i32, Fault> {
    let mut value: i32 = 0;
    let mut written = false;
    while let Some(c) = cursor.next_if(|c| digit(c).is_some()) {
        written = true;
        let digit = digit(c).unwrap_or_default();
        value = (value * 10 + i32::from(digit)).min(10 * MOST_EXPONENT);
    }
    if !written {
        return Err(Fault::NotANumber(cursor.found()));
    }
    Ok(if negative { -value } else { value })
}

/// At most the first forty characters, on one line, so that no error is longer than a line.
pub(super) fn shorten(text: &str) -> String {
    let mut shown: String = text
        .chars()
        .take(MOST_SHOWN)
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    if text.chars().nth(MOST_SHOWN).is_some() {
        shown.push('…');
    }
    shown
}

const MOST_SHOWN: usize = 40;
