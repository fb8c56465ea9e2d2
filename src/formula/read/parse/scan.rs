//! What nearly every formula is made of, read byte by byte: symbols and brackets with counts in a few
//! digits or none. Whatever else there is stands aside, in functions that are seldom called: none is
//! called while plain terms are read, so that all they need stays in registers.

use super::cursor::Cursor;
use super::symbol::plain_atom;
use crate::formula::lex::is_plain_adduct_point;
use crate::formula::read::resolve::Reading;
use crate::formula::repr::Place;
use crate::formula::repr::words::{self, MORE};

/// How far a text is read while its terms are plain ones.
#[derive(Clone, Copy)]
pub(crate) struct Stand {
    /// Where it goes on, and how.
    pub(crate) at: usize,
    pub(crate) next: Next,
    /// How many words the formula has.
    pub(crate) words: usize,
}

/// A count in a few digits of ASCII, with no zero in front, or none, which counts one. (A count of 1 is
/// seldom written out, and often a slip: it is not among them.)
pub(crate) struct PlainCount {
    pub(crate) value: u16,
    /// Where the text goes on, and how.
    pub(crate) end: usize,
    pub(crate) next: Next,
}

/// More digits than one.
pub(crate) struct Several {
    /// Whether the first is a 1.
    begin_with_one: bool,
    /// Whether an H stands behind them: they may hold the number of waters.
    pub(crate) before_hydrogen: bool,
}

impl PlainCount {
    /// The count at a place, where it is plain. If it has several digits, that is told.
    #[inline(always)]
    pub(crate) fn read(
        bytes: &[u8],
        start: usize,
        next: Next,
        tell: impl FnOnce(Several),
    ) -> Option<PlainCount> {
        let mut count = PlainCount {
            value: 1,
            end: start,
            next,
        };
        if next.kind == Kind::DIGIT {
            count = PlainCount::digits(bytes, start, next, tell)?;
        }
        let ends = !count.next.kind.goes_on() || ends(bytes, start, count.end);
        ends.then_some(count)
    }

    /// The digits at a place, of which the first is this one.
    #[inline(always)]
    fn digits(
        bytes: &[u8],
        start: usize,
        first: Next,
        tell: impl FnOnce(Several),
    ) -> Option<PlainCount> {
        let value = first.byte as u16 & 0xF;
        let end = start + 1;
        let next = Next::at(bytes, end);
        if next.kind == Kind::DIGIT {
            return PlainCount::several(bytes, end, value, tell);
        }
        (value > 1).then_some(PlainCount { value, end, next })
    }

    #[inline(always)]
    fn several(
        bytes: &[u8],
        second: usize,
        first: u16,
        tell: impl FnOnce(Several),
    ) -> Option<PlainCount> {
        let (mut value, mut end) = (first, second);
        let mut next = Next::at(bytes, end);
        while next.kind == Kind::DIGIT {
            value = value.wrapping_mul(10).wrapping_add(next.byte as u16 & 0xF);
            end += 1;
            next = Next::at(bytes, end);
        }
        tell(Several {
            begin_with_one: first == 1,
            before_hydrogen: next.byte == usize::from(b'H'),
        });
        let few = first > 0 && end - second <= 2 && value < MORE;
        few.then_some(PlainCount { value, end, next })
    }
}

/// The byte at a place, nought behind the end, and what it is.
#[derive(Clone, Copy)]
pub(crate) struct Next {
    /// As wide as a register.
    pub(crate) byte: usize,
    pub(crate) kind: Kind,
}

impl Next {
    #[inline(always)]
    pub(crate) fn at(bytes: &[u8], at: usize) -> Next {
        let byte = bytes.get(at).copied().unwrap_or_default().into();
        let kind = KINDS.get(byte).copied().unwrap_or(Kind::OTHER);
        Next { byte, kind }
    }

    pub(crate) fn byte(self) -> u8 {
        self.byte as u8
    }
}

/// What a byte is to a term and its count. (The last two may go on with a count.)
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Kind(u8);

impl Kind {
    const OTHER: Kind = Kind(0);
    pub(crate) const CAPITAL: Kind = Kind(1);
    pub(crate) const OPENS: Kind = Kind(2);
    pub(crate) const CLOSES: Kind = Kind(3);
    pub(crate) const DIGIT: Kind = Kind(4);
    /// Neither digit nor letter, which may go on with a count.
    const GOES_ON: Kind = Kind(5);
    /// A small letter, which may be a count left open.
    const SMALL: Kind = Kind(6);

