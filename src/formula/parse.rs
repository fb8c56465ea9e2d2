//! Text to [`Notation`]: one pass, a bounded stack of brackets, no recursion.
//!
//! The leaves (numbers, charges, labels) are nom parsers; the loop over parts and terms
//! dispatches on one character, so that an error knows what stands where.

use alloc::format;
use alloc::vec::Vec;

use nom::branch::alt;
use nom::bytes::complete::{tag, take_while_m_n, take_while1};
use nom::character::complete::{char, one_of, satisfy};
use nom::combinator::{opt, peek, recognize, value};
use nom::sequence::{delimited, pair, preceded};
use nom::{IResult, Parser};

use super::error::{Error, ErrorKind};
use super::notation::{
    Bracket, ChargeNotation, CountNotation, Notation, PartNotation, Sign, TermNotation,
};
use super::solvate;
use super::{Count, State};
use crate::element::{Atom, Element};
use crate::text::{Span, digit, is_minus, is_space};

/// The longest text that is read as a formula, in bytes.
pub(super) const MOST_BYTES: usize = 512;
/// The deepest nesting of brackets.
pub(super) const MOST_DEPTH: usize = 16;
/// The most parts joined by dots.
pub(super) const MOST_PARTS: usize = 16;
/// The most digits in a count, a decimal mark or a fraction line aside.
const MOST_DIGITS: usize = 9;

type Leaf<'a, T> = IResult<&'a str, T, ()>;

// --- leaves ------------------------------------------------------------------------------

fn is_digit(c: char) -> bool {
    digit(c).is_some()
}

fn lowered(c: char) -> Option<u8> {
    u8::try_from((c as u32).checked_sub(0x2080)?)
        .ok()
        .filter(|d| *d < 10)
}

fn raised(c: char) -> Option<u8> {
    match c {
        '\u{00B2}' => Some(2),
        '\u{00B3}' => Some(3),
        '\u{00B9}' => Some(1),
        '\u{2070}' | '\u{2074}'..='\u{2079}' => u8::try_from(c as u32 - 0x2070).ok(),
        _ => None,
    }
}

/// Digits in any of their forms, as a number.
fn any_digit(c: char) -> Option<u8> {
    digit(c).or_else(|| lowered(c)).or_else(|| raised(c))
}

fn sign(text: &str) -> Leaf<'_, bool> {
    satisfy(|c| c == '+' || c == '\u{FF0B}' || is_minus(c))
        .map(is_minus)
        .parse(text)
}

fn raised_sign(text: &str) -> Leaf<'_, bool> {
    alt((
        value(false, char('\u{207A}')),
        value(true, char('\u{207B}')),
    ))
    .parse(text)
}

fn small_number(digits: &str) -> Option<u32> {
    let mut number: u32 = 0;
    for c in digits.chars() {
        number = number
            .checked_mul(10)?
            .checked_add(u32::from(any_digit(c)?))?;
    }
    Some(number)
}

/// `2-`, `-2`, `-` or `--`: the signed size.
fn charge_body<'a>(
    is_figure: fn(char) -> bool,
    sign: fn(&'a str) -> Leaf<'a, bool>,
) -> impl FnMut(&'a str) -> Leaf<'a, i32> {
    move |text| {
        let (rest, before) = opt(take_while_m_n(1, 3, is_figure)).parse(text)?;
        let (mut rest, negative) = sign(rest)?;
        let mut size = 1;
        if let Some(before) = before {
            size = small_number(before).unwrap_or(0);
        } else if let (after, Some(digits)) = opt(take_while_m_n(1, 3, is_figure)).parse(rest)? {
            rest = after;
            size = small_number(digits).unwrap_or(0);
        } else {
            while let Ok((after, next)) = sign(rest) {
                if next != negative {
                    return Err(nom::Err::Error(()));
                }
                size += 1;
                rest = after;
            }
        }
        let size = i32::try_from(size).unwrap_or(0);
        if size == 0 {
            return Err(nom::Err::Error(()));
        }
        Ok((rest, if negative { -size } else { size }))
    }
}

/// A charge that is marked as one: `^2-`, `^{2-}`, `²⁻`, `(2-)`.
fn marked_charge(text: &str) -> Leaf<'_, i32> {
    alt((
        delimited(tag("^{"), charge_body(is_digit, sign), char('}')),
        preceded(char('^'), charge_body(is_digit, sign)),
        charge_body(|c| raised(c).is_some(), raised_sign),
        delimited(char('('), charge_body(is_digit, sign), char(')')),
    ))
    .parse(text)
}

/// `(s)`, `(l)`, `(g)` or `(aq)`.
fn state(text: &str) -> Leaf<'_, State> {
    delimited(
        char('('),
        alt((
            value(State::Aqueous, tag("aq")),
            value(State::Solid, tag("s")),
            value(State::Liquid, tag("l")),
            value(State::Gas, tag("g")),
        )),
        char(')'),
    )
    .parse(text)
}

