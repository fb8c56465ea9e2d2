//! Counts and coefficients, in any of their forms.

use alloc::format;

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::character::complete::char;
use nom::sequence::{delimited, preceded};

use super::Count;
use super::error::Error;
use super::leaf::{Digits, Fraction, Run, digits, lowered, raised_mass_number};
use super::notation::{Counted, Place};
use super::packed::MORE;
use super::parse::Cursor;
use super::resolve::Reading;
use super::solvate;
use crate::text::{Span, digit, is_space};

/// The most digits in a count, a decimal mark or a fraction line aside.
const MOST_DIGITS: u16 = 9;

/// A few digits of ASCII, with no zero in front. A count of 1 is seldom written out, and often a slip:
/// it is not among them.
pub(super) struct Figures {
    pub(super) value: u16,
    /// Whether there are more digits than one and an H behind them, which may be the number of
    /// waters.
    pub(super) before_hydrogen: bool,
    /// Whether there are more digits than one, of which the first is a 1.
    pub(super) begins_with_one: bool,
    /// As many bits as the value may have.
    pub(super) bits: u32,
    /// Where the text goes on, and how.
    pub(super) end: usize,
    pub(super) next: Next,
}

impl Figures {
    /// The digits from a place on, of which the first is this one.
    #[inline(always)]
    pub(super) fn read(bytes: &[u8], start: usize, first: u8) -> Option<Figures> {
        let value = first & 0xF;
        let end = start + 1;
        let next = Next::at(bytes, end);
        if next.kind == Kind::DIGIT {
            return Figures::more(bytes, end, value).filter(|_| value > 0);
        }
        if value < 2 {
            return None;
        }
        Some(Figures {
            value: value.into(),
            before_hydrogen: false,
            begins_with_one: false,
            bits: 4,
            end,
            next,
        })
    }

    /// The same where there is more than one digit.
    #[inline(always)]
    fn more(bytes: &[u8], second: usize, first: u8) -> Option<Figures> {
        let (mut value, mut end) = (u32::from(first), second);
        let mut next = Next::at(bytes, end);
        while next.kind == Kind::DIGIT {
            value = value
                .wrapping_mul(10)
                .wrapping_add((next.byte & 0xF).into());
            end += 1;
            next = Next::at(bytes, end);
        }
        let few = end - second <= 2 && value < MORE.into();
        few.then_some(Figures {
            value: value as u16,
            before_hydrogen: next.byte == b'H',
            begins_with_one: first == 1,
            bits: if value < 100 { 7 } else { 9 },
            end,
            next,
        })
    }
}

/// A count in a few digits, or none, which counts one.
pub(super) struct PlainCount {
    pub(super) value: u16,
    /// Where the text goes on, and how.
    pub(super) end: usize,
    pub(super) next: Next,
}

impl PlainCount {
    /// The count at a place, where it is plain. Its digits are told, if it has any.
    #[inline(always)]
    pub(super) fn read(
        bytes: &[u8],
        start: usize,
        next: Next,
        tell: impl FnOnce(&Figures),
    ) -> Option<PlainCount> {
        let mut count = PlainCount {
            value: 1,
            end: start,
            next,
        };
        if next.kind == Kind::DIGIT {
            let figures = Figures::read(bytes, start, next.byte)?;
            tell(&figures);
            count = PlainCount {
                value: figures.value,
                end: figures.end,
                next: figures.next,
            };
        }
        (!count.next.kind.goes_on() || ends(bytes, start, count.end)).then_some(count)
    }
}

/// The byte at a place, nought behind the end, and what it is.
#[derive(Clone, Copy)]
pub(super) struct Next {
    pub(super) byte: u8,
    pub(super) kind: Kind,
}

impl Next {
    #[inline(always)]
    pub(super) fn at(bytes: &[u8], at: usize) -> Next {
        let byte = bytes.get(at).copied().unwrap_or_default();
        let kind = KINDS.get(usize::from(byte));
        let kind = kind.copied().unwrap_or(Kind::OTHER);
        Next { byte, kind }
    }
}

/// What a byte is to a term and its count. (The last two, in this order, may go on with a count.)
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) struct Kind(u8);

impl Kind {
    const OTHER: Kind = Kind(0);
    pub(super) const CAPITAL: Kind = Kind(1);
    pub(super) const OPENS: Kind = Kind(2);
    pub(super) const CLOSES: Kind = Kind(3);
    pub(super) const DIGIT: Kind = Kind(4);
    const SMALL: Kind = Kind(5);
    /// A small letter that may be a count left open.
    const OPEN_COUNT: Kind = Kind(6);
    /// Any other byte that may go on with a count.
    const GOES_ON: Kind = Kind(7);

