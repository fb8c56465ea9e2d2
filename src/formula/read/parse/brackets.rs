//! Brackets before or after something rare.

use alloc::format;

use super::super::draft::Draft;
use super::cursor::{Cursor, OpenBracket};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::limits::MOST_DEPTH;
use crate::formula::repr::{Bracket, ShortSpan, Token};
use crate::text::Span;

impl Cursor<'_> {
    /// Reads an opening bracket, whatever follows it.
    pub(crate) fn open_any(&mut self, draft: &mut Draft<'_>, c: char) -> Result<(), Error> {
        let packed = &mut draft.formula.packed;
        let Some(opened) = self.open.get_mut(usize::from(self.depth)) else {
            return Err(self.too_deep());
        };
        *opened = OpenBracket::new(packed.length().into(), self.at);
        packed.push(Token::Open(Bracket::of(c as u8)));
        self.depth += 1;
        self.at += 1;
        Ok(())
    }

    /// Reads a closing bracket with any count.
    #[cold]
    pub(crate) fn close_any(&mut self, draft: &mut Draft<'_>, byte: u8) -> Result<(), Error> {
        let bracket = Bracket::of(byte);
        let packed = &mut draft.formula.packed;
        let opened = self.innermost().map(|opened| opened.words);
        let Some(opened) = opened.filter(|at| packed.can_close(*at, bracket)) else {
            return Err(self.not_closed(draft, byte.into()));
        };
        let span = ShortSpan::new(self.at, self.at + 1);
        self.depth -= 1;
        self.at += 1;
        let count = self.any_count(draft, span)?;
        draft.close(opened, bracket, count, self.last_rare_count.span);
        Ok(())
    }

    fn not_closed(&self, draft: &Draft<'_>, c: char) -> Error {
        let innermost = self.innermost_kind(draft);
        let Some((bracket, at)) = innermost else {
            return self.closes_nothing(c);
        };
        if bracket.close() != c {
            return Error::say(
                ErrorKind::UnbalancedBracket,
                self.here(),
                format!("`{}` is closed by `{c}`", bracket.open()),
                format!("close it with `{}`", bracket.close()),
            );
        }
        Error::bad(
            Span::new(at, self.here().end),
            "empty brackets",
            "put a group between the brackets, or take them out",
        )
    }

    #[cold]
    pub(crate) fn still_open(&self, draft: &Draft<'_>) -> Error {
        let (bracket, at) = self.innermost_kind(draft).unwrap_or((Bracket::Round, 0));
        self.never_closed(bracket, at)
    }

    fn too_deep(&self) -> Error {
        Error::say(
            ErrorKind::TooDeep,
            self.here(),
            format!("brackets are nested deeper than {MOST_DEPTH}"),
            "check the brackets. No formula needs as many",
        )
    }
}
