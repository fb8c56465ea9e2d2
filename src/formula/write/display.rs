//! A formula is shown as its canonical plain text.

use core::fmt;

use crate::formula::repr::Formula;

impl fmt::Display for Formula {
    /// Writes the canonical plain text, such as `CaSO4·0.5H2O` or `SO4^2-`.
    /// [`FromStr`](core::str::FromStr) reads it back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.plain())
    }
}

impl fmt::Debug for Formula {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Formula({self})")
    }
}
