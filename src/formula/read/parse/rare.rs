//! Terms that few formulas have: labelled atoms, rare symbols and counts, charges.

use super::super::draft::Draft;
use super::charge::ChargeNotation;
use super::cursor::Cursor;
use super::lookahead::{ByteClass, Lookahead};
use crate::formula::error::Error;
use crate::formula::lex::{
    TIMES, begins_with_dot, is_digit, is_dot, marked_charge, raised_mass_number, sign, state_label,
};
use crate::text::{Span, is_minus, is_space, superscript_digit, superscript_sign};

/// What was read where no plain term is next.
pub(crate) enum RareTerm {
    /// A term, after which the part may go on.
    Term,
    /// The charge, with which the part ends.
    Charge(ChargeNotation),
    /// Nothing: the part ended before.
    Nothing,
}

impl Cursor<'_> {
    /// Reads what is next if it is neither a plain term nor a plain dot.
    pub(crate) fn rare_term(
        &mut self,
        draft: &mut Draft<'_>,
        next: Lookahead,
    ) -> Result<RareTerm, Error> {
        let at = self.at;
        if next.class == ByteClass::CLOSES {
            self.close_any(draft, next.byte())?;
            return Ok(RareTerm::Term);
        }
        let atom = match self.peek().unwrap_or_default() {
            'A'..='Z' => self.atom(draft, None, at)?,
            '[' if self
                .rest()
                .get(1..)
                .is_some_and(|rest| rest.starts_with(is_digit)) =>
            {
                self.nuclide_in_brackets()?
            }
            '(' if state_label(self.rest()).is_ok() => return Ok(RareTerm::Nothing),
            c @ ('(' | '[' | '{') => {
                if let Some(charge) = self.take(marked_charge) {
                    return Ok(RareTerm::Charge(ChargeNotation::Marked(charge)));
                }
                self.open_any(draft, c)?;
                return Ok(RareTerm::Term);
            }
            c if c == '^' || superscript_digit(c).is_some() || superscript_sign(c).is_some() => {
                if let Some(charge) = self.take(marked_charge) {
                    return Ok(RareTerm::Charge(ChargeNotation::Marked(charge)));
                }
                let Some(number) = self.take(raised_mass_number) else {
                    return Err(self.bad_charge());
                };
                self.atom(draft, Some(number), at)?
            }
            c if is_minus(c) && draft.part_is_empty() => return Err(self.nothing_before(c)),
            c if sign(c).is_some() => return Ok(RareTerm::Charge(self.read_bare_charge())),
            c if is_space(c) || is_dot(c) || c == TIMES => return Ok(RareTerm::Nothing),
            c => return Err(self.unexpected(c)),
        };
        self.counted_atom(draft, atom, at)?;
        Ok(RareTerm::Term)
    }

    /// Nothing but a dot, a label or the end may follow a part.
    pub(crate) fn check_after_part(&self) -> Result<(), Error> {
        let rest = self.rest().trim_start_matches(is_space);
        let is_spaced = rest.len() < self.rest().len();
        match rest.chars().next() {
            None => Ok(()),
            Some(_) if begins_with_dot(is_spaced, rest) || state_label(rest).is_ok() => Ok(()),
            Some(_) if is_spaced => {
                let end = self.text.len() - rest.len();
                Err(self.space_inside(Span::new(self.at, end)))
            }
            Some(c) => Err(self.bad_after_charge(c)),
        }
    }
}
