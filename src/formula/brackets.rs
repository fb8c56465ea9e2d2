//! Brackets, as they open and close.

use alloc::format;

use super::count::{Next, PlainCount};
use super::error::{Error, ErrorKind};
use super::notation::{Bracket, PartNotation, Place};
use super::parse::{Cursor, MOST_DEPTH};
use super::resolve::Reading;
use crate::text::Span;

/// A bracket that is open.
#[derive(Clone, Copy)]
pub(super) struct Opened {
    /// How many words the formula had before it.
    words: u16,
    /// Where it stands in the text.
    at: u16,
}

impl Opened {
    pub(super) const NOT: Opened = Opened { words: 0, at: 0 };
}

impl Cursor<'_> {
    /// Takes up an opening bracket.
    #[inline(always)]
    pub(super) fn open(&mut self, reading: &mut Reading<'_>, byte: u8) -> Result<(), Error> {
        let packed = &mut reading.formula.packed;
        let Some(opened) = self.open.get_mut(usize::from(self.depth)) else {
            return Err(self.too_deep());
        };
        // A text is short enough for two bytes a place.
        *opened = Opened {
            words: packed.length(),
            at: self.at as u16,
        };
        packed.open(Bracket::of(byte));
        self.depth += 1;
        self.at += 1;
        Ok(())
    }

    /// Takes up a closing bracket and its count. What follows them.
    #[inline(always)]
    pub(super) fn close(
        &mut self,
        reading: &mut Reading<'_>,
        part: &mut PartNotation,
        byte: u8,
    ) -> Result<Next, Error> {
        let bytes = self.text.as_bytes();
        let start = self.at + 1;
        let count = PlainCount::read(bytes, start, Next::at(bytes, start), |figures| {
            self.strange |= figures.before_hydrogen;
            reading.bits += figures.bits;
        });
        if let (Some(opened), Some(count)) = (self.opened(), count) {
            let bracket = Bracket::of(byte);
            if reading
                .close_plain(part, opened.words, bracket, count.value)
                .is_some()
            {
                self.depth -= 1;
                self.at = count.end;
                return Ok(count.next);
            }
        }
        self.close_any(reading, part, byte as char)
    }

    /// The same with any count, or an error.
    #[cold]
    fn close_any(
        &mut self,
        reading: &mut Reading<'_>,
        part: &mut PartNotation,
        c: char,
    ) -> Result<Next, Error> {
        let bracket = Bracket::of(c as u8);
        let packed = &mut reading.formula.packed;
        let opened = self.opened().map(|opened| opened.words);
        let Some(opened) = opened.filter(|at| packed.partner(*at, bracket).is_some()) else {
            return Err(self.not_closed(reading, c));
        };
        let place = Place::new(self.at, self.at + 1);
        self.depth -= 1;
        self.at += 1;
        let count = self.any_count(place)?;
        reading.close(part, opened, bracket, count, self.unusual.place);
        Ok(self.next())
    }

    #[cold]
    fn not_closed(&self, reading: &Reading<'_>, c: char) -> Error {
        let innermost = self.innermost(reading);
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

    /// The bracket that is to be closed next.
    #[inline(always)]
    fn opened(&self) -> Option<Opened> {
        let last = usize::from(self.depth).wrapping_sub(1);
        self.open.get(last).copied()
    }

    /// Its kind, and where it stands in the text.
    fn innermost(&self, reading: &Reading<'_>) -> Option<(Bracket, usize)> {
        let opened = self.opened()?;
        let bracket = reading.formula.packed.opened(opened.words)?;
        Some((bracket, opened.at.into()))
    }

    #[cold]
    pub(super) fn still_open(&self, reading: &Reading<'_>) -> Error {
        let (bracket, at) = self.innermost(reading).unwrap_or((Bracket::Round, 0));
        self.never_closed(bracket, at)
    }

    #[cold]
    fn too_deep(&self) -> Error {
        Error::say(
            ErrorKind::TooDeep,
            self.here(),
            format!("brackets nested deeper than {MOST_DEPTH}"),
            "check the brackets: no formula needs as many",
        )
    }
}