fn symbol(text: &str) -> Leaf<'_, &str> {
    recognize(pair(
        satisfy(|c| c.is_ascii_uppercase()),
        opt(satisfy(|c| c.is_ascii_lowercase())),
    ))
    .parse(text)
}

/// The mass number before a labelled atom: `^18`, `^{18}` or `¹⁸`, with a capital behind it.
fn raised_mass_number(text: &str) -> Leaf<'_, &str> {
    let digits = || take_while_m_n(1, 3, is_digit);
    let (rest, number) = alt((
        delimited(tag("^{"), digits(), char('}')),
        preceded(char('^'), digits()),
        take_while_m_n(1, 3, |c| raised(c).is_some()),
    ))
    .parse(text)?;
    peek(satisfy(|c| c.is_ascii_uppercase())).parse(rest)?;
    Ok((rest, number))
}

/// The inside of `[18O]`.
fn bracketed_nuclide(text: &str) -> Leaf<'_, (&str, &str)> {
    delimited(
        char('['),
        pair(take_while_m_n(1, 3, is_digit), symbol),
        char(']'),
    )
    .parse(text)
}

/// A count in digits: `5`, `2.5`, `8/3`, `½`, `2½`. The caller says whether a full stop may be
/// a decimal point.
struct Digits<'a> {
    whole: &'a str,
    decimals: Option<&'a str>,
    below: Option<&'a str>,
    vulgar: Option<(u32, u32)>,
}

fn vulgar_fraction(text: &str) -> Leaf<'_, (u32, u32)> {
    let (rest, c) = nom::character::complete::anychar(text)?;
    let fraction = match c {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return Err(nom::Err::Error(())),
    };
    Ok((rest, fraction))
}

fn digits<'a>(
    is_figure: fn(char) -> bool,
    decimal_point: impl Fn(&'a str, &'a str) -> bool,
) -> impl FnMut(&'a str) -> Leaf<'a, Digits<'a>> {
    move |text| {
        if let Ok((rest, fraction)) = vulgar_fraction(text) {
            let digits = Digits {
                whole: "",
                decimals: None,
                below: None,
                vulgar: Some(fraction),
            };
            return Ok((rest, digits));
        }
        let (rest, whole) = take_while1(is_figure).parse(text)?;
        let figures_behind = |marks: &'static str, text: &'a str| -> Leaf<'a, &'a str> {
            preceded(one_of(marks), take_while1(is_figure)).parse(text)
        };
        let mut found = Digits {
            whole,
            decimals: None,
            below: None,
            vulgar: None,
        };
        if let Ok((after, decimals)) = figures_behind(".", rest) {
            if decimal_point(whole, &rest[1..]) {
                found.decimals = Some(decimals);
                return Ok((after, found));
            }
        } else if let Ok((after, below)) = figures_behind("/\u{2044}", rest) {
            found.below = Some(below);
            return Ok((after, found));
        } else if let Ok((after, fraction)) = vulgar_fraction(rest) {
            found.vulgar = Some(fraction);
            return Ok((after, found));
        }
        Ok((rest, found))
    }
}

// --- the loop ----------------------------------------------------------------------------

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

struct Cursor<'a> {
    text: &'a str,
    rest: &'a str,
}

impl<'a> Cursor<'a> {
    fn at(&self) -> usize {
        self.text.len() - self.rest.len()
    }

    fn since(&self, start: usize) -> Span {
        Span::new(start, self.at())
    }

    fn peek(&self) -> Option<char> {
        self.rest.chars().next()
    }

