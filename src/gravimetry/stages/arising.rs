//! How many formula units of a residue arise from a solid: the elements that are kept fix it.
//!
//! Hydrogen, carbon, nitrogen and oxygen may leave as gases and may come from the air, as water vapour,
//! carbon dioxide, nitrogen and oxygen. So they fix nothing if the residue has another element. Of the
//! others the one that gives fewest units is kept whole. The rest of the others is lost: from KAl(SO4)2
//! to K2SO4·Al2O3, potassium and aluminium are kept, and sulfur is lost.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;

use crate::element::{Atom, Element};
use crate::formula::{Composition, Formula};
use crate::gravimetry::error::{Error, ErrorKind};
use crate::number::Ratio;
use crate::text::{Detail, list};

/// A solid: a number of formula units and their atoms, for one formula unit of what was heated.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::gravimetry) struct Solid {
    pub(in crate::gravimetry) formula: Formula,
    pub(in crate::gravimetry) units: Ratio,
    pub(super) atoms: Composition,
}

impl Solid {
    /// One formula unit.
    pub(in crate::gravimetry) fn new(formula: Formula) -> Result<Solid, Error> {
        let atoms = formula.composition()?;
        if atoms.iter().len() == 0 {
            let detail = Detail::new(format!("{formula} is not a solid"));
            let detail = detail.help("give a formula with atoms, such as CuSO4·5H2O");
            return Err(Error::new(ErrorKind::NotASalt, detail));
        }
        Ok(Solid {
            formula,
            units: Ratio::ONE,
            atoms,
        })
    }
}

/// Elements of gases that the air has, or that it takes.
fn in_air(atom: Atom) -> bool {
    let element = atom.element();
    element == Element::HYDROGEN || element == Element::OXYGEN || may_fix(atom)
}

/// Elements of the air that fix the number of units if the residue has no others.
fn may_fix(atom: Atom) -> bool {
    [Element::CARBON, Element::NITROGEN].contains(&atom.element())
}

/// Returns the residue that arises from a solid, with its number of formula units.
pub(in crate::gravimetry) fn arising(from: &Solid, residue: Formula) -> Result<Solid, Error> {
    let of_one = Solid::new(residue)?;
    let (air, own): (Vec<Atom>, Vec<Atom>) = of_one
        .atoms
        .iter()
        .map(|(atom, _)| atom)
        .partition(|atom| in_air(*atom));
    let foreign: Vec<Atom> = own
        .iter()
        .copied()
        .filter(|atom| from.atoms.count(*atom).is_zero())
        .collect();
    if !foreign.is_empty() {
        return Err(foreign_elements(from, &of_one, &foreign));
    }
    let fixing: Vec<Atom> = match own.is_empty() {
        false => own,
        true => air
            .into_iter()
            .filter(|atom| may_fix(*atom) && !from.atoms.count(*atom).is_zero())
            .collect(),
    };
    let units = fixing.into_iter().filter_map(|atom| {
        let in_one = of_one.atoms.count(atom);
        from.atoms.count(atom).checked_div(&in_one)
    });
    let units = units.min().ok_or_else(|| nothing_kept(from, &of_one))?;
    Ok(Solid {
        atoms: of_one.atoms.times(&units)?,
        formula: of_one.formula,
        units,
    })
}

fn foreign_elements(from: &Solid, residue: &Solid, foreign: &[Atom]) -> Error {
    let (from, residue) = (&from.formula, &residue.formula);
    let names = list(foreign.iter().map(|atom| match atom.mass_number() {
        None => atom.element().name().to_string(),
        Some(_) => format!("{atom}"),
    }));
    let message = format!(
        "{residue} cannot arise from {from}: it has {names}, and neither {from} nor the air has"
    );
    let help = "give what the solid before it can leave, such as CuO of CuSO4";
    Error::new(ErrorKind::NotAResidue, Detail::new(message).help(help))
}

fn nothing_kept(from: &Solid, residue: &Solid) -> Error {
    let (from, residue) = (&from.formula, &residue.formula);
    let message = format!(
        "{residue} has only elements that the air has, too, so its amount from {from} is not fixed"
    );
    let help = "give a residue that keeps an element of the salt, such as a metal";
    Error::new(ErrorKind::NotAResidue, Detail::new(message).help(help))
}
