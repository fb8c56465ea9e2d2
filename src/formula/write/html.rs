//! A fragment of HTML. Symbols, digits, brackets and dots need no escaping.

use alloc::string::String;
use core::fmt;

use super::line::{LineForm, write_vulgar_count};
use super::pieces::{plain_count, to_text};
use crate::formula::repr::Formula;

impl Formula {
    /// Returns the formula as an HTML fragment: `Fe(OH)<sub>3</sub>`.
    #[must_use]
    pub fn to_html(&self) -> String {
        to_text(|out| self.write_html(out))
    }

    /// Writes what [`to_html`](Formula::to_html) gives.
    ///
    /// # Errors
    /// Returns the error of `out` if it refuses the text.
    pub fn write_html(&self, out: &mut impl fmt::Write) -> fmt::Result {
        HTML.formula(out, self)
    }
}

const HTML: LineForm = LineForm {
    dot: "·",
    coefficient: write_vulgar_count,
    labelled_atom: |out, number, symbol| write!(out, "<sup>{number}</sup>{symbol}"),
    bracket: |out, bracket| out.write_char(bracket),
    count: |out, term| write!(out, "<sub>{}</sub>", plain_count(term.count)),
    charge: |out, charge| {
        let (digits, sign) = (charge.digits(), charge.typographic_sign());
        write!(out, "<sup>{digits}{sign}</sup>")
    },
};
