//! Counts in a few plain digits.

use super::lookahead::{ByteClass, Lookahead};
use crate::formula::lex::is_plain_adduct_point;
use crate::formula::repr::words::MORE;

/// A count in a few digits of ASCII, with no zero in front, or none, which counts one. (A count of 1 is
/// seldom written out, and often a slip: it is not among them.)
pub(crate) struct PlainCount {
    pub(crate) value: u16,
    /// Where the text goes on, and how.
    pub(crate) end: usize,
    pub(crate) next: Lookahead,
}

/// More digits than one.
pub(crate) struct SeveralDigits {
    /// Whether the first is a 1.
    pub(crate) begin_with_one: bool,
    /// Whether an H follows them: they may hold the number of waters.
    pub(crate) before_hydrogen: bool,
}

impl PlainCount {
    /// The count at a place, where it is plain. If it has several digits, that is told.
    #[inline(always)]
    pub(crate) fn read(
        bytes: &[u8],
        start: usize,
        next: Lookahead,
        tell: impl FnOnce(SeveralDigits),
    ) -> Option<PlainCount> {
        let mut count = PlainCount {
            value: 1,
            end: start,
            next,
        };
        if next.class == ByteClass::DIGIT {
            count = PlainCount::digits(bytes, start, next, tell)?;
        }
        let ends = !count.next.class.goes_on() || ends(bytes, start, count.end);
        ends.then_some(count)
    }

    /// The digits at a place, of which the first is this one.
    #[inline(always)]
    pub(crate) fn digits(
        bytes: &[u8],
        start: usize,
        first: Lookahead,
        tell: impl FnOnce(SeveralDigits),
    ) -> Option<PlainCount> {
        let value = first.byte as u16 & 0xF;
        let end = start + 1;
        let next = Lookahead::at(bytes, end);
        if next.class == ByteClass::DIGIT {
            return PlainCount::several(bytes, end, value, tell);
        }
        (value > 1).then_some(PlainCount { value, end, next })
    }

    #[inline(always)]
    fn several(
        bytes: &[u8],
        second: usize,
        first: u16,
        tell: impl FnOnce(SeveralDigits),
    ) -> Option<PlainCount> {
        let (mut value, mut end) = (first, second);
        let mut next = Lookahead::at(bytes, end);
        while next.class == ByteClass::DIGIT {
            value = value.wrapping_mul(10).wrapping_add(next.byte as u16 & 0xF);
            end += 1;
            next = Lookahead::at(bytes, end);
        }
        tell(SeveralDigits {
            begin_with_one: first == 1,
            before_hydrogen: next.byte == usize::from(b'H'),
        });
        let few = first > 0 && end - second <= 2 && value < MORE;
        few.then_some(PlainCount { value, end, next })
    }
}

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
