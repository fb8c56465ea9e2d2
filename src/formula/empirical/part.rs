//! What an analysis counts: atoms of a kind, or whole species.

use alloc::format;

use super::super::error::{Error, ErrorKind};
use super::super::repr::{Count, Formula, Part as Written, Term};
use crate::element::{Atom, Element};
use crate::text::Detail;

/// An element, or a species that is counted whole.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Part {
    Atom(Atom),
    Species(Written),
}

impl Part {
    /// A formula of one kind of atom is that element, however many it writes: `O2` is oxygen.
    pub(super) fn new(formula: &Formula) -> Result<Part, Error> {
        if let Some(atom) = only_atom(formula) {
            return Ok(Part::Atom(atom));
        }
        let mut parts = formula.parts().into_iter();
        match (parts.next(), parts.next()) {
            (Some(part), None) if part.charge == 0 && part.coefficient.is_one() => {
                Ok(Part::Species(part))
            }
            _ => Err(refused(
                format!("{formula} is no part that is counted whole"),
                "give an element or a species without charge, dot or coefficient, such as CuSO4 and H2O",
            )),
        }
    }

    /// The element that a product of burning carries.
    pub(super) fn burnt_to(product: &Formula) -> Result<Part, Error> {
        let counts = product.composition()?;
        let oxygen = Atom::natural(Element::OXYGEN);
        let mut others = counts.iter().filter(|(atom, _)| *atom != oxygen);
        match (others.next(), others.next()) {
            (Some((atom, _)), None) if product.charge() == 0 => Ok(Part::Atom(atom)),
            _ => Err(refused(
                format!("{product} does not stand for one element of the sample"),
                "give an oxide such as CO2, H2O or SO2, or an element such as N2; give other parts by their mass",
            )),
        }
    }

    pub(super) fn formula(&self) -> Formula {
        let part = match self {
            Part::Atom(atom) => Written {
                terms: alloc::vec![Term::Atom(*atom, Count::ONE)],
                ..Written::empty()
            },
            Part::Species(part) => part.clone(),
        };
        Formula::from_parts(&[part], None)
    }
}

/// The one kind of atom that an uncharged formula is made of.
fn only_atom(formula: &Formula) -> Option<Atom> {
    let counts = formula.composition().ok()?;
    let mut atoms = counts.iter().map(|(atom, _)| atom);
    let first = atoms.next()?;
    (atoms.next().is_none() && formula.charge() == 0).then_some(first)
}

fn refused(message: alloc::string::String, help: &'static str) -> Error {
    Error::new(ErrorKind::BadAnalysis, Detail::new(message).help(help))
}
