//! A part of a formula as a list of terms.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::bracket::Bracket;
use super::count::Count;
use super::water::WaterSpelling;
use super::words::{LEAST_LONG_COUNT, atom_word};
use crate::element::{Atom, Element};

/// What is between two dots, as a list of terms.
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

const H: u8 = Element::HYDROGEN.number();
const O: u8 = Element::OXYGEN.number();
/// Actinium.
const AC: u8 = 89;

impl Part {
    pub(crate) const fn empty() -> Part {
        Part {
            coefficient: Count::ONE,
            terms: Vec::new(),
            charge: 0,
        }
    }

    /// The index at which the bracket that opens at a term is closed, and its count.
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

    /// Whether a term needs its count of one, so that actinium does not look like the abbreviation of
    /// acetyl: `O1Ac`, `Ac1OH`.
    pub(crate) fn needs_one(&self, index: usize) -> bool {
        let atom = |index: usize, z: u8, count: Option<Count>| {
            let found = self.terms.get(index);
            matches!(found, Some(Term::Atom(atom, own)) if atom.element().number() == z
                && count.is_none_or(|count| *own == count))
        };
        let one = Some(Count::ONE);
        let acid = atom(index, AC, one) && atom(index + 1, O, one) && atom(index + 2, H, None);
        acid || (atom(index, O, one) && atom(index + 1, AC, None))
    }

    /// Removes water in round brackets, and brackets that then hold one atom or nothing.
    pub(crate) fn remove_bound_water(&mut self) {
        let mut open = 0;
        while open < self.terms.len() {
            let close = match self.terms.get(open) {
                Some(Term::Open(Bracket::Round)) => self.closing(open),
                _ => None,
            };
            let inside = close.and_then(|(close, _)| self.terms.get(open + 1..close));
            match (close, inside.is_some_and(Term::are_water)) {
                (Some((close, _)), true) => drop(self.terms.drain(open..=close)),
                _ => open += 1,
            }
        }
        let single = |at: usize, terms: &[Term]| match terms.get(at..at + 3) {
            Some(
                [
                    Term::Open(_),
                    Term::Atom(atom, Count::ONE),
                    Term::Close(_, count),
                ],
            ) => Some(Term::Atom(*atom, *count)),
            _ => None,
        };
        for at in (0..self.terms.len()).rev() {
            if let Some(atom) = single(at, &self.terms) {
                self.terms.splice(at..at + 3, [atom]);
            } else if let Some([Term::Open(_), Term::Close(..)]) = self.terms.get(at..at + 2) {
                self.terms.drain(at..at + 2);
            }
        }
    }

    pub(crate) fn is_water(&self) -> bool {
        self.charge == 0 && Term::are_water(&self.terms)
    }
}

impl Term {
    /// Whether these terms are a water molecule.
    pub(crate) fn are_water(terms: &[Term]) -> bool {
        let words: SmallVec<[u16; 4]> = terms.iter().map(|term| term.plain_word()).collect();
        WaterSpelling::is_water(&words)
    }

    /// The word of a natural atom with a small whole count, or zero for any other term.
    fn plain_word(self) -> u16 {
        match self {
            Term::Atom(atom, Count::Known(count, 1))
                if count < LEAST_LONG_COUNT.into() && atom.mass_number().is_none() =>
            {
                atom_word(atom.element().number(), count as u16)
            }
            _ => 0,
        }
    }
}
