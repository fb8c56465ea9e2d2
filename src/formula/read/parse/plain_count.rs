//! Counts in a few plain digits.

use super::lookahead::{ByteClass, Lookahead};
use crate::formula::lex::is_plain_adduct_point;
use crate::formula::repr::words::LEAST_LONG_COUNT;

/// A count in a few digits of ASCII without a leading zero, or no digits, which count one. (A written
/// count of 1 is not plain: it is rare, and often a typing error.)
pub(crate) struct PlainCount {
    pub(crate) value: u16,
    /// The offset after the count.
    pub(crate) end: usize,
    pub(crate) next: Lookahead,
}

/// What is reported about a count of several digits.
pub(crate) struct SeveralDigits {
    /// Whether the first is a 1.
    pub(crate) begin_with_one: bool,
    /// Whether an H follows: then the digits may hold the number of waters.
    pub(crate) before_hydrogen: bool,
}

impl PlainCount {
    /// Reads the count at an offset, if it is plain. If it has several digits, `tell` is called.
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
        let ends = !count.next.class.may_be_count() || ends_before_dot(bytes, start, count.end);
        ends.then_some(count)
    }

    /// Reads the digits at an offset, of which this is the first.
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
        let few = first > 0 && end - second <= 2 && value < LEAST_LONG_COUNT;
        few.then_some(PlainCount { value, end, next })
    }
}

/// Whether a count ends at an offset although the next byte may belong to a count.
#[inline]
fn ends_before_dot(bytes: &[u8], start: usize, end: usize) -> bool {
    match bytes.get(end..) {
        Some([0xC2, 0xB7, ..]) => true,
        Some([b'.', ..]) if start == end => true,
        Some([b'.', after @ ..]) => is_plain_adduct_point(after),
        _ => false,
    }
}
