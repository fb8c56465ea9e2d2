//! What an analysis counts: atoms of an element, or a whole species.

use alloc::format;
use alloc::string::String;
use alloc::vec;

use crate::element::{Atom, Element};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::repr::{Count, Formula, Part, Term};

/// What an analysis counts: atoms of an element, or a whole species.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Entity {
    Atom(Atom),
    Species(Part),
}

impl Entity {
    /// The entity of this formula. A formula of one kind of atom is that element: `O2` is oxygen.
    pub(super) fn new(formula: &Formula) -> Result<Entity, Error> {
        if let Some(atom) = only_atom(formula) {
            return Ok(Entity::Atom(atom));
        }
        let mut parts = formula.parts().into_iter();
        match (parts.next(), parts.next()) {
            (Some(part), None) if part.charge == 0 && part.coefficient.is_one() => {
                Ok(Entity::Species(part))
            }
            _ => Err(bad_analysis(
                format!("{formula} is not an element or a single uncharged species"),
                "give an element or a species without charge, dot or coefficient, such as CuSO4 or H2O",
            )),
        }
    }

    /// The element of the sample that a product of combustion contains.
    pub(super) fn burnt_to(product: &Formula) -> Result<Entity, Error> {
        let counts = product.composition()?;
        let oxygen = Atom::natural(Element::OXYGEN);
        let mut others = counts.iter().filter(|(atom, _)| *atom != oxygen);
        match (others.next(), others.next()) {
            (Some((atom, _)), None) if product.charge() == Some(0) => Ok(Entity::Atom(atom)),
            _ => Err(bad_analysis(
                format!("{product} does not give one element of the sample"),
                "give an oxide such as CO2, H2O or SO2, or an element such as N2. Give other parts by their mass",
            )),
        }
    }

    pub(super) fn formula(&self) -> Formula {
        let part = match self {
            Entity::Atom(atom) => Part {
                terms: vec![Term::Atom(*atom, Count::ONE)],
                ..Part::empty()
            },
            Entity::Species(part) => part.clone(),
        };
        Formula::from_parts(&[part], None)
    }
}

/// The one kind of atom that an uncharged formula contains.
fn only_atom(formula: &Formula) -> Option<Atom> {
    let counts = formula.composition().ok()?;
    let mut atoms = counts.iter().map(|(atom, _)| atom);
    let first = atoms.next()?;
    (atoms.next().is_none() && formula.charge() == Some(0)).then_some(first)
}

pub(super) fn bad_analysis(message: String, help: &'static str) -> Error {
    Error::nowhere(ErrorKind::BadAnalysis, message, help)
}
