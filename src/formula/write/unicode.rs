//! Subscripts, superscripts and vulgar fractions.

use alloc::string::String;
use core::fmt;

use super::line::{LineForm, write_vulgar_count};
use super::pieces::{plain_count, to_text};
use crate::formula::repr::Formula;
use crate::text::{to_subscript, to_superscript};

impl Formula {
    /// Returns the formula with subscripts, superscripts and vulgar fractions: `CaSO₄·½H₂O`, `SO₄²⁻`.
    /// [`Formula::read`] reads it back.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let ion: Formula = "SO4^2-".parse()?;
    /// assert_eq!(ion.to_unicode(), "SO₄²⁻");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn to_unicode(&self) -> String {
        to_text(|out| self.write_unicode(out))
    }

    /// Writes what [`to_unicode`](Formula::to_unicode) gives.
    ///
    /// # Errors
    /// Returns the error of `out` if it refuses the text.
    pub fn write_unicode(&self, out: &mut impl fmt::Write) -> fmt::Result {
        UNICODE.formula(out, self)
    }
}

const UNICODE: LineForm = LineForm {
    dot: "·",
    coefficient: write_vulgar_count,
    labelled_atom: |out, number, symbol| {
        write_superscript(out, &alloc::format!("{number}"))?;
        out.write_str(symbol)
    },
    bracket: |out, bracket| out.write_char(bracket),
    count: |out, term| {
        let digits = plain_count(term.count);
        digits
            .chars()
            .try_for_each(|c| out.write_char(subscript(c)))
    },
    charge: |out, charge| {
        write_superscript(out, &charge.digits())?;
        out.write_char(if charge.negative { '⁻' } else { '⁺' })
    },
};

fn write_superscript(out: &mut dyn fmt::Write, digits: &str) -> fmt::Result {
    let mut digits = digits.chars();
    digits.try_for_each(|c| out.write_char(to_superscript(c).unwrap_or(c)))
}

fn subscript(c: char) -> char {
    match c {
        'x' => '\u{2093}',
        'n' => '\u{2099}',
        '/' => '\u{2044}',
        _ => to_subscript(c).unwrap_or(c),
    }
}
