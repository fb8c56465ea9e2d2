//! Lowered and raised digits, and fractions in one sign.

use alloc::string::String;
use core::fmt;

use super::super::repr::{Count, Formula};
use super::{Charge, Counted, Line, plain_count, text, vulgar};
use crate::element::Atom;
use crate::text::{to_subscript, to_superscript};

impl Formula {
    /// With subscripts, superscripts and vulgar fractions: `CaSO₄·½H₂O`, `SO₄²⁻`.
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
        text(|out| self.write_unicode(out))
    }

    /// Writes what [`to_unicode`](Formula::to_unicode) gives.
    ///
    /// # Errors
    /// Only those of `out`.
    pub fn write_unicode(&self, out: &mut impl fmt::Write) -> fmt::Result {
        Unicode::formula(out, self)
    }
}

struct Unicode;

impl Line for Unicode {
    fn coefficient(out: &mut dyn fmt::Write, count: Count) -> fmt::Result {
        match vulgar(count) {
            Some(fraction) => out.write_str(fraction.sign),
            None => out.write_str(&plain_count(count)),
        }
    }

    fn atom(out: &mut dyn fmt::Write, atom: Atom) -> fmt::Result {
        if let Some(number) = atom.mass_number() {
            write_superscript(out, &alloc::format!("{number}"))?;
        }
        out.write_str(atom.element().symbol())
    }

    fn count(out: &mut dyn fmt::Write, counted: Counted<'_>) -> fmt::Result {
        let digits = plain_count(counted.count);
        digits
            .chars()
            .try_for_each(|c| out.write_char(subscript(c)))
    }

    fn charge(out: &mut dyn fmt::Write, charge: Charge) -> fmt::Result {
        write_superscript(out, &charge.digits())?;
        out.write_char(if charge.negative { '⁻' } else { '⁺' })
    }
}

fn write_superscript(out: &mut dyn fmt::Write, digits: &str) -> fmt::Result {
    digits
        .chars()
        .try_for_each(|c| out.write_char(to_superscript(c).unwrap_or(c)))
}

fn subscript(c: char) -> char {
    match c {
        'x' => '\u{2093}',
        'n' => '\u{2099}',
        '/' => '\u{2044}',
        _ => to_subscript(c).unwrap_or(c),
    }
}