    #[inline(always)]
    pub(super) const fn is_small(self) -> bool {
        matches!(self, Kind::SMALL | Kind::OPEN_COUNT)
    }

    #[inline(always)]
    pub(super) const fn goes_on(self) -> bool {
        self.0 >= Kind::OPEN_COUNT.0
    }

    /// Whether a group begins with such a byte: neither a label nor a charge does.
    #[inline(always)]
    pub(super) const fn begins_group(self) -> bool {
        matches!(self, Kind::CAPITAL | Kind::OPENS)
    }
}

#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static KINDS: [Kind; 256] = {
    let mut table = [Kind::OTHER; 256];
    let mut byte = 0;
    while byte < 256 {
        table[byte] = match byte as u8 {
            b'A'..=b'Z' => Kind::CAPITAL,
            b'(' | b'[' | b'{' => Kind::OPENS,
            b')' | b']' | b'}' => Kind::CLOSES,
            b'0'..=b'9' => Kind::DIGIT,
            b'x' | b'n' => Kind::OPEN_COUNT,
            b'a'..=b'z' => Kind::SMALL,
            b'.' | b'/' | b'_' | 0x80.. => Kind::GOES_ON,
            _ => Kind::OTHER,
        };
        byte += 1;
    }
    table
};

/// Whether a count ends here though its next byte might go on with it.
#[inline]
fn ends(bytes: &[u8], start: usize, end: usize) -> bool {
    match bytes.get(end..) {
        Some([0xC2, 0xB7, ..]) => true,
        Some([b'.', ..]) if start == end => true,
        Some([b'.', behind @ ..]) => solvate::is_plain_adduct_point(behind),
        _ => false,
    }
}

impl Cursor<'_> {
    /// A coefficient in any of its forms, if there is one.
    pub(super) fn any_coefficient(&mut self) -> Result<Option<(Count, Place)>, Error> {
        let start = self.at;
        match self.byte() {
            // A point behind a coefficient is a decimal one.
            Some(b'0'..=b'9' | 0x80..) => {}
            Some(letter @ (b'x' | b'n')) => {
                let after = self.rest().get(1..).unwrap_or_default();
                let after = after.trim_start_matches(is_space);
                let labelled = raised_mass_number(after).is_ok();
                let begins = |c: char| c.is_ascii_uppercase() || matches!(c, '(' | '[' | '{');
                if !(labelled || after.starts_with(begins)) {
                    return Ok(None);
                }
                self.at += 1;
                let open = Count::Unknown(char::from(letter));
                return Ok(Some((open, self.since(start))));
            }
            _ => return Ok(None),
        }
        let Some(found) = self.take(digits(digit, |_, _| true)) else {
            return Ok(None);
        };
        let place = self.since(start);
        match found.count() {
            Ok(count) => Ok(Some((count, place))),
            Err(fault) => Err(fault.told(place.span(), "the coefficient")),
        }
    }

    /// The count behind a symbol, where it is plain.
    #[inline]
    pub(super) fn plain_count(&mut self, reading: &mut Reading<'_>) -> Option<u16> {
        let bytes = self.text.as_bytes();
        let count = PlainCount::read(bytes, self.at, self.next(), |figures| {
            self.strange |= figures.before_hydrogen;
            reading.bits += figures.bits;
        })?;
        self.at = count.end;
        Some(count.value)
    }

    /// The count that ends where a sign stands.
    pub(super) fn count_before(&self, sign: usize) -> Counted {
        if self.unusual.place.somewhere().is_some() && self.unusual.place.end() == sign {
            return self.unusual;
        }
        let before = self.text.get(..sign).unwrap_or_default();
        let start = before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        match start < sign {
            true => Counted {
                place: Place::new(start, sign),
                plain_digits: true,
            },
            false => Counted::NOT,
        }
    }

    /// A count in any of its forms.
    #[cold]
    pub(super) fn any_count(&mut self, name: Place) -> Result<Count, Error> {
        let start = self.at;
        let mut plain_digits = false;
        self.strange = true;
        let Some(c) = self.peek() else {
            return Ok(Count::ONE);
        };
        let name = name.span();
        let name = self.text.get(name.start..name.end).unwrap_or_default();
        let found = match c {
            'x' | 'n' | '\u{2093}' | '\u{2099}' => {
                self.at += c.len_utf8();
                let letter = if matches!(c, 'x' | '\u{2093}') {
                    'x'
                } else {
                    'n'
                };
                self.unusual.place = self.since(start);
                self.unusual.plain_digits = false;
                return Ok(Count::Unknown(letter));
            }
            '_' => {
                for (text, letter) in [("_x", 'x'), ("_{x}", 'x'), ("_n", 'n'), ("_{n}", 'n')] {
                    if let Some(rest) = self.rest().strip_prefix(text) {
                        self.go_to(rest);
                        self.unusual.place = self.since(start);
                        self.unusual.plain_digits = false;
                        return Ok(Count::Unknown(letter));
                    }
                }
                let mut lowered = alt((
                    delimited(tag("_{"), digits(digit, |_, _| true), char('}')),
                    preceded(char('_'), digits(digit, |_, _| false)),
                ));
                let Some(found) = self.take(|text| lowered.parse(text)) else {
                    return Err(Error::bad(
                        self.here(),
                        "no count after `_`",
                        "write the count as `_4` or `_{4}`",
                    ));
                };
                found
            }
            _ if lowered(c).is_some() => {
                let Some(found) = self.take(digits(lowered, |_, _| true)) else {
                    return Ok(Count::ONE);
                };
                found
            }
            _ => {
                let Some(found) = self.take(digits(digit, |whole, behind| {
                    let nought = whole.begins_with_zero && whole.length == 1;
                    nought || !solvate::is_adduct_point(behind)
                })) else {
                    return Ok(Count::ONE);
                };
                plain_digits = found.fraction == Fraction::None;
                found
            }
        };
        let place = self.since(start);
        self.unusual = Counted {
            place,
            plain_digits,
        };
        let span = place.span();
        if plain_digits && found.whole.begins_with_zero {
            return Err(self.zero_count(name, span));
        }
        let count = found.count();
        count.map_err(|fault| fault.told(span, "the count"))
    }
}

