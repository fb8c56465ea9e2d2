//! The canonical plain text, which is stored, compared and read back.

use alloc::string::String;

use super::line::{LineForm, write_plain_count};
use super::pieces::{plain_count, to_text};
use crate::element::{Atom, Element};
use crate::formula::lex::avoid_typos;
use crate::formula::repr::{Count, Formula, Part};

impl Formula {
    pub(in crate::formula) fn plain(&self) -> String {
        let mut out = self.plain_with_typos();
        avoid_typos(&mut out);
        if let Some(state) = self.state() {
            out.push_str(state.label());
        }
        out
    }

    /// The plain text without its label, which may look like a typing error.
    pub(in crate::formula) fn plain_with_typos(&self) -> String {
        to_text(|out| PLAIN.parts(out, self))
    }
}

/// The text of one part without its coefficient.
pub(crate) fn plain_part(part: &Part) -> String {
    to_text(|out| PLAIN.terms(out, part))
}

const PLAIN: LineForm = LineForm {
    dot: "·",
    coefficient: write_plain_count,
    labelled_atom: |out, number, symbol| write!(out, "[{number}{symbol}]"),
    bracket: |out, bracket| out.write_char(bracket),
    count: |out, term| {
        let text = plain_count(term.count);
        let symbol = |atom: Atom| alloc::format!("{}{text}", atom.element().symbol());
        // `Cn` would be copernicium, not carbon with an unknown count.
        let is_other_element = matches!(term.count, Count::Unknown(_))
            && term
                .atom
                .is_some_and(|atom| Element::from_symbol(&symbol(atom)).is_some());
        // A full stop before another term would be read as an adduct dot.
        let has_adduct_dot = !term.is_last && text.contains('.') && !text.starts_with("0.");
        // `H20` would be read as water with a zero.
        let is_like_water = term.is_alone
            && term.count == Count::Known(20, 1)
            && term.atom == Some(Atom::natural(Element::HYDROGEN));
        if is_other_element || has_adduct_dot || is_like_water {
            write!(out, "_{{{text}}}")
        } else {
            out.write_str(&text)
        }
    },
    charge: |out, charge| write!(out, "^{}{}", charge.digits(), charge.sign()),
};
