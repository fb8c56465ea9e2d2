//! The canonical plain text, which is stored, compared and read back.

use alloc::string::String;
use core::fmt;

use super::super::lex::part_suspects;
use super::super::repr::{Count, Formula, Part, Term};
use super::{Charge, Counted, Line, line_of_terms, plain_count, text};
use crate::element::{Atom, Element};

impl Formula {
    pub(in super::super) fn plain(&self) -> String {
        let mut out = text(|out| Plain::parts(out, self));
        part_suspects(&mut out);
        if let Some(state) = self.state() {
            out.push_str(state.label());
        }
        out
    }
}

/// The text of one part without its coefficient.
pub(in super::super) fn plain_part(part: &Part) -> String {
    text(|out| Plain::terms(out, part))
}

struct Plain;

impl Line for Plain {
    fn coefficient(out: &mut dyn fmt::Write, count: Count) -> fmt::Result {
        out.write_str(&plain_count(count))
    }

    fn atom(out: &mut dyn fmt::Write, atom: Atom) -> fmt::Result {
        match atom.mass_number() {
            None => out.write_str(atom.element().symbol()),
            Some(_) => write!(out, "{atom}"),
        }
    }

    fn count(out: &mut dyn fmt::Write, counted: Counted<'_>) -> fmt::Result {
        let text = plain_count(counted.count);
        // `Cn` would be copernicium, not carbon in an open count.
        let other_element = matches!(counted.count, Count::Unknown(_))
            && Element::from_symbol(&alloc::format!("{}{text}", counted.symbol)).is_some();
        // A full stop with a formula behind it would be read as an adduct dot.
        let adduct_dot = !counted.last && text.contains('.') && !text.starts_with("0.");
        if other_element || adduct_dot {
            write!(out, "_{{{text}}}")
        } else {
            out.write_str(&text)
        }
    }

    fn terms(out: &mut dyn fmt::Write, part: &Part) -> fmt::Result {
        let hydrogen = Atom::natural(Element::HYDROGEN);
        match (part.terms.as_slice(), part.charge) {
            // Twenty hydrogens, not water with a zero.
            ([Term::Atom(atom, Count::Known(20, 1))], 0) if *atom == hydrogen => {
                out.write_str("H_{20}")
            }
            _ => line_of_terms::<Self>(out, part),
        }
    }

    fn charge(out: &mut dyn fmt::Write, charge: Charge) -> fmt::Result {
        write!(out, "^{}{}", charge.digits(), charge.sign())
    }
}