/// Why digits are no count.
#[derive(Clone, Copy)]
enum Fault {
    TooLong,
    BeginsWithZero,
    DividesByZero,
    Zero,
}

impl Digits {
    /// The value: above nought, not too long, no zero in front.
    #[inline(always)]
    fn count(&self) -> Result<Count, Fault> {
        let whole = self.whole;
        let (decimals, below) = match self.fraction {
            Fraction::Decimals(decimals) => (decimals.length, Run::default()),
            Fraction::Below(below) => (0, below),
            Fraction::None | Fraction::Vulgar(..) => (0, Run::default()),
        };
        if whole.length + decimals > MOST_DIGITS || below.length > MOST_DIGITS {
            return Err(Fault::TooLong);
        }
        let leading = |run: Run| run.begins_with_zero && run.length > 1;
        if leading(whole) || leading(below) {
            return Err(Fault::BeginsWithZero);
        }
        let mixed = |above: u32, below| whole.value.checked_mul(below)?.checked_add(above);
        let (numerator, denominator) = match self.fraction {
            Fraction::None => (Some(whole.value), 1),
            Fraction::Decimals(decimals) => {
                let scale = 10_u32.pow(decimals.length.into());
                (mixed(decimals.value, scale), scale)
            }
            Fraction::Below(below) => (Some(whole.value), below.value),
            Fraction::Vulgar(above, below) => (mixed(above, below), below),
        };
        match (numerator, denominator) {
            (None, _) => Err(Fault::TooLong),
            (_, 0) => Err(Fault::DividesByZero),
            (Some(0), _) => Err(Fault::Zero),
            (Some(numerator), _) => match Count::known(numerator, denominator) {
                // A whole number and a fraction may make one.
                Count::Known(more, _) if more > Count::MOST => Err(Fault::TooLong),
                count => Ok(count),
            },
        }
    }
}

impl Fault {
    /// The fault of a count or a coefficient, as it is called.
    #[cold]
    fn told(self, span: Span, what: &str) -> Error {
        match self {
            Fault::TooLong => Error::too_large(span, what, format!("{MOST_DIGITS} digits")),
            Fault::BeginsWithZero => Error::bad(
                span,
                format!("{what} begins with a zero"),
                "take the zero out, or write O for oxygen",
            ),
            Fault::DividesByZero => Error::bad(
                span,
                format!("{what} divides by zero"),
                "write a number other than 0 below the line",
            ),
            Fault::Zero => Error::bad(
                span,
                format!("{what} is zero"),
                "leave out what is not there",
            ),
        }
    }
}
