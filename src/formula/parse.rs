//! Text to tokens and [`PartNotation`]s: one pass, a bounded stack of brackets, no recursion, no
//! heap up to some 32 terms.
//!
//! Symbols and whole counts are read byte by byte, since every formula has them; the leaves that
//! not every formula has (charges, labels, nuclides, lowered and broken counts) are nom parsers. The
//! loop over parts and terms dispatches on one byte, so that an error knows what stands where.

use alloc::format;

use nom::bytes::complete::take_while_m_n;
use smallvec::SmallVec;

use super::Count;
use super::count::plain_count;
use super::error::{Error, ErrorKind};
use super::leaf::{
    Leaf, any_digit, bracketed_nuclide, is_digit, marked_charge, raised_mass_number, sign,
    small_number, state,
};
use super::notation::{Bracket, ChargeNotation, Counted, PartNotation, Place};
use super::resolve::Reading;
use super::solvate;
use crate::element::{Atom, Element};
use crate::text::{Span, is_minus, is_space};

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
}

/// The brackets that are open: for each, which, how many words the formula had before it, and where
/// it stands in the text.
type Open = SmallVec<[(Bracket, u16, u16); MOST_DEPTH]>;

impl<'a> Cursor<'a> {
    fn new(text: &'a str) -> Cursor<'a> {
        Cursor {
            text,
            at: 0,
            unusual: Counted::NOT,
            strange: false,
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

    #[inline]
    fn byte_after(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at + 1).copied()
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

    fn formula(&mut self, reading: &mut Reading<'_>) -> Result<(), Error> {
        self.skip_spaces();
        if self.byte().is_none() {
            return Err(Error::bad(
                Span::new(0, self.text.len()),
                "an empty text where a formula was expected",
                "write a formula such as MgSO4·7H2O",
            ));
        }
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
            self.part(reading)?;
            if self.byte().is_none() {
                return Ok(());
            }
            if !self.between_parts(reading)? {
                return Ok(());
            }
        }
    }

    /// What stands behind a part: a label, a dot, a full stop. Whether another part follows.
    fn between_parts(&mut self, reading: &mut Reading<'_>) -> Result<bool, Error> {
        if self.raised_dot() {
            self.at += '\u{B7}'.len_utf8();
            return Ok(true);
        }
        self.skip_spaces();
        if self.byte() == Some(b'(') {
            if let Some(found) = self.take(state) {
                reading.formula.state = Some(found);
                self.skip_spaces();
            }
        }
        let Some(c) = self.peek() else {
            return Ok(false);
        };
        let dot = self.here();
        if reading.formula.state.is_none() && solvate::is_dot(c) {
            self.at += c.len_utf8();
            if c != '.' {
                return Ok(true);
            }
            if self.rest().trim_start_matches(is_space).is_empty() {
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

    fn part(&mut self, reading: &mut Reading<'_>) -> Result<(), Error> {
        self.skip_spaces();
        let start = self.at;
        let coefficient = self.coefficient()?;
        if coefficient.is_some() {
            self.skip_spaces();
        }
        let mut part = reading.begin(coefficient);
        let mut charge = None;
        let mut open = Open::new();
        loop {
            self.plain_atoms(reading, &mut part);
            let at = self.at;
            let Some(byte) = self.byte() else { break };
            match byte {
                b'A'..=b'Z' => {
                    let atom = self.atom(None, at)?;
                    self.counted_atom(reading, &mut part, atom, at)?;
                }
                b'(' | b'[' | b'{' => {
                    if byte == b'[' && self.rest().get(1..).is_some_and(begins_with_digit) {
                        let atom = self.nuclide_in_brackets()?;
                        self.counted_atom(reading, &mut part, atom, at)?;
                        continue;
                    }
                    if byte == b'(' && !self.byte_after().is_some_and(opens_group) {
                        if state(self.rest()).is_ok() {
                            break;
                        }
                        if let Some(found) = self.take(marked_charge) {
                            charge = Some(ChargeNotation::Marked(found));
                            break;
                        }
                    }
                    self.open(reading, &mut part, &mut open, byte)?;
                }
                b')' | b']' | b'}' => self.close(reading, &mut part, &mut open, byte as char)?,
                b'+' => {
                    charge = Some(self.bare_charge());
                    break;
                }
                b'-' => {
                    charge = Some(self.bare_minus(reading, &part, '-')?);
                    break;
                }
                b'^' => match self.raised(at, &mut charge)? {
                    Some(atom) => self.counted_atom(reading, &mut part, atom, at)?,
                    None => break,
                },
                b'.' | b'*' | b' ' | b'\t'..=b'\r' => break,
                0x80.. => match self.peek().unwrap_or_default() {
                    '\u{00B7}' => break,
                    '\u{00B2}' | '\u{00B3}' | '\u{00B9}' | '\u{2070}'..='\u{207B}' => {
                        match self.raised(at, &mut charge)? {
                            Some(atom) => self.counted_atom(reading, &mut part, atom, at)?,
                            None => break,
                        }
                    }
                    '\u{FF0B}' => {
                        charge = Some(self.bare_charge());
                        break;
                    }
                    c if is_minus(c) => {
                        charge = Some(self.bare_minus(reading, &part, c)?);
                        break;
                    }
                    c if is_space(c) || solvate::is_dot(c) => break,
                    c => return Err(self.unexpected(c)),
                },
                _ => return Err(self.unexpected(byte as char)),
            }
        }
        if let Some((bracket, _, place)) = open.last() {
            return Err(self.never_closed(*bracket, usize::from(*place)));
        }
        let place = self.since(start);
        if reading.is_empty(&part) {
            return Err(self.empty_part(&part, charge.is_some(), place));
        }
        self.after_part()?;
        reading.settle(&part, charge, place)
    }

    /// Behind a caret or a raised digit: a labelled atom, or a charge that ends the part.
    #[cold]
    fn raised(
        &mut self,
        at: usize,
        charge: &mut Option<ChargeNotation>,
    ) -> Result<Option<Atom>, Error> {
        if let Some(number) = self.take(raised_mass_number) {
            return self.atom(Some(number), at).map(Some);
        }
        match self.take(marked_charge) {
            Some(found) => *charge = Some(ChargeNotation::Marked(found)),
            None => return Err(self.bad_charge()),
        }
        Ok(None)
    }

    fn bare_minus(
        &mut self,
        reading: &Reading<'_>,
        part: &PartNotation,
        c: char,
    ) -> Result<ChargeNotation, Error> {
        if reading.is_empty(part) {
            return Err(self.nothing_before(c));
        }
        Ok(self.bare_charge())
    }

    fn open(
        &mut self,
        reading: &mut Reading<'_>,
        part: &mut PartNotation,
        open: &mut Open,
        byte: u8,
    ) -> Result<(), Error> {
        let bracket = match byte {
            b'(' => Bracket::Round,
            b'[' => Bracket::Square,
            _ => Bracket::Curly,
        };
        let packed = &mut reading.formula.packed;
        // A text is short enough for two bytes a place.
        let at = packed.length();
        if open.len() == MOST_DEPTH {
            return Err(Error::say(
                ErrorKind::TooDeep,
                self.here(),
                format!("brackets nested deeper than {MOST_DEPTH}"),
                "check the brackets: no formula needs as many",
            ));
        }
        open.push((bracket, at, self.at as u16));
        self.at += 1;
        part.last = at;
        packed.open(bracket);
        Ok(())
    }

    /// Nothing but a dot, a label or the end may follow a part.
    fn after_part(&self) -> Result<(), Error> {
        let rest = match self.byte() {
            None | Some(b'.' | b'*') => return Ok(()),
            Some(_) if self.raised_dot() => return Ok(()),
            Some(_) => self.rest().trim_start_matches(is_space),
        };
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

    /// Whether the commonest adduct dot is next.
    #[inline]
    fn raised_dot(&self) -> bool {
        self.byte() == Some(0xC2) && self.byte_after() == Some(0xB7)
    }

    /// Takes up atoms as long as they are plain: the symbol of an element that asks for no second
    /// look, with no count or one in a few digits.
    #[inline(always)]
    fn plain_atoms(&mut self, reading: &mut Reading<'_>, part: &mut PartNotation) {
        let bytes = self.text.as_bytes();
        let byte = |at: usize| bytes.get(at).copied().unwrap_or_default();
        let mut at = self.at;
        let mut first = byte(at);
        while first.is_ascii_uppercase() {
            let mut after = at + 1;
            let mut next = byte(after);
            let mut second = b'`';
            if next.is_ascii_lowercase() {
                second = next;
                after += 1;
                next = byte(after);
                reading.small_letters = true;
            }
            let z = plain_atom(first, second);
            let Some(count) = plain_count(bytes, after, next).filter(|_| z != 0) else {
                break;
            };
            self.strange |= count.before_hydrogen || (first == b'C' && next == b'1');
            reading.plain_atom(z, count.value);
            (at, first) = (count.end, count.next);
        }
        if at > self.at {
            self.at = at;
            part.last = reading.last_word(part);
        }
    }

    /// Takes up an atom whose sign began at `start`, with the count behind it.
    fn counted_atom(
        &mut self,
        reading: &mut Reading<'_>,
        part: &mut PartNotation,
        atom: Atom,
        start: usize,
    ) -> Result<(), Error> {
        let place = self.since(start);
        let count = self.count(place)?;
        let origin = match count {
            Count::Unknown(_) => self.unusual.place,
            Count::Known(..) => place,
        };
        reading.atom(part, atom, count, origin);
        Ok(())
    }

    /// Any other atom.
    #[cold]
    fn atom(&mut self, mass_number: Option<&str>, start: usize) -> Result<Atom, Error> {
        let at = self.at;
        self.strange = true;
        let first = self.byte().unwrap_or_default();
        let second = self.byte_after().filter(u8::is_ascii_lowercase);
        let (atom, length) = match (atom(first, second), second) {
            (Some(atom), None) => (atom, 1),
            (Some(atom), Some(_)) => (atom, 2),
            // An open count: `FexO`.
            (None, Some(b'x' | b'n')) => {
                (atom(first, None).ok_or_else(|| self.unknown_symbol(at))?, 1)
            }
            (None, _) => return Err(self.unknown_symbol(at)),
        };
        self.at += length;
        match mass_number {
            None => Ok(atom),
            Some(digits) => self.nuclide(atom.element(), digits, self.since(start).span()),
        }
    }

    fn nuclide_in_brackets(&mut self) -> Result<Atom, Error> {
        let start = self.at;
        let Some((digits, letters)) = self.take(bracketed_nuclide) else {
            return Err(Error::bad(
                self.here(),
                "a number right after the bracket `[`",
                "write a labelled atom alone in its brackets, such as `[13C]`, or put the count behind the atom",
            ));
        };
        let span = self.since(start).span();
        match Element::from_symbol(letters) {
            Some(element) => self.nuclide(element, digits, span),
            None => Err(Error::say(
                ErrorKind::UnknownElement,
                span,
                format!("`{letters}` is not the symbol of an element"),
                "write a labelled atom as `[13C]`",
            )),
        }
    }

    fn nuclide(&self, element: Element, digits: &str, span: Span) -> Result<Atom, Error> {
        small_number(digits)
            .and_then(|number| u16::try_from(number).ok())
            .and_then(|number| Atom::labelled(element, number))
            .ok_or_else(|| {
                let number: alloc::string::String = digits
                    .chars()
                    .filter_map(any_digit)
                    .map(|d| (b'0' + d) as char)
                    .collect();
                Error::say(
                    ErrorKind::UnknownElement,
                    span,
                    format!("the table of nuclides has no {}-{number}", element.name()),
                    format!(
                        "check the mass number, or write {element} and give its weight by hand"
                    ),
                )
            })
    }

    fn close(
        &mut self,
        reading: &mut Reading<'_>,
        part: &mut PartNotation,
        open: &mut Open,
        c: char,
    ) -> Result<(), Error> {
        let Some((bracket, at, opened)) = open.last().copied() else {
            return Err(self.closes_nothing(c));
        };
        if bracket.close() != c {
            return Err(Error::say(
                ErrorKind::UnbalancedBracket,
                self.here(),
                format!("`{}` is closed by `{c}`", bracket.open()),
                format!("close it with `{}`", bracket.close()),
            ));
        }
        if usize::from(opened) + 1 == self.at {
            return Err(Error::bad(
                Span::new(usize::from(opened), self.here().end),
                "empty brackets",
                "put a group between the brackets, or take them out",
            ));
        }
        open.pop();
        let place = Place::new(self.at, self.at + 1);
        self.at += 1;
        let count = self.count(place)?;
        part.opened = at;
        reading.close(part, bracket, count, self.unusual.place);
        Ok(())
    }

    fn bare_charge(&mut self) -> ChargeNotation {
        let start = self.at;
        let counted = self.count_before(start);
        let negative = self.peek().is_some_and(is_minus);
        let mut signs = 0;
        while let Some((rest, _)) = sign(self.rest())
            .ok()
            .filter(|(_, minus)| *minus == negative)
        {
            self.go_to(rest);
            signs += 1;
        }
        let digits_after = self
            .take(take_while_m_n(1, 3, is_digit))
            .and_then(small_number);
        ChargeNotation::Bare {
            negative,
            signs,
            counted,
            digits_after,
            place: self.since(start),
        }
    }
}

/// The atomic numbers of the elements that ask for no second look, by the lowest five bits of their
/// capital and of their small letter (of a backquote, where there is none); else nought. Those
/// without a standard atomic weight need a place for the error, and the I of iodine may be
/// chlorine's l.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static PLAIN_ATOMS: [u8; 1 << 10] = {
    let mut table = [0; 1 << 10];
    let mut index = 0;
    while index < Element::ALL.len() {
        let element = Element::ALL[index];
        let symbol = element.letters();
        if element.has_weight() && element.number() != Element::IODINE.number() {
            table[letters(symbol.0, symbol.1)] = element.number();
        }
        index += 1;
    }
    table
};

#[inline(always)]
const fn letters(first: u8, second: u8) -> usize {
    (first as usize & 0x1F) << 5 | (second as usize & 0x1F)
}

#[inline(always)]
fn plain_atom(first: u8, second: u8) -> u8 {
    let z = PLAIN_ATOMS.get(letters(first, second));
    z.copied().unwrap_or_default()
}

fn begins_with_digit(text: &str) -> bool {
    text.starts_with(is_digit)
}

/// Whether a group begins with this byte: neither a label nor a charge does.
fn opens_group(byte: u8) -> bool {
    byte.is_ascii_uppercase() || matches!(byte, b'(' | b'[' | b'{')
}

/// The symbol of an element, or D or T for heavy hydrogen.
fn atom(first: u8, second: Option<u8>) -> Option<Atom> {
    match (Element::from_letters(first, second), first, second) {
        (Some(element), ..) => Some(Atom::natural(element)),
        (None, b'D', None) => Atom::labelled(Element::HYDROGEN, 2),
        (None, b'T', None) => Atom::labelled(Element::HYDROGEN, 3),
        _ => None,
    }
}
