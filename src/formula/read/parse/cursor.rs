//! Text to tokens and [`PartNotation`]s: one pass, a bounded stack of brackets, no recursion, no
//! heap up to some 32 terms.
//!
//! Symbols, brackets and plain counts are read byte by byte (see `plain`), since every formula has
//! them. What few formulas have is read in functions of its own, which stand aside
//! ([cold](Cursor::otherwise)): its leaves are nom parsers. Each dispatches on what is next, so that an
//! error knows what stands where.

use alloc::format;

use super::brackets::Opened;
use super::notation::{ChargeNotation, Counted};
use super::scan::{Kind, Next};
use super::symbol::begins_with_digit;
use crate::element::Atom;
use crate::formula::error::Error;
use crate::formula::lex::{
    Leaf, any_digit, follows, is_digit, is_dot, marked_charge, raised_mass_number, sign,
    small_number, state,
};
use crate::formula::limits::{MOST_BYTES, MOST_DEPTH, MOST_PARTS};
use crate::formula::read::resolve::Reading;
use crate::formula::repr::{Count, Label, Place};
use crate::text::{Span, digit, is_minus, is_space};

/// Reads a text part by part. The whole of it is consumed.
#[inline(always)]
pub(crate) fn parts(text: &str, reading: &mut Reading<'_>) -> Result<(), Error> {
    if text.len() > MOST_BYTES {
        let limit = format!("{MOST_BYTES} bytes");
        return Err(Error::too_large(
            Span::new(0, text.len()),
            "the text",
            limit,
        ));
    }
    let mut cursor = Cursor::new(text);
    cursor.formula(reading)?;
    reading.strange = cursor.strange;
    Ok(())
}

pub(crate) struct Cursor<'a> {
    pub(crate) text: &'a str,
    /// The byte that is next; always the first one of a character.
    pub(crate) at: usize,
    /// The count in another form than plain digits that was read last.
    pub(crate) unusual: Counted,
    /// Whether anything was read that may be a slip of the keyboard, or hide one.
    pub(crate) strange: bool,
    /// The brackets that are open.
    pub(crate) open: [Opened; MOST_DEPTH],
    pub(crate) depth: u8,
}

/// What is ahead in a text.
enum Ahead {
    /// Another term of the part, or its end.
    Term,
    Part,
    Nothing,
}

impl<'a> Cursor<'a> {
    fn new(text: &'a str) -> Cursor<'a> {
        Cursor {
            text,
            at: 0,
            unusual: Counted::NOT,
            strange: false,
            open: [Opened::NOT; MOST_DEPTH],
            depth: 0,
        }
    }

    /// What is not read yet.
    pub(crate) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(crate) fn since(&self, start: usize) -> Place {
        Place::new(start, self.at)
    }

    pub(crate) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    #[inline]
    pub(crate) fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    pub(crate) fn byte_after(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at + 1).copied()
    }

    /// The span of the next character, empty at the end.
    pub(crate) fn here(&self) -> Span {
        let length = self.peek().map_or(0, char::len_utf8);
        Span::new(self.at, self.at + length)
    }

