//! Text to [`Notation`]: one pass, a bounded stack of brackets, no recursion, no heap up to some
//! 32 terms.
//!
//! The leaves that not every formula has (charges, labels, nuclides, lowered and broken counts)
//! are nom parsers; the loop over parts and terms dispatches on one byte, so that an error knows
//! what stands where.

use alloc::format;

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::{tag, take_while_m_n};
use nom::character::complete::char;
use nom::sequence::{delimited, preceded};

use super::Count;
use super::error::{Error, ErrorKind};
use super::leaf::{
    Digits, Leaf, any_digit, bracketed_nuclide, digits, is_digit, lowered, marked_charge,
    raised_mass_number, sign, small_number, state,
};
use super::notation::{Bracket, ChargeNotation, Notation, PartNotation, Place, Sign, TermNotation};
use super::solvate;
use crate::element::{Atom, Element};
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
/// The most digits in a count, a decimal mark or a fraction line aside.
const MOST_DIGITS: usize = 9;

/// Reads a text as notation. The whole of it is consumed.
pub(super) fn notation(text: &str, notation: &mut Notation) -> Result<(), Error> {
    if text.len() > MOST_BYTES {
        let limit = format!("{MOST_BYTES} bytes");
        return Err(Error::too_large(
            Span::new(0, text.len()),
            "the text",
            limit,
        ));
    }
    Cursor { text, rest: text }.formula(notation)
}

pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) rest: &'a str,
}

/// The brackets that are open: for each, which term it is.
struct Open {
    terms: [u16; MOST_DEPTH],
    depth: usize,
}

impl<'a> Cursor<'a> {
    pub(super) fn at(&self) -> usize {
        self.text.len() - self.rest.len()
    }

    fn since(&self, start: usize) -> Place {
        Place::new(start, self.at())
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest.chars().next()
    }

    fn byte(&self) -> Option<u8> {
        self.rest.as_bytes().first().copied()
    }

    fn byte_after(&self) -> Option<u8> {
        self.rest.as_bytes().get(1).copied()
    }

    /// The span of the next character, empty at the end.
    pub(super) fn here(&self) -> Span {
        let length = self.peek().map_or(0, char::len_utf8);
        Span::new(self.at(), self.at() + length)
    }

