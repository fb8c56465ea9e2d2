//! Charges as they are written.

use super::cursor::{CountNotation, Cursor};
use crate::formula::lex::{sign, small_number};
use crate::formula::repr::ShortSpan;
use crate::text::{digit, is_minus};

/// A charge as it is written.
#[derive(Debug, Clone, Copy)]
pub(crate) enum ChargeNotation {
    /// Marked as a charge: raised, after a caret, or in brackets of its own.
    Marked(i32),
    /// With its sign on the line.
    Bare(BareCharge),
}

/// Signs on the line, such as `-`, `--` or `+2`. Digits before them belong, as written, to the last
/// count.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BareCharge {
    pub(crate) negative: bool,
    pub(crate) signs: u32,
    /// The count before the sign.
    pub(crate) count: CountNotation,
    pub(crate) digits_after: Option<u32>,
    pub(crate) span: ShortSpan,
}

impl Cursor<'_> {
    /// Reads a charge that begins with its sign.
    pub(crate) fn read_bare_charge(&mut self) -> ChargeNotation {
        let start = self.at;
        let count = self.count_before(start);
        let negative = self.peek().is_some_and(is_minus);
        let mut signs = 0;
        while let Some(c) = self.peek().filter(|c| sign(*c) == Some(negative)) {
            self.at += c.len_utf8();
            signs += 1;
        }
        let digits_after = self.take(small_number(digit)).map(u32::from);
        ChargeNotation::Bare(BareCharge {
            negative,
            signs,
            count,
            digits_after,
            span: self.span_since(start),
        })
    }
}