    pub(crate) fn take<T>(&mut self, mut leaf: impl FnMut(&'a str) -> Leaf<'a, T>) -> Option<T> {
        let (rest, found) = leaf(self.rest()).ok()?;
        self.go_to(rest);
        Some(found)
    }

    /// Goes on to what a leaf has left over.
    pub(crate) fn go_to(&mut self, rest: &str) {
        self.at = self.text.len() - rest.len();
    }

    fn skip_spaces(&mut self) {
        // Spaces of other scripts begin with a high byte.
        if self.byte().is_some_and(|b| b <= b' ' || b >= 0x80) {
            self.go_to(self.rest().trim_start_matches(is_space));
        }
    }

    #[inline(always)]
    fn formula(&mut self, reading: &mut Reading<'_>) -> Result<(), Error> {
        for _ in 0..MOST_PARTS {
            if !self.part(reading)? {
                return Ok(());
            }
        }
        let (here, limit) = (self.here(), MOST_PARTS);
        Err(Error::too_large(here, "the number of parts", limit))
    }

    /// Reads a part and what joins another one to it. Whether it does.
    #[inline(always)]
    fn part(&mut self, reading: &mut Reading<'_>) -> Result<bool, Error> {
        let mut stand = match self.plain_coefficient(reading) {
            Some(stand) => stand,
            None => {
                self.coefficient(reading)?;
                self.stand(reading)
            }
        };
        loop {
            stand = self.plain_atoms(reading, stand);
            let behind = match stand.next.kind {
                Kind::OPENS => self.open(reading, stand),
                Kind::CLOSES => self.close(reading, stand),
                _ => None,
            };
            if let Some(behind) = behind {
                stand = behind;
                continue;
            }
            self.go_to_stand(reading, stand);
            if let Some(dot) = self.plain_dot(stand.next.byte()) {
                self.check_end(reading, false)?;
                reading.settle(self.at, self.outermost())?;
                self.at += dot;
                return Ok(dot > 0);
            }
            match self.otherwise(reading, stand.next)? {
                Ahead::Term => stand = self.stand(reading),
                Ahead::Part => return Ok(true),
                Ahead::Nothing => return Ok(false),
            }
        }
    }

    /// Whether a part may end here.
    #[inline(always)]
    fn check_end(&self, reading: &Reading<'_>, charged: bool) -> Result<(), Error> {
        if self.depth > 0 {
            return Err(self.still_open(reading));
        }
        if reading.is_empty() {
            return Err(self.empty_part(&reading.part, charged));
        }
        Ok(())
    }

    /// Goes on where neither a plain term nor a plain dot is next.
    #[cold]
    fn otherwise(&mut self, reading: &mut Reading<'_>, next: Next) -> Result<Ahead, Error> {
        if next.kind == Kind::CLOSES {
            self.close_any(reading, next.byte())?;
            return Ok(Ahead::Term);
        }
        let mut charge = None;
        if next.byte() != b'.' && self.other(reading, &mut charge)? {
            return Ok(Ahead::Term);
        }
        self.check_end(reading, charge.is_some())?;
        self.after_part()?;
        match charge {
            None => reading.settle(self.at, self.outermost())?,
            Some(charge) => reading.settle_charged(self.at, self.outermost(), charge)?,
        }
        match self.between_parts(reading)? {
            true => Ok(Ahead::Part),
            false => Ok(Ahead::Nothing),
        }
    }

    /// What stands behind a part: a label, a dot, a full stop. Whether another part follows.
    #[cold]
    fn between_parts(&mut self, reading: &mut Reading<'_>) -> Result<bool, Error> {
        self.skip_spaces();
        if self.byte() == Some(b'(') {
            if let Some(found) = self.take(state) {
                reading.formula.label = Label::of(Some(found));
                self.skip_spaces();
            }
        }
        let Some(c) = self.peek() else {
            return Ok(false);
        };
        let dot = self.here();
        if reading.formula.state().is_none() && is_dot(c) {
            self.at += c.len_utf8();
            if c != '.' {
                return Ok(true);
            }
            let goes_on = self.byte().is_some_and(|byte| byte.is_ascii_graphic());
            if !goes_on && self.rest().trim_start_matches(is_space).is_empty() {
                reading.full_stop(dot);
                return Ok(false);
            }
            let before = self.text.get(..dot.start).unwrap_or_default();
            let between =
                before.ends_with(|c| any_digit(c).is_some()) && self.rest().starts_with(is_digit);
            if between && !follows(self.rest()) {
                reading.doubtful_dot(dot);
            }
            return Ok(true);
        }
        let rest = self.rest().strip_prefix('.');
        if rest.is_some_and(|rest| rest.chars().all(is_space)) {
            reading.full_stop(dot);
            return Ok(false);
        }
        Err(self.unexpected(c))
    }

    #[cold]
    fn coefficient(&mut self, reading: &mut Reading<'_>) -> Result<(), Error> {
        self.skip_spaces();
        if self.byte().is_none() && reading.formula.packed.is_empty() {
            return Err(Error::bad(
                Span::new(0, self.text.len()),
                "an empty text where a formula was expected",
                "write a formula such as MgSO4·7H2O",
            ));
        }
        reading.part.start = self.at as u16;
        if let Some((count, place)) = self.any_coefficient()? {
            reading.coefficient(count, place);
            self.skip_spaces();
        } else {
            reading.coefficient(Count::ONE, Place::NOWHERE);
        }
        Ok(())
    }

    /// Takes up what few parts have: a label or a charge, a count or a symbol out of the ordinary.
    /// Whether the part goes on behind it.
    fn other(
        &mut self,
        reading: &mut Reading<'_>,
        charge: &mut Option<ChargeNotation>,
    ) -> Result<bool, Error> {
        let at = self.at;
        let c = self.peek().unwrap_or_default();
        match c {
            'A'..='Z' => {
                let atom = self.atom(None, at)?;
                self.counted_atom(reading, atom, at)?;
            }
            '[' if self.rest().get(1..).is_some_and(begins_with_digit) => {
                let atom = self.nuclide_in_brackets()?;
                self.counted_atom(reading, atom, at)?;
            }
            '(' if state(self.rest()).is_ok() => return Ok(false),
            '(' | '[' | '{' => {
                if let Some(found) = self.take(marked_charge) {
                    *charge = Some(ChargeNotation::Marked(found));
                    return Ok(false);
                }
                self.open_any(reading, c)?;
            }
            '^' | '\u{00B2}' | '\u{00B3}' | '\u{00B9}' | '\u{2070}'..='\u{207B}' => {
                let Some(atom) = self.raised(at, charge)? else {
                    return Ok(false);
                };
                self.counted_atom(reading, atom, at)?;
            }
            '+' | '\u{FF0B}' => {
                *charge = Some(self.bare_charge());
                return Ok(false);
            }
            c if is_minus(c) => {
                if reading.is_empty() {
                    return Err(self.nothing_before(c));
                }
                *charge = Some(self.bare_charge());
                return Ok(false);
            }
            c if is_space(c) || is_dot(c) => return Ok(false),
            c => return Err(self.unexpected(c)),
        }
        Ok(true)
    }

    /// Behind a caret or a raised digit: a labelled atom, or a charge that ends the part.
    fn raised(
        &mut self,
        at: usize,
        charge: &mut Option<ChargeNotation>,
    ) -> Result<Option<Atom>, Error> {
        if let Some(found) = self.take(marked_charge) {
            *charge = Some(ChargeNotation::Marked(found));
            return Ok(None);
        }
        match self.take(raised_mass_number) {
            Some(number) => self.atom(Some(number), at).map(Some),
            None => Err(self.bad_charge()),
        }
    }

    /// Nothing but a dot, a label or the end may follow a part.
    #[cold]
    fn after_part(&self) -> Result<(), Error> {
        if self.byte() == Some(b'.') {
            return Ok(());
        }
        let rest = self.rest().trim_start_matches(is_space);
        let spaced = rest.len() < self.rest().len();
        let Some(c) = rest.chars().next() else {
            return Ok(());
        };
        if is_dot(c) || state(rest).is_ok() {
            return Ok(());
        }
        Err(self.not_after_part(rest, spaced, c))
    }

    #[cold]
    fn not_after_part(&self, rest: &'a str, spaced: bool, c: char) -> Error {
        if spaced {
            let end = self.text.len() - rest.len();
            return self.spaced(Span::new(self.at, end));
        }
        let mut ahead = Cursor::new(self.text);
        ahead.go_to(rest);
        ahead.after_charge(c)
    }

    #[cold]
    fn after_charge(&mut self, c: char) -> Error {
        if c == '+' || is_minus(c) {
            return self.bad_charge();
        }
        if self
            .peek()
            .is_some_and(|c| any_digit(c).is_some() || c == '(' || c.is_ascii_uppercase())
        {
            return Error::bad(
                self.here(),
                format!("`{c}` stands behind a charge"),
                "write the charge last, after a caret: `SO4^2-`",
            );
        }
        self.unexpected(c)
    }

    fn bare_charge(&mut self) -> ChargeNotation {
        let start = self.at;
        let counted = self.count_before(start);
        let negative = self.peek().is_some_and(is_minus);
        let mut signs = 0;
        while let Some(c) = self.peek().filter(|c| sign(*c) == Some(negative)) {
            self.at += c.len_utf8();
            signs += 1;
        }
        let digits_after = self.take(small_number(digit)).map(u32::from);
        ChargeNotation::Bare {
            negative,
            signs,
            counted,
            digits_after,
            place: self.since(start),
        }
    }
}
