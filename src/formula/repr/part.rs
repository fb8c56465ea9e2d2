//! A part of a formula, laid out.

use alloc::vec::Vec;

use super::bracket::Bracket;
use super::count::Count;
use crate::element::Atom;

/// What stands between two dots, laid out for whoever takes it apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Part {
    pub(crate) coefficient: Count,
    pub(crate) terms: Vec<Term>,
    pub(crate) charge: i32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Term {
    Atom(Atom, Count),
    Open(Bracket),
    Close(Bracket, Count),
}

impl Part {
    pub(crate) const fn empty() -> Part {
        Part {
            coefficient: Count::ONE,
            terms: Vec::new(),
            charge: 0,
        }
    }

    /// Where the bracket that opens at this term is closed, and its count.
    pub(crate) fn closing(&self, open: usize) -> Option<(usize, Count)> {
        let mut depth = 0_usize;
        for (index, term) in self.terms.iter().enumerate().skip(open) {
            match term {
                Term::Open(_) => depth += 1,
                Term::Close(_, count) if depth == 1 => return Some((index, *count)),
                Term::Close(..) => depth = depth.saturating_sub(1),
                Term::Atom(..) => {}
            }
        }
        None
    }
}

impl Term {
    pub(crate) fn atom(&self) -> Option<(Atom, Count)> {
        match self {
            Term::Atom(atom, count) => Some((*atom, *count)),
            Term::Open(_) | Term::Close(..) => None,
        }
    }
}
