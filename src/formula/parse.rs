//! Text to [`Notation`]: one pass, a bounded stack of brackets, no recursion.
//!
//! The leaves (numbers, charges, labels) are nom parsers; the loop over parts and terms
//! dispatches on one character, so that an error knows what stands where.

use alloc::format;
use alloc::vec::Vec;

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::{tag, take_while_m_n};
use nom::character::complete::char;
use nom::sequence::{delimited, preceded};

use super::Count;
use super::error::{Error, ErrorKind};
use super::leaf::{
    Digits, Leaf, any_digit, bracketed_nuclide, digits, is_digit, lowered, marked_charge,
    raised_mass_number, sign, small_number, state, symbol,
};
use super::notation::{
    Bracket, ChargeNotation, CountNotation, Notation, PartNotation, Sign, TermNotation,
};
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
pub(super) fn notation(text: &str) -> Result<Notation, Error> {
    if text.len() > MOST_BYTES {
        let limit = format!("{MOST_BYTES} bytes");
        return Err(Error::too_large(
            Span::new(0, text.len()),
            "the text",
            limit,
        ));
    }
    Cursor { text, rest: text }.formula()
}

pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) rest: &'a str,
}

impl<'a> Cursor<'a> {
    pub(super) fn at(&self) -> usize {
        self.text.len() - self.rest.len()
    }

