//! From whole numbers of parts to the formula that is written.

use alloc::format;
use alloc::vec::Vec;

use super::part::Part;
use crate::element::{Atom, Element};
use crate::formula::error::Error;
use crate::formula::repr::{Bracket, Count, Formula, Part as Written, Term};

/// The formula of these parts, each so often.
///
/// Elements stand in the order given; where there is carbon and no metal, carbon and hydrogen first
/// and the rest by symbol (Hill). Beside elements a species other than water is a group of theirs;
/// among species alone each is a part of its own, joined by dots. Water comes last, behind a dot.
pub(super) fn assemble(parts: &[(&Part, u32)]) -> Result<Formula, Error> {
    let mut atoms: Vec<(Atom, u32)> = Vec::new();
    let mut species: Vec<(&Written, u32)> = Vec::new();
    for (part, count) in parts {
        match part {
            Part::Atom(atom) => atoms.push((*atom, *count)),
            Part::Species(written) => species.push((written, *count)),
        }
    }
    order(&mut atoms);
    let (waters, others): (Vec<_>, Vec<_>) =
        species.into_iter().partition(|(part, _)| part.is_water());
    let mut written = Vec::new();
    if atoms.is_empty() {
        written.extend(others.iter().map(|(part, count)| times(part, *count)));
    } else {
        let mut one = Written::empty();
        for (atom, count) in atoms {
            one.terms.push(Term::Atom(atom, Count::known(count, 1)));
        }
        for (group, count) in others {
            push_group(&mut one, group, count);
        }
        written.push(one);
    }
    written.extend(waters.iter().map(|(part, count)| times(part, *count)));
    let text = Formula::from_parts(&written, None).plain();
    let (formula, _) = Formula::read(&text)?;
    Ok(formula.without_places())
}

fn order(atoms: &mut [(Atom, u32)]) {
    let element = |element| move |(atom, _): &(Atom, u32)| atom.element() == element;
    let metal = atoms.iter().any(|(atom, _)| atom.element().is_metal());
    if metal || !atoms.iter().any(element(Element::CARBON)) {
        return;
    }
    let rank = |atom: Atom| match atom.element() {
        Element::CARBON => 0,
        Element::HYDROGEN => 1,
        _ => 2,
    };
    atoms.sort_by_key(|(atom, _)| (rank(*atom), atom.element().symbol(), *atom));
}

fn times(part: &Written, count: u32) -> Written {
    Written {
        coefficient: Count::known(count, 1),
        ..part.clone()
    }
}

fn push_group(into: &mut Written, group: &Written, count: u32) {
    if count == 1 {
        into.terms.extend(group.terms.iter().copied());
        return;
    }
    into.terms.push(Term::Open(Bracket::Round));
    into.terms.extend(group.terms.iter().copied());
    into.terms
        .push(Term::Close(Bracket::Round, Count::known(count, 1)));
}

/// The text of counts that were not chosen; the counts where they cannot be written.
pub(super) fn text(parts: &[(&Part, u32)]) -> alloc::string::String {
    match assemble(parts) {
        Ok(formula) => format!("{formula}"),
        Err(_) => {
            let counts: Vec<_> = parts.iter().map(|(_, count)| format!("{count}")).collect();
            counts.join(" : ")
        }
    }
}
