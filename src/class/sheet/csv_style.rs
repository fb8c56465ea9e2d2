//! How a sheet separates its cells and writes its decimals.

use alloc::string::{String, ToString};
use core::fmt;

use crate::number::DecimalMark;

/// The separators that a sheet may have, the likeliest first.
pub(in crate::class) const SEPARATORS: [u8; 3] = *b",;\t";

/// Returns the decimal marks of a sheet with this separator.
pub(in crate::class) fn decimal_mark(separator: u8) -> DecimalMark {
    match separator {
        b',' => DecimalMark::Point,
        _ => DecimalMark::CommaOrPoint,
    }
}

/// The separator and the decimal mark of a sheet. What is made from the sheet is written in the same way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct CsvStyle {
    pub(crate) separator: u8,
    pub(crate) decimal_comma: bool,
}

impl Default for CsvStyle {
    fn default() -> Self {
        CsvStyle {
            separator: b',',
            decimal_comma: false,
        }
    }
}

impl CsvStyle {
    /// Returns a number with the decimal mark of the sheet.
    pub(crate) fn number(self, number: impl fmt::Display) -> String {
        let text = number.to_string();
        if self.decimal_comma {
            text.replace('.', ",")
        } else {
            text
        }
    }
}
