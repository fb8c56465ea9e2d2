//! The `\ce` of LaTeX's package mhchem, without an underscore and without a bare asterisk, so that
//! Markdown leaves it as it is.
//!
//! mhchem's manual writes the dot of an addition compound ` * ` (as well as `*` and `.`), a fraction
//! before a formula `1/2`, an open coefficient `x H2O`, a mass number `^{227}`.

use alloc::string::String;
use core::fmt;

use super::super::repr::{Count, Formula};
use super::latex::write_bracket;
use super::{Charge, Counted, Line, plain_count, text, vulgar};
use crate::element::Atom;

impl Formula {
    /// For LaTeX's package mhchem: `\ce{K3[Fe(CN)6]}`, `\ce{CuSO4 * 5H2O}`, `\ce{SO4^2-}`.
    ///
    /// There is no underscore in it, so that Markdown leaves it alone. mhchem lowers whole numbers
    /// by itself; any other count behind an atom or a bracket is lowered as the lower half of a
    /// fraction without a line.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let plaster: Formula = "CaSO4·½H2O".parse()?;
    /// assert_eq!(plaster.to_mhchem(), r"\ce{CaSO4 * 1/2H2O}");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn to_mhchem(&self) -> String {
        text(|out| self.write_mhchem(out))
    }

    /// Writes what [`to_mhchem`](Formula::to_mhchem) gives.
    ///
    /// # Errors
    /// Only those of `out`.
    pub fn write_mhchem(&self, out: &mut impl fmt::Write) -> fmt::Result {
        out.write_str("\\ce{")?;
        Mhchem::formula(out, self)?;
        out.write_char('}')
    }
}

struct Mhchem;

impl Line for Mhchem {
    const DOT: &'static str = " * ";

    fn coefficient(out: &mut dyn fmt::Write, count: Count) -> fmt::Result {
        match (count, vulgar(count)) {
            (_, Some(fraction)) => out.write_str(fraction.line),
            (Count::Unknown(letter), _) => write!(out, "{letter} "),
            (Count::Known(..), None) => out.write_str(&plain_count(count)),
        }
    }

    fn atom(out: &mut dyn fmt::Write, atom: Atom) -> fmt::Result {
        if let Some(number) = atom.mass_number() {
            write!(out, "^{{{number}}}")?;
        }
        out.write_str(atom.element().symbol())
    }

    fn bracket(out: &mut dyn fmt::Write, bracket: char) -> fmt::Result {
        write_bracket(out, bracket)
    }

    fn count(out: &mut dyn fmt::Write, counted: Counted<'_>) -> fmt::Result {
        let text = plain_count(counted.count);
        if let Count::Known(_, 1) = counted.count {
            return out.write_str(&text);
        }
        // mhchem reads `0.95` behind an atom as a dot and `8/3` as a subscript and a slash. Not
        // every renderer of it knows a word of TeX that stands for the underscore.
        write!(
            out,
            "\\mathrm{{\\genfrac{{}}{{}}{{0pt}}{{1}}{{}}{{{text}}}}}"
        )
    }

    fn charge(out: &mut dyn fmt::Write, charge: Charge) -> fmt::Result {
        write!(out, "^{}{}", charge.digits(), charge.sign())
    }
}
