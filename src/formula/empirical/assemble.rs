//! From whole numbers of parts to a formula.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::entity::Entity;
use crate::element::{Atom, Element};
use crate::formula::atoms::hill_key;
use crate::formula::error::Error;
use crate::formula::repr::{Bracket, Count, Formula, Part, Term};

/// The formula of these entities with their counts.
///
/// Elements keep the given order. If there is carbon and no metal, carbon and hydrogen come first and
/// the rest by symbol (Hill). A species other than water is a group if there are elements, otherwise
/// a part of its own. Water comes last, after a dot.
pub(super) fn assemble(entities: &[(&Entity, u32)]) -> Result<Formula, Error> {
    let mut atoms: Vec<(Atom, u32)> = Vec::new();
    let mut species: Vec<(&Part, u32)> = Vec::new();
    for (entity, count) in entities {
        match entity {
            Entity::Atom(atom) => atoms.push((*atom, *count)),
            Entity::Species(part) => species.push((part, *count)),
        }
    }
    sort_atoms(&mut atoms);
    let (waters, others): (Vec<_>, Vec<_>) =
        species.into_iter().partition(|(part, _)| part.is_water());
    let mut parts = Vec::new();
    if atoms.is_empty() {
        parts.extend(others.iter().map(|(part, count)| times(part, *count)));
    } else {
        let mut one = Part::empty();
        for (atom, count) in atoms {
            one.terms.push(Term::Atom(atom, Count::known(count, 1)));
        }
        for (group, count) in others {
            push_group(&mut one, group, count);
        }
        parts.push(one);
    }
    parts.extend(waters.iter().map(|(part, count)| times(part, *count)));
    let text = Formula::from_parts(&parts, None).plain();
    let (formula, _) = Formula::read(&text)?;
    Ok(formula.without_spans())
}

fn sort_atoms(atoms: &mut [(Atom, u32)]) {
    let metal = atoms.iter().any(|(atom, _)| atom.element().is_metal());
    let carbon = |(atom, _): &(Atom, u32)| atom.element() == Element::CARBON;
    if !metal && atoms.iter().any(carbon) {
        atoms.sort_unstable_by_key(|(atom, _)| hill_key(*atom, true));
    }
}

fn times(part: &Part, count: u32) -> Part {
    Part {
        coefficient: Count::known(count, 1),
        ..part.clone()
    }
}

fn push_group(into: &mut Part, group: &Part, count: u32) {
    if count == 1 {
        into.terms.extend(group.terms.iter().copied());
        return;
    }
    into.terms.push(Term::Open(Bracket::Round));
    into.terms.extend(group.terms.iter().copied());
    into.terms
        .push(Term::Close(Bracket::Round, Count::known(count, 1)));
}

/// The text of the formula, or of the counts if the formula is too large to be written.
pub(super) fn text(entities: &[(&Entity, u32)]) -> String {
    match assemble(entities) {
        Ok(formula) => format!("{formula}"),
        Err(_) => {
            let counts = entities.iter().map(|(_, count)| format!("{count}"));
            let counts: Vec<_> = counts.collect();
            format!("counts of {} (too large for a formula)", counts.join(" : "))
        }
    }
}