    fn take<T>(&mut self, mut leaf: impl FnMut(&'a str) -> Leaf<'a, T>) -> Option<T> {
        let (rest, found) = leaf(self.rest).ok()?;
        self.rest = rest;
        Some(found)
    }

    /// Goes on by so many bytes, which are whole characters.
    fn skip(&mut self, bytes: usize) {
        self.rest = self.rest.get(bytes..).unwrap_or_default();
    }

    fn skip_spaces(&mut self) {
        // Spaces of other scripts begin with a high byte.
        if self.byte().is_some_and(|b| b <= b' ' || b >= 0x80) {
            self.rest = self.rest.trim_start_matches(is_space);
        }
    }

    fn formula(&mut self, notation: &mut Notation) -> Result<(), Error> {
        self.skip_spaces();
        if self.rest.is_empty() {
            return Err(Error::bad(
                Span::new(0, self.text.len()),
                "an empty text where a formula was expected",
                "write a formula such as MgSO4·7H2O",
            ));
        }
        let mut doubtful_dot = None;
        loop {
            if notation.parts.len() == MOST_PARTS {
                return Err(Error::too_large(
                    self.here(),
                    "the number of parts",
                    MOST_PARTS,
                ));
            }
            self.part(notation, doubtful_dot)?;
            self.skip_spaces();
            if self.byte() == Some(b'(') {
                if let Some(found) = self.take(state) {
                    notation.state = Some(found);
                    self.skip_spaces();
                }
            }
            let Some(c) = self.peek() else { break };
            if notation.state.is_none() && solvate::is_dot(c) {
                let dot = self.here();
                self.skip(c.len_utf8());
                if c != '.' {
                    doubtful_dot = None;
                    continue;
                }
                if self.rest.chars().all(is_space) {
                    notation.full_stop = Some(dot);
                    break;
                }
                let before = self.text.get(..dot.start).unwrap_or_default();
                let between =
                    before.ends_with(|c| any_digit(c).is_some()) && self.rest.starts_with(is_digit);
                let doubtful = between && !solvate::follows(self.rest);
                doubtful_dot = doubtful.then_some(Place::new(dot.start, dot.end));
            } else if self.rest.starts_with('.') && self.rest[1..].chars().all(is_space) {
                notation.full_stop = Some(self.here());
                break;
            } else {
                return Err(self.unexpected(c));
            }
        }
        Ok(())
    }

    fn part(&mut self, notation: &mut Notation, doubtful_dot: Option<Place>) -> Result<(), Error> {
        self.skip_spaces();
        let start = self.at();
        let coefficient = self.coefficient()?;
        if coefficient.is_some() {
            self.skip_spaces();
        }
        let first = notation.terms.len();
        let mut charge = None;
        let mut open = Open {
            terms: [0; MOST_DEPTH],
            depth: 0,
        };
        while let Some(byte) = self.byte() {
            let at = self.at();
            match byte {
                b'A'..=b'Z' => {
                    let atom = self.atom(None, at)?;
                    self.term(notation, Sign::Atom(atom), at)?;
                }
                b'[' if self
                    .byte_after()
                    .is_some_and(|b| b.is_ascii_digit() || b >= 0x80)
                    && self
                        .rest
                        .get(1..)
                        .is_some_and(|rest| rest.starts_with(is_digit)) =>
                {
                    let atom = self.nuclide_in_brackets()?;
                    self.term(notation, Sign::Atom(atom), at)?;
                }
                b'(' | b'[' | b'{' => {
                    if byte == b'(' && !self.byte_after().is_some_and(opens_group) {
                        if state(self.rest).is_ok() {
                            break;
                        }
                        if let Some(found) = self.take(marked_charge) {
                            charge = Some(ChargeNotation::Marked(found));
                            break;
                        }
                    }
                    self.open(notation, &mut open, byte)?;
                }
                b')' | b']' | b'}' => {
                    let bracket = self.close(notation, &mut open, byte as char)?;
                    self.skip(1);
                    self.term(notation, Sign::Close(bracket), at)?;
                    notation.join_group();
                }
                b'+' => {
                    charge = Some(self.bare_charge(at));
                    break;
                }
                b'-' => {
                    charge = Some(self.bare_minus(notation, first, at, '-')?);
                    break;
                }
                b'^' => {
                    if let Some(atom) = self.raised(at, &mut charge)? {
                        self.term(notation, Sign::Atom(atom), at)?;
                    } else {
                        break;
                    }
                }
                b'.' | b'*' | b' ' | b'\t'..=b'\r' => break,
                0x80.. => match self.peek().unwrap_or_default() {
                    '\u{00B7}' => break,
                    '\u{00B2}' | '\u{00B3}' | '\u{00B9}' | '\u{2070}'..='\u{207B}' => {
                        if let Some(atom) = self.raised(at, &mut charge)? {
                            self.term(notation, Sign::Atom(atom), at)?;
                        } else {
                            break;
                        }
                    }
                    '\u{FF0B}' => {
                        charge = Some(self.bare_charge(at));
                        break;
                    }
                    c if is_minus(c) => {
                        charge = Some(self.bare_minus(notation, first, at, c)?);
                        break;
                    }
                    c if is_space(c) || solvate::is_dot(c) => break,
                    c => return Err(self.unexpected(c)),
                },
                _ => return Err(self.unexpected(byte as char)),
            }
        }
        if let Some(term) = open.last(notation) {
            let (bracket, place) = opened(term);
            return Err(self.never_closed(bracket, place.start));
        }
        let part = PartNotation {
            coefficient,
            terms: first..notation.terms.len(),
            charge,
            place: self.since(start),
            doubtful_dot,
        };
        if part.terms.is_empty() {
            return Err(self.empty_part(&part));
        }
        notation.parts.push(part);
        self.after_part()
    }

    /// Behind a caret or a raised digit: a labelled atom, or a charge that ends the part.
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
        notation: &Notation,
        first: usize,
        at: usize,
        c: char,
    ) -> Result<ChargeNotation, Error> {
        if notation.terms.len() == first {
            return Err(self.nothing_before(c));
        }
        Ok(self.bare_charge(at))
    }

