//! A fragment of HTML. Nothing in it needs escaping: symbols, digits, brackets and dots only.

use alloc::string::String;
use core::fmt;

use super::super::repr::{Count, Formula};
use super::{Charge, Counted, Line, plain_count, text, vulgar};
use crate::element::Atom;

impl Formula {
    /// As an HTML fragment: `Fe(OH)<sub>3</sub>`.
    #[must_use]
    pub fn to_html(&self) -> String {
        text(|out| self.write_html(out))
    }

    /// Writes what [`to_html`](Formula::to_html) gives.
    ///
    /// # Errors
    /// Only those of `out`.
    pub fn write_html(&self, out: &mut impl fmt::Write) -> fmt::Result {
        Html::formula(out, self)
    }
}

struct Html;

impl Line for Html {
    fn coefficient(out: &mut dyn fmt::Write, count: Count) -> fmt::Result {
        match vulgar(count) {
            Some(fraction) => out.write_str(fraction.sign),
            None => out.write_str(&plain_count(count)),
        }
    }

    fn atom(out: &mut dyn fmt::Write, atom: Atom) -> fmt::Result {
        if let Some(number) = atom.mass_number() {
            write!(out, "<sup>{number}</sup>")?;
        }
        out.write_str(atom.element().symbol())
    }

    fn count(out: &mut dyn fmt::Write, counted: Counted<'_>) -> fmt::Result {
        write!(out, "<sub>{}</sub>", plain_count(counted.count))
    }

    fn charge(out: &mut dyn fmt::Write, charge: Charge) -> fmt::Result {
        let (digits, sign) = (charge.digits(), charge.typographic_sign());
        write!(out, "<sup>{digits}{sign}</sup>")
    }
}
