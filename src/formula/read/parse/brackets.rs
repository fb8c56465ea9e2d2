//! Brackets, as they open and close.

use alloc::format;

use super::cursor::Cursor;
use super::scan::{Next, PlainCount, Stand};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::limits::MOST_DEPTH;
use crate::formula::read::resolve::Reading;
use crate::formula::repr::{Bracket, Place, Token};
use crate::text::Span;

/// A bracket that is open.
#[derive(Clone, Copy)]
pub(crate) struct Opened {
    /// How many words the formula had before it.
    words: u16,
    /// Where it stands in the text.
    at: u16,
}

impl Opened {
    pub(crate) const NOT: Opened = Opened::new(0, 0);

    const fn new(words: usize, at: usize) -> Opened {
        // A text is short enough for two bytes a place.
        Opened {
            words: words as u16,
            at: at as u16,
        }
    }
}

impl Cursor<'_> {
    /// Takes up an opening bracket, if a group begins behind it.
    #[inline(always)]
    pub(crate) fn open(&mut self, reading: &mut Reading<'_>, stand: Stand) -> Option<Stand> {
        let inside = Next::at(self.text.as_bytes(), stand.at + 1);
        if !inside.kind.begins_group() {
            return None;
        }
        *self.open.get_mut(usize::from(self.depth))? = Opened::new(stand.words, stand.at);
        let packed = &mut reading.formula.packed;
        packed.put_open(stand.words, stand.next.byte())?;
        self.depth += 1;
        Some(Stand {
            at: stand.at + 1,
            next: inside,
            words: stand.words + 1,
        })
    }

    /// The same whatever stands behind it.
    pub(crate) fn open_any(&mut self, reading: &mut Reading<'_>, c: char) -> Result<(), Error> {
        let packed = &mut reading.formula.packed;
        let Some(opened) = self.open.get_mut(usize::from(self.depth)) else {
            return Err(self.too_deep());
        };
        *opened = Opened::new(packed.length().into(), self.at);
        packed.push(Token::Open(Bracket::of(c as u8)));
        self.depth += 1;
        self.at += 1;
        Ok(())
    }

    /// Takes up a closing bracket and its count, if that is plain.
    #[inline(always)]
    pub(crate) fn close(&mut self, reading: &mut Reading<'_>, stand: Stand) -> Option<Stand> {
        let bytes = self.text.as_bytes();
        let start = stand.at + 1;
        let count = PlainCount::read(bytes, start, Next::at(bytes, start), |digits| {
            self.strange |= digits.before_hydrogen;
        })?;
        let opened = self.opened()?.words;
        let byte = stand.next.byte();
        let packed = &mut reading.formula.packed;
        packed.put_close(opened, stand.words, byte, count.value)?;
        reading.take_in_plain(count.value);
        let words = stand.words + 1;
        if byte == b')' {
            reading.behind_round = words as u16;
        }
        self.depth -= 1;
        Some(Stand {
            at: count.end,
            next: count.next,
            words,
        })
    }

    /// The same with any count, or an error.
    #[cold]
    pub(crate) fn close_any(&mut self, reading: &mut Reading<'_>, byte: u8) -> Result<(), Error> {
        let bracket = Bracket::of(byte);
        let packed = &mut reading.formula.packed;
        let opened = self.opened().map(|opened| opened.words);
        let Some(opened) = opened.filter(|at| packed.partner(*at, bracket).is_some()) else {
            return Err(self.not_closed(reading, byte.into()));
        };
        let place = Place::new(self.at, self.at + 1);
        self.depth -= 1;
        self.at += 1;
        let count = self.any_count(place)?;
        reading.close(opened, bracket, count, self.unusual.place);
        Ok(())
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

    /// How many words there were before the outermost of the brackets that were closed last.
    #[inline(always)]
    pub(crate) fn outermost(&self) -> u16 {
        let [outermost, ..] = self.open;
        outermost.words
    }

    /// Its kind, and where it stands in the text.
    fn innermost(&self, reading: &Reading<'_>) -> Option<(Bracket, usize)> {
        let opened = self.opened()?;
        let bracket = reading.formula.packed.opened(opened.words)?;
        Some((bracket, opened.at.into()))
    }

    #[cold]
    pub(crate) fn still_open(&self, reading: &Reading<'_>) -> Error {
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