    fn open(&mut self, notation: &mut Notation, open: &mut Open, byte: u8) -> Result<(), Error> {
        let at = self.at();
        let bracket = match byte {
            b'(' => Bracket::Round,
            b'[' => Bracket::Square,
            _ => Bracket::Curly,
        };
        // A text is short enough for two bytes a term.
        let index = notation.terms.len() as u16;
        let Some(slot) = open.terms.get_mut(open.depth) else {
            return Err(Error::say(
                ErrorKind::TooDeep,
                self.here(),
                format!("brackets nested deeper than {MOST_DEPTH}"),
                "check the brackets: no formula needs as many",
            ));
        };
        *slot = index;
        open.depth += 1;
        self.skip(1);
        notation.terms.push(TermNotation {
            sign: Sign::Open(bracket),
            place: self.since(at),
            count: Count::ONE,
            counted: Place::NOWHERE,
            plain_digits: false,
            partner: 0,
        });
        Ok(())
    }

    /// Nothing but a dot, a label or the end may follow a part.
    fn after_part(&self) -> Result<(), Error> {
        let rest = match self.byte() {
            None | Some(b'.' | b'*') => return Ok(()),
            Some(_) => self.rest.trim_start_matches(is_space),
        };
        let spaced = rest.len() < self.rest.len();
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
            let at = self.at();
            let end = at + self.rest.len() - rest.len();
            return self.spaced(Span::new(at, end));
        }
        let mut ahead = Cursor {
            text: self.text,
            rest,
        };
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

    fn term(&mut self, notation: &mut Notation, sign: Sign, start: usize) -> Result<(), Error> {
        let place = self.since(start);
        let mut term = TermNotation {
            sign,
            place,
            count: Count::ONE,
            counted: Place::NOWHERE,
            plain_digits: false,
            partner: 0,
        };
        self.count(&mut term)?;
        notation.terms.push(term);
        Ok(())
    }

    fn atom(&mut self, mass_number: Option<&str>, start: usize) -> Result<Atom, Error> {
        let at = self.at();
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
        self.skip(length);
        match mass_number {
            None => Ok(atom),
            Some(digits) => self.nuclide(atom.element(), digits, self.since(start).span()),
        }
    }