    fn since(&self, start: usize) -> Span {
        Span::new(start, self.at())
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest.chars().next()
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

    fn skip(&mut self, c: char) {
        self.rest = self.rest.strip_prefix(c).unwrap_or(self.rest);
    }

    fn skip_spaces(&mut self) {
        self.rest = self.rest.trim_start_matches(is_space);
    }

    fn formula(&mut self) -> Result<Notation, Error> {
        self.skip_spaces();
        if self.rest.is_empty() {
            return Err(Error::bad(
                Span::new(0, self.text.len()),
                "an empty text where a formula was expected",
                "write a formula such as MgSO4·7H2O",
            ));
        }
        let mut notation = Notation {
            parts: Vec::new(),
            state: None,
            full_stop: None,
        };
        let mut doubtful_dot = None;
        loop {
            if notation.parts.len() == MOST_PARTS {
                return Err(Error::too_large(
                    self.here(),
                    "the number of parts",
                    MOST_PARTS,
                ));
            }
            notation.parts.push(self.part(doubtful_dot)?);
            self.skip_spaces();
            if let Some(found) = self.take(state) {
                notation.state = Some(found);
                self.skip_spaces();
            }
            let Some(c) = self.peek() else { break };
            if notation.state.is_none() && solvate::is_dot(c) {
                let span = self.here();
                self.skip(c);
                if c == '.' && self.rest.chars().all(is_space) {
                    notation.full_stop = Some(span);
                    break;
                }
                let between = c == '.'
                    && self.text[..span.start].ends_with(|c| any_digit(c).is_some())
                    && self.rest.starts_with(is_digit);
                doubtful_dot = (between && !solvate::follows(self.rest)).then_some(span);
            } else if c == '.' && self.rest[1..].chars().all(is_space) {
                notation.full_stop = Some(self.here());
                break;
            } else {
                return Err(self.unexpected(c));
            }
        }
        Ok(notation)
    }

    fn part(&mut self, doubtful_dot: Option<Span>) -> Result<PartNotation, Error> {
        self.skip_spaces();
        let start = self.at();
        let coefficient = self.coefficient()?;
        let mut part = PartNotation {
            coefficient,
            terms: Vec::new(),
            charge: None,
            span: Span::new(start, start),
            doubtful_dot,
        };
        if part.coefficient.is_some() {
            self.skip_spaces();
        }
        let mut open: Vec<(Bracket, Span)> = Vec::new();
        while let Some(c) = self.peek() {
            let at = self.at();
            match c {
                'A'..='Z' => {
                    let atom = self.atom(None, at)?;
                    self.term(&mut part, Sign::Atom(atom), at)?;
                }
                '[' if self.rest[1..].starts_with(is_digit) => {
                    let atom = self.nuclide_in_brackets()?;
                    self.term(&mut part, Sign::Atom(atom), at)?;
                }
                '(' if state(self.rest).is_ok() => break,
                '(' if marked_charge(self.rest).is_ok() => {
                    part.charge = self.take(marked_charge).map(ChargeNotation::Marked);
                    break;
                }
                '(' | '[' | '{' => {
                    if open.len() == MOST_DEPTH {
                        return Err(Error::say(
                            ErrorKind::TooDeep,
                            self.here(),
                            format!("brackets nested deeper than {MOST_DEPTH}"),
                            "check the brackets: no formula needs as many",
                        ));
                    }
                    let bracket = match c {
                        '(' => Bracket::Round,
                        '[' => Bracket::Square,
                        _ => Bracket::Curly,
                    };
                    self.skip(c);
                    open.push((bracket, self.since(at)));
                    part.terms.push(TermNotation {
                        sign: Sign::Open(bracket),
                        span: self.since(at),
                        count: None,
                    });
                }
                ')' | ']' | '}' => {
                    let bracket = self.close(&mut open, &part, c)?;
                    self.skip(c);
                    self.term(&mut part, Sign::Close(bracket), at)?;
                }
                '^' | '\u{00B2}' | '\u{00B3}' | '\u{00B9}' | '\u{2070}'..='\u{207B}' => {
                    if let Some(number) = self.take(raised_mass_number) {
                        let atom = self.atom(Some(number), at)?;
                        self.term(&mut part, Sign::Atom(atom), at)?;
                    } else if let Some(charge) = self.take(marked_charge) {
                        part.charge = Some(ChargeNotation::Marked(charge));
                        break;
                    } else {
                        return Err(self.bad_charge());
                    }
                }
                '+' | '\u{FF0B}' => {
                    part.charge = Some(self.bare_charge(at));
                    break;
                }
                _ if is_minus(c) => {
                    if part.terms.is_empty() {
                        return Err(self.nothing_before(c));
                    }
                    part.charge = Some(self.bare_charge(at));
                    break;
                }
                _ if is_space(c) || solvate::is_dot(c) => break,
                _ => return Err(self.unexpected(c)),
            }
        }
        if let Some((bracket, span)) = open.pop() {
            return Err(Error::say(
                ErrorKind::UnbalancedBracket,
                span,
                format!("the bracket `{}` is never closed", bracket.open()),
                format!("add `{}` where the group ends", bracket.close()),
            ));
        }
        part.span = self.since(start);
        if part.terms.is_empty() {
            return Err(self.empty_part(&part));
        }
        self.after_part()?;
        Ok(part)
    }

    /// Nothing but a dot, a label or the end may follow a part.
    fn after_part(&self) -> Result<(), Error> {
        let rest = self.rest.trim_start_matches(is_space);
        let spaced = rest.len() < self.rest.len();
        let Some(c) = rest.chars().next() else {
            return Ok(());
        };
        if solvate::is_dot(c) || state(rest).is_ok() {
            return Ok(());
        }
        if spaced {
            let at = self.at();
            let help = if rest.starts_with(is_digit) || solvate::is_solvate(rest) {
                "put an adduct dot in place of the space: `MgSO4·7H2O`"
            } else {
                "take the space out"
            };
            let end = at + self.rest.len() - rest.len();
            return Err(Error::bad(
                Span::new(at, end),
                "a space inside the formula",
                help,
            ));
        }
        let mut ahead = Cursor {
            text: self.text,
            rest,
        };
        Err(ahead.after_charge(c))
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

    fn term(&mut self, part: &mut PartNotation, sign: Sign, start: usize) -> Result<(), Error> {
        let span = self.since(start);
        let name = &self.text[span.start..span.end];
        let count = self.count(name)?;
        part.terms.push(TermNotation { sign, span, count });
        Ok(())
    }

    fn atom(&mut self, mass_number: Option<&str>, start: usize) -> Result<Atom, Error> {
        let at = self.at();
        let letters = symbol(self.rest).map_or("", |(_, letters)| letters);
        let (first, second) = letters.split_at(letters.len().min(1));
        let (atom, length) = match (atom(letters), second) {
            (Some(atom), _) => (atom, letters.len()),
            // An open count: `FexO`.
            (None, "x" | "n") => (atom(first).ok_or_else(|| self.unknown_symbol(at))?, 1),
            (None, _) => return Err(self.unknown_symbol(at)),
        };
        self.rest = &self.rest[length..];
        match mass_number {
            None => Ok(atom),
            Some(digits) => self.nuclide(atom.element(), digits, self.since(start)),
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
        let span = self.since(start);
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

    fn coefficient(&mut self) -> Result<Option<(Count, Span)>, Error> {
        let start = self.at();
        if self.peek().is_some_and(|c| matches!(c, 'x' | 'n')) {
            let after = self.rest[1..].trim_start_matches(is_space);
            let labelled = raised_mass_number(after).is_ok();
            if labelled
                || after
                    .starts_with(|c: char| c.is_ascii_uppercase() || matches!(c, '(' | '[' | '{'))
            {
                let letter = self.peek().unwrap_or('x');
                self.skip(letter);
                return Ok(Some((Count::Unknown(letter), self.since(start))));
            }
        }
        let Some(found) = self.take(digits(is_digit, |_, _| true)) else {
            return Ok(None);
        };
        let span = self.since(start);
        let count = self.number(&found, span, "the coefficient")?;
        Ok(Some((count, span)))
    }

    /// The count behind a symbol or a closing bracket.
    fn count(&mut self, name: &str) -> Result<Option<CountNotation>, Error> {
        let start = self.at();
        let Some(c) = self.peek() else {
            return Ok(None);
        };
        let open = |letter| CountNotation {
            count: Count::Unknown(letter),
            span: Span::new(start, start + c.len_utf8()),
            plain_digits: false,
        };
        let mut plain_digits = false;
        let found = match c {
            'x' | 'n' => {
                self.skip(c);
                return Ok(Some(open(c)));
            }
            '\u{2093}' | '\u{2099}' => {
                self.skip(c);
                return Ok(Some(open(if c == '\u{2093}' { 'x' } else { 'n' })));
            }
            '_' => {
                for (text, letter) in [("_x", 'x'), ("_{x}", 'x'), ("_n", 'n'), ("_{n}", 'n')] {
                    if let Some(rest) = self.rest.strip_prefix(text) {
                        self.rest = rest;
                        return Ok(Some(CountNotation {
                            span: self.since(start),
                            ..open(letter)
                        }));
                    }
                }
                let lowered = alt((
                    delimited(tag("_{"), digits(is_digit, |_, _| true), char('}')),
                    preceded(char('_'), digits(is_digit, |_, _| false)),
                ));
                let mut lowered = lowered;
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
                    return Ok(None);
                };
                found
            }
            _ => {
                let Some(found) = self.take(digits(is_digit, |whole, behind| {
                    whole == "0" || !solvate::is_adduct_point(behind)
                })) else {
                    return Ok(None);
                };
                plain_digits =
                    found.decimals.is_none() && found.below.is_none() && found.vulgar.is_none();
                found
            }
        };
        let span = self.since(start);
        if plain_digits && found.whole.starts_with(|c| digit(c) == Some(0)) {
            return Err(self.zero_count(name, span));
        }
        let count = self.number(&found, span, "the count")?;
        Ok(Some(CountNotation {
            count,
            span,
            plain_digits,
        }))
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

    fn close(
        &self,
        open: &mut Vec<(Bracket, Span)>,
        part: &PartNotation,
        c: char,
    ) -> Result<Bracket, Error> {
        let Some((bracket, opened)) = open.pop() else {
            return Err(Error::say(
                ErrorKind::UnbalancedBracket,
                self.here(),
                format!("the bracket `{c}` closes nothing"),
                "take it out, or open the group before it",
            ));
        };
        if bracket.close() != c {
            return Err(Error::say(
                ErrorKind::UnbalancedBracket,
                self.here(),
                format!("`{}` is closed by `{c}`", bracket.open()),
                format!("close it with `{}`", bracket.close()),
            ));
        }
        if matches!(part.terms.last(), Some(last) if matches!(last.sign, Sign::Open(_))) {
            return Err(Error::bad(
                Span::new(opened.start, self.here().end),
                "empty brackets",
                "put a group between the brackets, or take them out",
            ));
        }
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
            span: self.since(start),
        }
    }
}

/// The symbol of an element, or D or T for heavy hydrogen.
fn atom(letters: &str) -> Option<Atom> {
    match letters {
        "D" => Atom::labelled(Element::HYDROGEN, 2),
        "T" => Atom::labelled(Element::HYDROGEN, 3),
        _ => {
            let mut bytes = letters.bytes();
            let first = bytes.next()?;
            Element::from_letters(first, bytes.next()).map(Atom::natural)
        }
    }
}
