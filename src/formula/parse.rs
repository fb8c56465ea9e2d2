//! Text to tokens and [`PartNotation`]s: one pass, a bounded stack of brackets, no recursion, no
//! heap up to some 32 terms.
//!
//! Symbols, brackets and counts are read byte by byte, since every formula has them. What few
//! formulas have is read in functions of its own, which stand aside ([cold](Cursor::other)): its
//! leaves are nom parsers. Each dispatches on what is next, so that an error knows
//! what stands where.

use alloc::format;

use super::Label;
use super::brackets::Opened;
use super::count::{Figures, Kind, Next, PlainCount};
use super::error::Error;
use super::leaf::{
    Leaf, any_digit, is_digit, marked_charge, raised_mass_number, sign, small_number, state,
};
use super::notation::{ChargeNotation, Counted, PartNotation, Place};
use super::packed;
use super::resolve::Reading;
use super::solvate;
use super::symbol::{begins_with_digit, plain_atom};
use crate::element::Atom;
use crate::text::{Span, digit, is_minus, is_space};

/// The longest text that is read as a formula, in bytes: every writer's text of the longest
/// canonical one is shorter.
pub(super) const MOST_BYTES: usize = 2048;
/// The longest canonical text of a formula, in bytes.
pub(super) const MOST_CANONICAL: usize = 512;
/// The deepest nesting of brackets.
pub(super) const MOST_DEPTH: usize = 16;
/// The most parts joined by dots.
pub(super) const MOST_PARTS: usize = 16;

/// Reads a text part by part. The whole of it is consumed.
#[inline(always)]
pub(super) fn parts(text: &str, reading: &mut Reading<'_>) -> Result<(), Error> {
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

pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    /// The byte that is next; always the first one of a character.
    pub(super) at: usize,
    /// The count in another form than plain digits that was read last.
    pub(super) unusual: Counted,
    /// Whether anything was read that may be a slip of the keyboard, or hide one.
    pub(super) strange: bool,
    /// The brackets that are open.
    pub(super) open: [Opened; MOST_DEPTH],
    pub(super) depth: u8,
}

/// What stands behind a part.
enum Behind {
    Nothing,
    /// One of the two commonest adduct dots, which has so many bytes.
    Dot(u8),
    /// Anything else, if it may stand there.
    Other,
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
    pub(super) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(super) fn since(&self, start: usize) -> Place {
        Place::new(start, self.at)
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    #[inline]
    pub(super) fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    pub(super) fn byte_after(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at + 1).copied()
    }

    #[inline(always)]
    pub(super) fn next(&self) -> Next {
        Next::at(self.text.as_bytes(), self.at)
    }

    #[inline(always)]
    pub(super) fn after_next(&self) -> Next {
        Next::at(self.text.as_bytes(), self.at + 1)
    }

    /// The span of the next character, empty at the end.
    pub(super) fn here(&self) -> Span {
        let length = self.peek().map_or(0, char::len_utf8);
        Span::new(self.at, self.at + length)
    }