    fn nuclide_in_brackets(&mut self) -> Result<Atom, Error> {
        let start = self.at();
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

    fn coefficient(&mut self) -> Result<Option<(Count, Place)>, Error> {
        let start = self.at();
        match self.byte() {
            Some(b'0'..=b'9' | 0x80..) => {}
            Some(letter @ (b'x' | b'n')) => {
                let after = self.rest.get(1..).unwrap_or_default();
                let after = after.trim_start_matches(is_space);
                let labelled = raised_mass_number(after).is_ok();
                let begins = |c: char| c.is_ascii_uppercase() || matches!(c, '(' | '[' | '{');
                if !(labelled || after.starts_with(begins)) {
                    return Ok(None);
                }
                self.skip(1);
                let open = Count::Unknown(char::from(letter));
                return Ok(Some((open, self.since(start))));
            }
            _ => return Ok(None),
        }
        let Some(found) = self.take(digits(is_digit, |_, _| true)) else {
            return Ok(None);
        };
        let place = self.since(start);
        let count = self.number(&found, place.span(), "the coefficient")?;
        Ok(Some((count, place)))
    }

    /// The count behind a symbol or a closing bracket.
    fn count(&mut self, term: &mut TermNotation) -> Result<(), Error> {
        let start = self.at();
        match self.byte() {
            Some(b'0'..=b'9') => {
                if let Some(whole) = self.whole_number() {
                    term.count = Count::Known(whole, 1);
                    term.counted = self.since(start);
                    term.plain_digits = true;
                    return Ok(());
                }
            }
            Some(b'x' | b'n' | b'_' | 0x80..) => {}
            _ => return Ok(()),
        }
        self.any_count(term, start)
    }

    /// The commonest count: at most nine digits of ASCII with no zero in front, and nothing behind
    /// them that may belong to the number.
    fn whole_number(&mut self) -> Option<u32> {
        let bytes = self.rest.as_bytes();
        let mut value = 0_u32;
        let mut length = 0;
        while let Some(digit) = bytes.get(length).filter(|b| b.is_ascii_digit()) {
            value = value.wrapping_mul(10).wrapping_add(u32::from(digit - b'0'));
            length += 1;
        }
        let more = matches!(bytes.get(length), Some(b'.' | b'/' | 0x80..));
        let raised_dot = bytes.get(length..length + 2) == Some(b"\xC2\xB7");
        if length > MOST_DIGITS || bytes.first() == Some(&b'0') || (more && !raised_dot) {
            return None;
        }
        self.skip(length);
        Some(value)
    }

    /// A count in any of its forms.
    fn any_count(&mut self, term: &mut TermNotation, start: usize) -> Result<(), Error> {
        let Some(c) = self.peek() else {
            return Ok(());
        };
        let name = self
            .text
            .get(term.place.span().start..start)
            .unwrap_or_default();
        let found = match c {
            'x' | 'n' | '\u{2093}' | '\u{2099}' => {
                self.skip(c.len_utf8());
                let letter = if matches!(c, 'x' | '\u{2093}') {
                    'x'
                } else {
                    'n'
                };
                self.open_count(term, letter, start);
                return Ok(());
            }
            '_' => {
                for (text, letter) in [("_x", 'x'), ("_{x}", 'x'), ("_n", 'n'), ("_{n}", 'n')] {
                    if let Some(rest) = self.rest.strip_prefix(text) {
                        self.rest = rest;
                        self.open_count(term, letter, start);
                        return Ok(());
                    }
                }
                let mut lowered = alt((
                    delimited(tag("_{"), digits(is_digit, |_, _| true), char('}')),
                    preceded(char('_'), digits(is_digit, |_, _| false)),
                ));
                let Some(found) = self.take(|text| lowered.parse(text)) else {
                    return Err(Error::bad(
                        self.here(),
                        "no count after `_`",
                        "write the count as `_4` or `_{4}`",
                    ));
                };
                found
            }
            _ if lowered(c).is_some() => {
                let Some(found) = self.take(digits(|c| lowered(c).is_some(), |_, _| true)) else {
                    return Ok(());
                };
                found
            }
            _ => {
                let Some(found) = self.take(digits(is_digit, |whole, behind| {
                    whole == "0" || !solvate::is_adduct_point(behind)
                })) else {
                    return Ok(());
                };
                term.plain_digits =
                    found.decimals.is_none() && found.below.is_none() && found.vulgar.is_none();
                found
            }
        };
        term.counted = self.since(start);
        let span = term.counted.span();
        if term.plain_digits && found.whole.starts_with(|c| digit(c) == Some(0)) {
            return Err(self.zero_count(name, span));
        }
        term.count = self.number(&found, span, "the count")?;
        Ok(())
    }

    fn open_count(&self, term: &mut TermNotation, letter: char, start: usize) {
        term.count = Count::Unknown(letter);
        term.counted = self.since(start);
    }

    /// The value of digits: above nought, not too long, no zero in front.
    fn number(&self, found: &Digits<'_>, span: Span, what: &str) -> Result<Count, Error> {
        let decimals = found.decimals.unwrap_or("");
        let length = |text: &str| text.chars().count();
        if length(found.whole) + length(decimals) > MOST_DIGITS
            || found.below.is_some_and(|below| length(below) > MOST_DIGITS)
        {
            return Err(Error::too_large(
                span,
                what,
                format!("{MOST_DIGITS} digits"),
            ));
        }
        let leading = |text: &str| {
            text.chars().count() > 1 && text.chars().next().and_then(any_digit) == Some(0)
        };
        if leading(found.whole) || found.below.is_some_and(leading) {
            return Err(Error::bad(
                span,
                format!("{what} begins with a zero"),
                "take the zero out, or write O for oxygen",
            ));
        }
        let whole = small_number(found.whole).unwrap_or(0);
        let (numerator, denominator) = if let Some((above, below)) = found.vulgar {
            (
                whole.checked_mul(below).and_then(|w| w.checked_add(above)),
                below,
            )
        } else if let Some(below) = found.below {
            (Some(whole), small_number(below).unwrap_or(0))
        } else {
            let scale = 10_u32.pow(u32::try_from(length(decimals)).unwrap_or(0));
            let value = whole
                .checked_mul(scale)
                .and_then(|w| w.checked_add(small_number(decimals).unwrap_or(0)));
            (value, scale)
        };
        let numerator = numerator
            .ok_or_else(|| Error::too_large(span, what, format!("{MOST_DIGITS} digits")))?;
        if denominator == 0 {
            return Err(Error::bad(
                span,
                format!("{what} divides by zero"),
                "write a number other than 0 below the line",
            ));
        }
        if numerator == 0 {
            return Err(Error::bad(
                span,
                format!("{what} is zero"),
                "leave out what is not there",
            ));
        }
        Ok(Count::known(numerator, denominator))
    }

    fn close(&self, notation: &mut Notation, open: &mut Open, c: char) -> Result<Bracket, Error> {
        let Some(open_term) = open.last(notation) else {
            return Err(self.closes_nothing(c));
        };
        let (bracket, opened) = opened(open_term);
        if bracket.close() != c {
            return Err(Error::say(
                ErrorKind::UnbalancedBracket,
                self.here(),
                format!("`{}` is closed by `{c}`", bracket.open()),
                format!("close it with `{}`", bracket.close()),
            ));
        }
        if matches!(notation.terms.last(), Some(last) if matches!(last.sign, Sign::Open(_))) {
            return Err(Error::bad(
                Span::new(opened.start, self.here().end),
                "empty brackets",
                "put a group between the brackets, or take them out",
            ));
        }
        open.depth -= 1;
        let index = open.terms.get(open.depth).copied().unwrap_or_default();
        notation.closing = notation.terms.len() as u16 - index;
        Ok(bracket)
    }

    fn bare_charge(&mut self, start: usize) -> ChargeNotation {
        let negative = self.peek().is_some_and(is_minus);
        let mut signs = 0;
        while let Some((rest, _)) = sign(self.rest).ok().filter(|(_, minus)| *minus == negative) {
            self.rest = rest;
            signs += 1;
        }
        let digits_after = self
            .take(take_while_m_n(1, 3, is_digit))
            .and_then(small_number);
        ChargeNotation::Bare {
            negative,
            signs,
            digits_after,
            place: self.since(start),
        }
    }
}

impl Open {
    /// The bracket that was opened last.
    fn last<'n>(&self, notation: &'n Notation) -> Option<&'n TermNotation> {
        let index = self.terms.get(self.depth.checked_sub(1)?)?;
        notation.terms.get(usize::from(*index))
    }
}

impl Notation {
    /// Ties the bracket just closed to the one that opened it, and puts the group's count there,
    /// too.
    fn join_group(&mut self) {
        let distance = self.closing;
        let Some((close, before)) = self.terms.split_last_mut() else {
            return;
        };
        close.partner = distance;
        let opened = before.len().checked_sub(usize::from(distance));
        if let Some(open) = opened.and_then(|at| before.get_mut(at)) {
            open.partner = distance;
            open.count = close.count;
        }
    }
}

/// Which bracket a term opens, and where.
fn opened(term: &TermNotation) -> (Bracket, Span) {
    let bracket = match term.sign {
        Sign::Open(bracket) | Sign::Close(bracket) => bracket,
        Sign::Atom(_) => Bracket::Round,
    };
    (bracket, term.place.span())
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