    #[inline(always)]
    pub(crate) const fn is_small(self) -> bool {
        self.0 >= Kind::SMALL.0
    }

    #[inline(always)]
    pub(crate) const fn goes_on(self) -> bool {
        self.0 >= Kind::GOES_ON.0
    }

    /// Whether a group begins with such a byte: neither a label nor a charge does.
    #[inline(always)]
    pub(crate) const fn begins_group(self) -> bool {
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
        Some([b'.', behind @ ..]) => is_plain_adduct_point(behind),
        _ => false,
    }
}

impl Cursor<'_> {
    #[inline(always)]
    pub(crate) fn next(&self) -> Next {
        Next::at(self.text.as_bytes(), self.at)
    }

    #[inline(always)]
    pub(crate) fn after_next(&self) -> Next {
        Next::at(self.text.as_bytes(), self.at + 1)
    }

    /// Goes on to where plain terms were read to.
    #[inline(always)]
    pub(crate) fn go_to_stand(&mut self, reading: &mut Reading<'_>, stand: Stand) {
        self.at = stand.at;
        reading.formula.packed.set_length(stand.words);
    }

    /// Where plain terms may be read from.
    #[inline(always)]
    pub(crate) fn stand(&self, reading: &Reading<'_>) -> Stand {
        Stand {
            at: self.at,
            words: reading.formula.packed.length().into(),
            next: self.next(),
        }
    }

    /// How many bytes one of the two commonest adduct dots has, of which this is the first; none at
    /// the end of the text.
    #[inline(always)]
    pub(crate) fn plain_dot(&self, first: u8) -> Option<usize> {
        match first {
            _ if self.at == self.text.len() => Some(0),
            b'*' => Some(1),
            0xC2 if self.after_next().byte() == 0xB7 => Some('\u{B7}'.len_utf8()),
            _ => None,
        }
    }

    /// Where a part begins as nearly all do: with a symbol or a bracket, and before it at most a
    /// coefficient in a few digits. Where the text goes on behind that.
    #[inline(always)]
    pub(crate) fn plain_coefficient(&mut self, reading: &mut Reading<'_>) -> Option<Stand> {
        let bytes = self.text.as_bytes();
        let start = self.at;
        reading.part.start = start as u16;
        let mut next = Next::at(bytes, start);
        let (mut at, mut value) = (start, 1);
        if next.kind == Kind::DIGIT {
            let count = PlainCount::digits(bytes, start, next, |_| {})?;
            (at, value, next) = (count.end, count.value, count.next);
            reading.part.coefficient = Place::new(start, at);
            reading.take_in_plain(value);
        }
        if !next.kind.begins_group() {
            return None;
        }
        let words = reading.formula.packed.put_part(value)?;
        reading.part.first = words as u16;
        Some(Stand { at, next, words })
    }

    /// Takes up atoms as long as they are plain: the symbol of an element that asks for no second
    /// look, with no count or one in a few digits.
    #[inline(always)]
    pub(crate) fn plain_atoms(&mut self, reading: &mut Reading<'_>, mut stand: Stand) -> Stand {
        let bytes = self.text.as_bytes();
        let packed = &mut reading.formula.packed;
        while stand.next.kind == Kind::CAPITAL {
            let first = stand.next.byte;
            let mut end = stand.at + 1;
            let mut next = Next::at(bytes, end);
            let mut second = 0;
            if next.kind.is_small() {
                second = next.byte;
                end += 1;
                next = Next::at(bytes, end);
                reading.small_letters = true;
            }
            let z = plain_atom(first, second);
            let count = PlainCount::read(bytes, end, next, |digits| {
                let carbon = first == usize::from(b'C');
                self.strange |= digits.before_hydrogen || (digits.begin_with_one && carbon);
            });
            let Some(count) = count.filter(|_| z > 0) else {
                break;
            };
            let term = words::plain(z, count.value);
            if packed.put(stand.words, term).is_none() {
                break;
            }
            stand = Stand {
                at: count.end,
                next: count.next,
                words: stand.words + 1,
            };
        }
        stand
    }

    /// The count behind a symbol, where it is plain.
    #[inline]
    pub(crate) fn plain_count(&mut self) -> Option<u16> {
        let bytes = self.text.as_bytes();
        let count = PlainCount::read(bytes, self.at, self.next(), |digits| {
            self.strange |= digits.before_hydrogen;
        })?;
        self.at = count.end;
        Some(count.value)
    }
}