    pub(super) fn take<T>(&mut self, mut leaf: impl FnMut(&'a str) -> Leaf<'a, T>) -> Option<T> {
        let (rest, found) = leaf(self.rest()).ok()?;
        self.go_to(rest);
        Some(found)
    }

    /// Goes on to what a leaf has left over.
    pub(super) fn go_to(&mut self, rest: &str) {
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
        let mut parts = 0;
        loop {
            if parts == MOST_PARTS {
                return Err(Error::too_large(
                    self.here(),
                    "the number of parts",
                    MOST_PARTS,
                ));
            }
            parts += 1;
            match self.part(reading)? {
                Behind::Nothing => return Ok(()),
                Behind::Dot(bytes) => self.at += usize::from(bytes),
                Behind::Other if self.between_parts(reading)? => {}
                Behind::Other => return Ok(()),
            }
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
        if reading.formula.state().is_none() && solvate::is_dot(c) {
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
            if between && !solvate::follows(self.rest()) {
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

    #[inline(always)]
    fn part(&mut self, reading: &mut Reading<'_>) -> Result<Behind, Error> {
        let mut part = reading.begin();
        let mut next = match self.plain_coefficient(reading, &mut part) {
            Some(next) => next,
            None => self.coefficient(reading, &mut part)?,
        };
        let behind = loop {
            let stop = self.plain_atoms(reading, next);
            next = match stop.kind {
                Kind::CLOSES => self.close(reading, &mut part, stop.byte)?,
                Kind::OPENS if self.after_next().kind.begins_group() => {
                    let inside = self.after_next();
                    self.open(reading, stop.byte)?;
                    inside
                }
                _ if self.at == self.text.len() => break Behind::Nothing,
                _ if stop.byte == 0xC2 && self.after_next().byte == 0xB7 => {
                    break Behind::Dot('\u{B7}'.len_utf8() as u8);
                }
                _ if stop.byte == b'*' => break Behind::Dot(1),
                _ if stop.byte != b'.' && self.other(reading, &mut part)? => self.next(),
                _ if self.at == self.text.len() => break Behind::Nothing,
                _ => break Behind::Other,
            }
        };
        if self.depth > 0 {
            return Err(self.still_open(reading));
        }
        if reading.is_empty(&part) {
            return Err(self.empty_part(&part));
        }
        if let Behind::Other = behind {
            self.after_part()?;
        }
        part.end = self.at as u16;
        reading.settle(&part)?;
        Ok(behind)
    }

    /// Where a part begins as nearly all do: with a symbol or a bracket, and before it at most a
    /// coefficient in a few digits. What follows that.
    #[inline(always)]
    fn plain_coefficient(
        &mut self,
        reading: &mut Reading<'_>,
        part: &mut PartNotation,
    ) -> Option<Next> {
        let bytes = self.text.as_bytes();
        part.start = self.at as u16;
        let first = Next::at(bytes, self.at);
        if first.kind != Kind::DIGIT {
            if !first.kind.begins_group() {
                return None;
            }
            reading.plain_coefficient(part, 1);
            return Some(first);
        }
        let figures = Figures::read(bytes, self.at, first.byte);
        let figures = figures.filter(|figures| figures.next.kind.begins_group())?;
        part.coefficient = Place::new(self.at, figures.end);
        reading.plain_coefficient(part, figures.value);
        reading.bits += figures.bits;
        self.at = figures.end;
        Some(figures.next)
    }

    #[cold]
    fn coefficient(
        &mut self,
        reading: &mut Reading<'_>,
        part: &mut PartNotation,
    ) -> Result<Next, Error> {
        self.skip_spaces();
        if self.byte().is_none() && part.from == 0 {
            return Err(Error::bad(
                Span::new(0, self.text.len()),
                "an empty text where a formula was expected",
                "write a formula such as MgSO4·7H2O",
            ));
        }
        part.start = self.at as u16;
        if let Some((count, place)) = self.any_coefficient()? {
            part.coefficient = place;
            reading.coefficient(part, count);
            self.skip_spaces();
        } else {
            reading.plain_coefficient(part, 1);
        }
        Ok(self.next())
    }

    /// Takes up what few parts have: a label or a charge, a count or a symbol out of the ordinary.
    /// Whether the part goes on behind it.
    #[cold]
    fn other(&mut self, reading: &mut Reading<'_>, part: &mut PartNotation) -> Result<bool, Error> {
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
                    part.charge = Some(ChargeNotation::Marked(found));
                    return Ok(false);
                }
                self.open(reading, c as u8)?;
            }
            '^' | '\u{00B2}' | '\u{00B3}' | '\u{00B9}' | '\u{2070}'..='\u{207B}' => {
                let Some(atom) = self.raised(at, part)? else {
                    return Ok(false);
                };
                self.counted_atom(reading, atom, at)?;
            }
            '+' | '\u{FF0B}' => {
                part.charge = Some(self.bare_charge());
                return Ok(false);
            }
            c if is_minus(c) => {
                if reading.is_empty(part) {
                    return Err(self.nothing_before(c));
                }
                part.charge = Some(self.bare_charge());
                return Ok(false);
            }
            c if is_space(c) || solvate::is_dot(c) => return Ok(false),
            c => return Err(self.unexpected(c)),
        }
        Ok(true)
    }

    /// Behind a caret or a raised digit: a labelled atom, or a charge that ends the part.
    fn raised(&mut self, at: usize, part: &mut PartNotation) -> Result<Option<Atom>, Error> {
        if let Some(found) = self.take(marked_charge) {
            part.charge = Some(ChargeNotation::Marked(found));
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
        if solvate::is_dot(c) || state(rest).is_ok() {
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

    /// Takes up atoms as long as they are plain: the symbol of an element that asks for no second
    /// look, with no count or one in a few digits. `next` is the byte at the cursor; the one behind
    /// them is returned.
    #[inline(always)]
    fn plain_atoms(&mut self, reading: &mut Reading<'_>, next: Next) -> Next {
        let bytes = self.text.as_bytes();
        let (mut at, mut behind) = (self.at, next);
        reading.formula.packed.words_of(|| {
            let first = behind;
            if first.kind != Kind::CAPITAL {
                return None;
            }
            let mut end = at + 1;
            let mut next = Next::at(bytes, end);
            let mut second = 0;
            if next.kind.is_small() {
                second = next.byte;
                end += 1;
                next = Next::at(bytes, end);
                reading.small_letters = true;
            }
            let z = plain_atom(first.byte, second);
            let count = PlainCount::read(bytes, end, next, |figures| {
                let carbon = first.byte == b'C';
                if figures.before_hydrogen || (figures.begins_with_one && carbon) {
                    self.strange = true;
                }
                reading.bits += figures.bits;
            })?;
            if z == 0 {
                return None;
            }
            (at, behind) = (count.end, count.next);
            Some(packed::plain(z, count.value))
        });
        self.at = at;
        behind
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
