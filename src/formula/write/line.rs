//! Forms in one line of text, piece by piece in the order of the formula.

use core::fmt::{self, Write};

use super::pieces::{Charge, plain_count, vulgar};
use crate::element::Atom;
use crate::formula::repr::{Count, Formula, Part, Term};

/// How a form writes each piece of a formula.
pub(super) struct LineForm {
    /// What joins two parts.
    pub(super) dot: &'static str,
    /// Writes a coefficient other than one.
    pub(super) coefficient: fn(&mut dyn Write, Count) -> fmt::Result,
    /// Writes a labelled atom, by its mass number and symbol.
    pub(super) labelled_atom: fn(&mut dyn Write, u16, &str) -> fmt::Result,
    pub(super) bracket: fn(&mut dyn Write, char) -> fmt::Result,
    /// Writes a count other than one.
    pub(super) count: fn(&mut dyn Write, TermCount) -> fmt::Result,
    pub(super) charge: fn(&mut dyn Write, Charge) -> fmt::Result,
}

/// The count of an atom or of a group, and where it is.
#[derive(Clone, Copy)]
pub(super) struct TermCount {
    /// The atom that is counted, unless it is a group.
    pub(super) atom: Option<Atom>,
    pub(super) count: Count,
    /// Whether the only text after it is a dot or a label.
    pub(super) is_last: bool,
    /// Whether the term is the whole part.
    pub(super) is_alone: bool,
}

impl LineForm {
    pub(super) fn formula(&self, out: &mut dyn Write, formula: &Formula) -> fmt::Result {
        self.parts(out, formula)?;
        match formula.state() {
            Some(state) => out.write_str(state.label()),
            None => Ok(()),
        }
    }

    pub(super) fn parts(&self, out: &mut dyn Write, formula: &Formula) -> fmt::Result {
        for (index, part) in formula.parts().iter().enumerate() {
            if index > 0 {
                out.write_str(self.dot)?;
            }
            if !part.coefficient.is_one() {
                (self.coefficient)(out, part.coefficient)?;
            }
            self.terms(out, part)?;
        }
        Ok(())
    }

    /// Writes the part without its coefficient.
    pub(super) fn terms(&self, out: &mut dyn Write, part: &Part) -> fmt::Result {
        if part.terms.is_empty() {
            out.write_char('e')?;
        }
        for (index, term) in part.terms.iter().enumerate() {
            let (atom, count) = match term {
                Term::Atom(atom, count) => {
                    self.atom(out, *atom)?;
                    (Some(*atom), *count)
                }
                Term::Open(bracket) => {
                    (self.bracket)(out, bracket.open())?;
                    continue;
                }
                Term::Close(bracket, count) => {
                    (self.bracket)(out, bracket.close())?;
                    (None, *count)
                }
            };
            if !count.is_one() || part.needs_one(index) {
                let is_last = index + 1 == part.terms.len() && part.charge == 0;
                let count = TermCount {
                    atom,
                    count,
                    is_last,
                    is_alone: is_last && index == 0,
                };
                (self.count)(out, count)?;
            }
        }
        match Charge::of(part.charge) {
            Some(charge) => (self.charge)(out, charge),
            None => Ok(()),
        }
    }

    fn atom(&self, out: &mut dyn Write, atom: Atom) -> fmt::Result {
        let symbol = atom.element().symbol();
        match atom.mass_number() {
            None => out.write_str(symbol),
            Some(number) => (self.labelled_atom)(out, number, symbol),
        }
    }
}

pub(super) fn write_plain_count(out: &mut dyn Write, count: Count) -> fmt::Result {
    out.write_str(&plain_count(count))
}

/// Writes a fraction as one sign if there is such a sign.
pub(super) fn write_vulgar_count(out: &mut dyn Write, count: Count) -> fmt::Result {
    match vulgar(count) {
        Some((sign, _)) => out.write_str(sign),
        None => write_plain_count(out, count),
    }
}
