//! The maths mode of LaTeX, without packages.

use alloc::string::String;
use core::fmt;

use super::line::LineForm;
use super::pieces::{plain_count, slash_count, to_text};
use crate::formula::repr::Formula;

impl Formula {
    /// Returns the formula for LaTeX's maths mode, without packages: `\mathrm{Fe(OH)_{3}}`.
    #[must_use]
    pub fn to_latex(&self) -> String {
        to_text(|out| self.write_latex(out))
    }

    /// Writes what [`to_latex`](Formula::to_latex) gives.
    ///
    /// # Errors
    /// Returns the error of `out` if it refuses the text.
    pub fn write_latex(&self, out: &mut impl fmt::Write) -> fmt::Result {
        out.write_str("\\mathrm{")?;
        LATEX.formula(out, self)?;
        out.write_char('}')
    }
}

const LATEX: LineForm = LineForm {
    dot: "\\cdot ",
    coefficient: |out, count| out.write_str(&slash_count(count)),
    // The empty group separates the number from the atom before it.
    labelled_atom: |out, number, symbol| write!(out, "{{}}^{{{number}}}{symbol}"),
    bracket: write_bracket,
    count: |out, term| write!(out, "_{{{}}}", plain_count(term.count)),
    charge: |out, charge| write!(out, "^{{{}{}}}", charge.digits(), charge.sign()),
};

pub(super) fn write_bracket(out: &mut dyn fmt::Write, bracket: char) -> fmt::Result {
    if matches!(bracket, '{' | '}') {
        out.write_char('\\')?;
    }
    out.write_char(bracket)
}