    /// The span of the next character, empty at the end.
    fn here(&self) -> Span {
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
        if let Some(atom) = atom(letters) {
            self.rest = &self.rest[letters.len()..];
            return match mass_number {
                None => Ok(atom),
                Some(digits) => {
                    let span = self.since(start);
                    self.nuclide(atom.element(), digits, span)
                }
            };
        }
        let (first, second) = letters.split_at(letters.len().min(1));
        if let (Some(atom), "x" | "n", None) = (atom(first), second, mass_number) {
            // An open count: `FexO`.
            self.rest = &self.rest[1..];
            return Ok(atom);
        }
        Err(self.unknown_symbol(at))
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
            if after.starts_with(|c: char| c.is_ascii_uppercase() || matches!(c, '(' | '[' | '{')) {
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

    // --- what can be wrong ---------------------------------------------------------------

    #[cold]
    fn zero_count(&self, name: &str, span: Span) -> Error {
        let digits = &self.text[span.start..span.end];
        let zero = Span::new(
            span.start,
            span.start + digits.chars().next().map_or(0, char::len_utf8),
        );
        let lone = zero.end == span.end;
        let before_oxygen = self.rest.starts_with('O');
        let help = if !lone || (name.ends_with(|c: char| c.is_ascii_alphabetic()) && !before_oxygen)
        {
            let mended = format!("{}O{}", &self.text[..zero.start], &self.text[zero.end..]);
            format!("write the letter O for oxygen: `{}`", mended.trim())
        } else {
            "leave out what is not there".into()
        };
        let message = if lone {
            format!("a count of zero after `{name}`")
        } else {
            format!("the count after `{name}` begins with a zero")
        };
        Error::bad(zero, message, help)
    }

    #[cold]
    fn bad_charge(&self) -> Error {
        let end = self.text.len()
            - self.text[self.at()..]
                .trim_start_matches(|c: char| !is_space(c) && !solvate::is_dot(c))
                .len();
        Error::bad(
            Span::new(self.at(), end.max(self.here().end)),
            format!("`{}` is not a charge", &self.text[self.at()..end]),
            "write a charge as its size and one sign after a caret: `SO4^2-`",
        )
    }

    #[cold]
    fn nothing_before(&self, c: char) -> Error {
        Error::bad(
            self.here(),
            format!("`{c}` stands where a formula should begin"),
            "take the sign out: coefficients are above 0, and a charge stands behind its formula",
        )
    }

    #[cold]
    fn empty_part(&self, part: &PartNotation) -> Error {
        let next = self.here();
        if let Some((_, span)) = part.coefficient {
            return Error::bad(
                span,
                format!(
                    "the number {} stands without a formula behind it",
                    &self.text[span.start..span.end]
                ),
                "write the formula that it counts, such as 5H2O",
            );
        }
        if part.charge.is_some() {
            return Error::bad(
                part.span,
                "a charge without a formula",
                "write the formula before its charge: `SO4^2-`",
            );
        }
        match self.peek() {
            Some(c) if solvate::is_dot(c) => Error::bad(
                next,
                format!("nothing stands before the dot `{c}`"),
                "write a formula on either side of an adduct dot",
            ),
            _ => Error::bad(
                next,
                "nothing stands after the dot",
                "write a formula on either side of an adduct dot",
            ),
        }
    }

    #[cold]
    fn unexpected(&self, c: char) -> Error {
        if any_digit(c).is_some() {
            return Error::bad(
                self.here(),
                format!("`{c}` follows a count that is already complete"),
                "write all digits of a count in the same way",
            );
        }
        if c.is_ascii_lowercase() {
            return self.unknown_symbol(self.at());
        }
        Error::bad(
            self.here(),
            format!("`{}` has no place in a formula", c.escape_debug()),
            "use symbols of elements, counts, brackets, dots and charges only",
        )
    }

    #[cold]
    fn unknown_symbol(&self, at: usize) -> Error {
        let rest = &self.text[at..];
        let mut letters = 0;
        for (index, c) in rest.char_indices().take(3) {
            if (index > 0 && !c.is_ascii_lowercase()) || !c.is_ascii_alphabetic() {
                break;
            }
            letters = index + 1;
        }
        let found = &rest[..letters];
        let renamed = [
            ("Uub", "copernicium, Cn"),
            ("Uut", "nihonium, Nh"),
            ("Uuq", "flerovium, Fl"),
            ("Uup", "moscovium, Mc"),
            ("Uuh", "livermorium, Lv"),
            ("Uus", "tennessine, Ts"),
            ("Uuo", "oganesson, Og"),
        ];
        let (shown, help) = if let Some((_, now)) = renamed.iter().find(|(old, _)| *old == found) {
            (found, format!("the element was renamed to {now}"))
        } else {
            let found = &found[..found.len().min(2)];
            (found, suggestion(self.text, at, found))
        };
        Error::say(
            ErrorKind::UnknownElement,
            Span::new(at, at + shown.len()),
            format!("`{shown}` is not the symbol of an element"),
            help,
        )
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

/// What may have been meant by letters that are no symbol.
#[cold]
fn suggestion(text: &str, at: usize, found: &str) -> alloc::string::String {
    let capitalised = |letters: &str| {
        let mut out = alloc::string::String::new();
        for (index, c) in letters.chars().enumerate() {
            out.push(if index == 0 {
                c.to_ascii_uppercase()
            } else {
                c.to_ascii_lowercase()
            });
        }
        Element::from_symbol(&out).map(|element| (out, element))
    };
    // A capital in the place of a small letter: the A of NACL belongs to the N before it.
    let before = text[..at]
        .chars()
        .next_back()
        .filter(char::is_ascii_uppercase);
    let first = found.chars().next().unwrap_or('?');
    let after = text[at + found.len()..]
        .chars()
        .next()
        .filter(char::is_ascii_alphabetic);
    let pairs = [before.map(|b| [b, first]), after.map(|a| [first, a])];
    let small = found.starts_with(|c: char| c.is_ascii_lowercase());
    let candidates = small
        .then(|| found.into())
        .into_iter()
        .chain(
            pairs
                .into_iter()
                .flatten()
                .map(|pair| pair.iter().collect::<alloc::string::String>()),
        )
        .chain([found.into(), alloc::string::String::from(first)]);
    for candidate in candidates {
        if let Some((symbol, element)) = capitalised(&candidate) {
            return format!(
                "perhaps {symbol}, {}: a symbol has a capital first letter, then a small one",
                element.name()
            );
        }
    }
    "check the symbol against a periodic table".into()
}
