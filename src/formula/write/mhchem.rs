//! The `\ce` of LaTeX's package mhchem. It has no underscore and no bare asterisk, so that Markdown
//! leaves it as it is.
//!
//! mhchem's manual writes the dot of an addition compound ` * ` (as well as `*` and `.`), a fraction
//! before a formula `1/2`, an unknown coefficient `x H2O`, a mass number `^{227}`.

use alloc::string::String;
use core::fmt;

use super::latex::write_bracket;
use super::line::LineForm;
use super::pieces::{plain_count, slash_count, to_text};
use crate::formula::repr::{Count, Formula};

impl Formula {
    /// Returns the formula for LaTeX's package mhchem: `\ce{K3[Fe(CN)6]}`, `\ce{CuSO4 * 5H2O}`, `\ce{SO4^2-}`.
    ///
    /// The text has no underscore, so that Markdown leaves it as it is. mhchem makes subscripts of
    /// whole numbers by itself. Any other count after an atom or a bracket is written as the lower
    /// half of a fraction without a line.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let plaster: Formula = "CaSO4·½H2O".parse()?;
    /// assert_eq!(plaster.to_mhchem(), r"\ce{CaSO4 * 1/2H2O}");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn to_mhchem(&self) -> String {
        to_text(|out| self.write_mhchem(out))
    }

    /// Writes what [`to_mhchem`](Formula::to_mhchem) gives.
    ///
    /// # Errors
    /// Returns the error of `out` if it refuses the text.
    pub fn write_mhchem(&self, out: &mut impl fmt::Write) -> fmt::Result {
        out.write_str("\\ce{")?;
        MHCHEM.formula(out, self)?;
        out.write_char('}')
    }
}

const MHCHEM: LineForm = LineForm {
    dot: " * ",
    coefficient: |out, count| {
        out.write_str(&slash_count(count))?;
        match count {
            Count::Unknown(_) => out.write_char(' '),
            Count::Known(..) => Ok(()),
        }
    },
    labelled_atom: |out, number, symbol| write!(out, "^{{{number}}}{symbol}"),
    bracket: write_bracket,
    count: |out, term| {
        let text = plain_count(term.count);
        if let Count::Known(_, 1) = term.count {
            return out.write_str(&text);
        }
        // mhchem reads `0.95` after an atom as a dot, and `8/3` as a subscript and a slash. Not
        // every renderer of it knows a word of TeX for the underscore.
        write!(
            out,
            "\\mathrm{{\\genfrac{{}}{{}}{{0pt}}{{1}}{{}}{{{text}}}}}"
        )
    },
    charge: |out, charge| write!(out, "^{}{}", charge.digits(), charge.sign()),
};
