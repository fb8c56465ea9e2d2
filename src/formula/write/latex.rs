//! The maths mode of LaTeX, without packages.

use alloc::string::String;
use core::fmt;

use super::super::repr::{Count, Formula};
use super::{Charge, Counted, Line, plain_count, text, vulgar};
use crate::element::Atom;

impl Formula {
    /// For LaTeX's maths mode, without packages: `\mathrm{Fe(OH)_{3}}`.
    #[must_use]
    pub fn to_latex(&self) -> String {
        text(|out| self.write_latex(out))
    }

    /// Writes what [`to_latex`](Formula::to_latex) gives.
    ///
    /// # Errors
    /// Only those of `out`.
    pub fn write_latex(&self, out: &mut impl fmt::Write) -> fmt::Result {
        out.write_str("\\mathrm{")?;
        Latex::formula(out, self)?;
        out.write_char('}')
    }
}

struct Latex;

impl Line for Latex {
    const DOT: &'static str = "\\cdot ";

    fn coefficient(out: &mut dyn fmt::Write, count: Count) -> fmt::Result {
        match vulgar(count) {
            Some(fraction) => out.write_str(fraction.line),
            None => out.write_str(&plain_count(count)),
        }
    }

    fn atom(out: &mut dyn fmt::Write, atom: Atom) -> fmt::Result {
        if let Some(number) = atom.mass_number() {
            // The empty group keeps the number from the atom before.
            write!(out, "{{}}^{{{number}}}")?;
        }
        out.write_str(atom.element().symbol())
    }

    fn bracket(out: &mut dyn fmt::Write, bracket: char) -> fmt::Result {
        write_bracket(out, bracket)
    }

    fn count(out: &mut dyn fmt::Write, counted: Counted<'_>) -> fmt::Result {
        write!(out, "_{{{}}}", plain_count(counted.count))
    }

    fn charge(out: &mut dyn fmt::Write, charge: Charge) -> fmt::Result {
        write!(out, "^{{{}{}}}", charge.digits(), charge.sign())
    }
}

pub(super) fn write_bracket(out: &mut dyn fmt::Write, bracket: char) -> fmt::Result {
    if matches!(bracket, '{' | '}') {
        out.write_char('\\')?;
    }
    out.write_char(bracket)
}
