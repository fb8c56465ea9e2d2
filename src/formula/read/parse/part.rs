//! A text is read part by part.

use super::super::ambiguity::Ambiguity;
use super::super::draft::Draft;
use super::charge::ChargeNotation;
use super::cursor::Cursor;
use super::lookahead::Lookahead;
use super::rare::RareTerm;
use crate::formula::error::Error;
use crate::formula::lex::{any_digit, begins_with_dot, counts_solvate, is_digit, state_label};
use crate::formula::repr::{Count, PackedState, ShortSpan};
use crate::text::{Span, is_space};

/// How a part ends.
pub(crate) enum PartEnd {
    /// With an adduct dot of a number of bytes. The number is zero at the end of the text.
    Plain { dot: usize },
    /// With something else. The charge has been read, if there is one.
    Rare(Option<ChargeNotation>),
}

impl Cursor<'_> {
    /// Reads a part up to its end.
    #[inline(always)]
    pub(crate) fn part(&mut self, draft: &mut Draft<'_>) -> Result<PartEnd, Error> {
        let mut state = match self.plain_coefficient(draft) {
            Some(state) => state,
            None => {
                self.coefficient(draft)?;
                self.scan_state(draft)
            }
        };
        loop {
            state = self.plain_terms(draft, state);
            self.commit(draft, state);
            if let Some(dot) = self.plain_dot(state.next.byte()) {
                self.check_end(draft, false)?;
                return Ok(PartEnd::Plain { dot });
            }
            if let Some(end) = self.rare_end(draft, state.next)? {
                return Ok(end);
            }
            state = self.scan_state(draft);
        }
    }

    /// A part must not end before its brackets are closed, nor without a term.
    #[inline(always)]
    fn check_end(&self, draft: &Draft<'_>, charged: bool) -> Result<(), Error> {
        if self.depth > 0 {
            return Err(self.still_open(draft));
        }
        if draft.part_is_empty() {
            return Err(self.empty_part(&draft.part, charged));
        }
        Ok(())
    }

    /// Reads what is neither a plain term nor a plain dot. The end of the part, if it is there.
    #[cold]
    fn rare_end(
        &mut self,
        draft: &mut Draft<'_>,
        next: Lookahead,
    ) -> Result<Option<PartEnd>, Error> {
        let charge = match self.rare_term(draft, next)? {
            RareTerm::Term => return Ok(None),
            RareTerm::Charge(charge) => Some(charge),
            RareTerm::Nothing => None,
        };
        self.check_end(draft, charge.is_some())?;
        self.check_after_part()?;
        Ok(Some(PartEnd::Rare(charge)))
    }

    /// Reads what follows a part: a label, a dot, a full stop. Whether another part follows.
    #[cold]
    pub(crate) fn next_part(&mut self, draft: &mut Draft<'_>) -> Result<bool, Error> {
        self.skip_spaces();
        if let Some(state) = self.take(state_label) {
            draft.formula.state = PackedState::of(Some(state));
            self.skip_spaces();
        }
        let Some(c) = self.peek() else {
            return Ok(false);
        };
        let dot = self.here();
        let rest = self.text.get(dot.end..).unwrap_or_default();
        if c == '.' && rest.chars().all(is_space) {
            draft.note(Ambiguity::FullStop(dot));
            return Ok(false);
        }
        let before = self.text.get(..dot.start).unwrap_or_default();
        let is_dot = begins_with_dot(before.ends_with(is_space), self.rest());
        if draft.formula.state().is_some() || !is_dot {
            return Err(self.unexpected(c));
        }
        // `Al2O3.2SiO2` and `Ba.5Sr.5TiO3`
        let is_counted = |c: char| {
            any_digit(c).is_some() || c.is_ascii_alphabetic() || matches!(c, ')' | ']' | '}')
        };
        let may_be_decimal = before.ends_with(is_counted) && rest.starts_with(is_digit);
        if c == '.' && may_be_decimal && !counts_solvate(rest) {
            draft.note(Ambiguity::Dot(dot));
        }
        self.at = dot.end;
        Ok(true)
    }

    /// Reads the coefficient of a part, if it has one.
    #[cold]
    fn coefficient(&mut self, draft: &mut Draft<'_>) -> Result<(), Error> {
        self.skip_spaces();
        if self.byte().is_none() && draft.formula.packed.is_empty() {
            return Err(Error::bad(
                Span::new(0, self.text.len()),
                "an empty text where a formula was expected",
                "write a formula such as MgSO4·7H2O",
            ));
        }
        draft.part.offset = self.at as u16;
        let found = self.any_coefficient()?;
        let (count, span) = found.unwrap_or((Count::ONE, ShortSpan::NONE));
        draft.push_coefficient(count, span);
        if found.is_some() {
            self.skip_spaces();
        }
        Ok(())
    }
}
