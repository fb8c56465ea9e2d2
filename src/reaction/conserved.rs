//! The quantities that a reaction conserves.

use core::fmt;

use crate::element::Atom;

/// A quantity that a reaction conserves: atoms of one kind, or charge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Conserved {
    /// Atoms of an element, or of one nuclide of it.
    Atom(Atom),
    /// Electric charge.
    Charge,
}

impl fmt::Display for Conserved {
    /// Writes the symbol, or `charge`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Conserved::Atom(atom) => atom.fmt(f),
            Conserved::Charge => f.pad("charge"),
        }
    }
}
