//! Counts and charges as text.

use alloc::format;
use alloc::string::String;
use core::fmt;

use crate::formula::repr::Count;

/// A charge as it is shown: a size, which is left out if it is one, and a sign.
#[derive(Clone, Copy)]
pub(super) struct Charge {
    pub(super) size: u32,
    pub(super) negative: bool,
}

impl Charge {
    pub(super) fn of(charge: i32) -> Option<Charge> {
        (charge != 0).then_some(Charge {
            size: charge.unsigned_abs(),
            negative: charge < 0,
        })
    }

    /// The digits of the size, if they are written.
    pub(super) fn digits(self) -> String {
        match self.size {
            1 => String::new(),
            size => format!("{size}"),
        }
    }

    pub(super) fn sign(self) -> char {
        if self.negative { '-' } else { '+' }
    }

    /// The sign with the minus sign of typography.
    pub(super) fn typographic_sign(self) -> char {
        if self.negative { '\u{2212}' } else { '+' }
    }
}

/// The sign and the words of a fraction that has a sign.
pub(super) fn vulgar(count: Count) -> Option<(&'static str, &'static str)> {
    match count {
        Count::Known(1, 2) => Some(("½", "one half")),
        Count::Known(1, 3) => Some(("⅓", "one third")),
        Count::Known(2, 3) => Some(("⅔", "two thirds")),
        Count::Known(1, 4) => Some(("¼", "one quarter")),
        Count::Known(3, 4) => Some(("¾", "three quarters")),
        _ => None,
    }
}

/// A decimal if it ends, otherwise `p/q`. There is never an exponent.
pub(super) fn plain_count(count: Count) -> String {
    match (count, count.ratio()) {
        (Count::Unknown(letter), _) => letter.into(),
        (Count::Known(n, d), Some(ratio)) => {
            let text = format!("{ratio}");
            // The parser refuses a count with as many digits as a long decimal has.
            if text.len() > 10 {
                format!("{n}/{d}")
            } else {
                text
            }
        }
        (_, None) => String::new(),
    }
}

/// The same as [`plain_count`], but with `1/2` for a fraction that has a sign.
pub(super) fn slash_count(count: Count) -> String {
    match (count, vulgar(count)) {
        (Count::Known(n, d), Some(_)) => format!("{n}/{d}"),
        _ => plain_count(count),
    }
}

/// Returns what is written as a text. A `String` accepts everything.
pub(super) fn to_text(write: impl FnOnce(&mut String) -> fmt::Result) -> String {
    let mut out = String::with_capacity(64);
    let result = write(&mut out);
    debug_assert!(result.is_ok(), "a String refused what was written to it");
    out
}
