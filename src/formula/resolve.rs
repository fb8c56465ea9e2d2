//! Notation to [`Formula`]: settles what the text leaves open, or names both readings.

use alloc::format;
use alloc::string::String;

use smallvec::SmallVec;

use super::error::{Error, ErrorKind};
use super::notation::{Bracket, ChargeNotation, LastTerm, PartNotation, Place, Sign};
use super::packed::Token;
use super::suspect::{self, Suspect};
use super::{Count, Formula, parse};
use crate::element::{Atom, Element};
use crate::text::{Note, Span, is_minus, is_space};

/// A formula as it is read, and what is doubtful about the reading.
pub(super) struct Reading<'t> {
    text: &'t str,
    pub(super) formula: Formula,
    doubts: SmallVec<[Doubt; 2]>,
    /// A bound from above of the atoms of any kind, in whole numbers over one denominator.
    reach: u64,
    /// Whether any symbol has a small letter.
    pub(super) small_letters: bool,
    /// Whether two neighbouring symbols may be a metal in capitals.
    suspect_pair: bool,
}

/// What the lenient reader notes, and the strict one may refuse.
#[derive(Debug, Clone, Copy)]
enum Doubt {
    /// A full stop that may be an adduct dot or a decimal point.
    Dot(Span),
    /// Water in brackets at the end.
    Water(Count),
    /// The zero of `H20`.
    Zero(Place),
    /// Capitals that look like a metal.
    Case,
    /// Another slip of the keyboard.
    Slip(Suspect),
    /// A full stop at the end.
    FullStop(Span),
}

impl<'t> Reading<'t> {
    pub(super) fn new(text: &'t str) -> Reading<'t> {
        Reading {
            text,
            formula: Formula::new(),
            doubts: SmallVec::new(),
            reach: 1,
            small_letters: false,
            suspect_pair: false,
        }
    }

    pub(super) fn read(&mut self) -> Result<(), Error> {
        let text = self.text;
        if is_electron(text) {
            self.formula = Formula::electron();
            return Ok(());
        }
        parse::parts(text, self)?;
        if self.suspect_pair && !self.small_letters && suspect_pair(text).is_some() {
            self.doubts.push(Doubt::Case);
        }
        suspect::each(text, |slip| self.doubts.push(Doubt::Slip(slip)));
        if !self.doubts.is_empty() {
            self.check_parts()?;
            // A full stop at the end is told last.
            self.doubts
                .sort_by_key(|doubt| matches!(doubt, Doubt::FullStop(_)));
        }
        if self.reach <= MOST_ATOMS / MOST_TERMS && text.len() <= SURELY_SHORT {
            return Ok(());
        }
        self.formula.check_size(Span::new(0, text.len()))
    }

    /// Water in brackets at the end is a part of its own, which the text did not count as one.
    #[cold]
    fn check_parts(&self) -> Result<(), Error> {
        let tokens = self.formula.packed.tokens();
        let dots = tokens.filter(|token| matches!(token, Token::Dot)).count();
        if dots < parse::MOST_PARTS {
            return Ok(());
        }
        let span = Span::new(0, self.text.len());
        Err(Error::too_large(
            span,
            "the number of parts",
            parse::MOST_PARTS,
        ))
    }

    #[cold]
    pub(super) fn full_stop(&mut self, span: Span) {
        self.doubts.push(Doubt::FullStop(span));
    }

    #[cold]
    pub(super) fn doubtful_dot(&mut self, span: Span) {
        self.doubts.push(Doubt::Dot(span));
    }

    /// Begins a part whose coefficient was read, if it has one.
    #[inline(always)]
    pub(super) fn begin(&mut self, coefficient: Option<(Count, Place)>) -> PartNotation {
        let packed = &mut self.formula.packed;
        let from = packed.length();
        if from > 0 {
            packed.push(Token::Dot);
        }
        if let Some((count, place)) = coefficient {
            self.formula.packed.push(Token::Coefficient(count));
            self.reach(count);
            if let Count::Unknown(_) = count {
                self.formula.origins.open(place);
            }
        }
        PartNotation {
            coefficient,
            from,
            first: self.formula.packed.length(),
            terms: 0,
            last: LastTerm::NONE,
            twenty: None,
        }
    }

    #[inline(always)]
    pub(super) fn atom(
        &mut self,
        part: &mut PartNotation,
        last: LastTerm,
        atom: Atom,
        count: Count,
        place: Place,
    ) {
        let origin = match count {
            Count::Unknown(_) => last.counted,
            Count::Known(..) => place,
        };
        self.formula.push_atom(atom, count, origin);
        self.reach(count);
        self.suspect_pair |= may_be_a_metal(part.last, last);
        if count == Count::Known(20, 1) {
            part.twenty = Some(last.counted);
        }
        part.terms += 1;
        part.last = last;
    }

    pub(super) fn close(
        &mut self,
        part: &mut PartNotation,
        last: LastTerm,
        bracket: Bracket,
        count: Count,
    ) {
        self.formula.packed.push(Token::Close(bracket, count));
        self.reach(count);
        if let Count::Unknown(_) = count {
            self.formula.origins.open(last.counted);
        }
        part.terms += 1;
        part.last = last;
    }

    /// Keeps the bound of the atoms in step.
    #[inline(always)]
    fn reach(&mut self, count: Count) {
        match count {
            Count::Known(1, 1) | Count::Unknown(_) => {}
            Count::Known(numerator, denominator) => {
                let more = u64::from(numerator).saturating_mul(denominator.into());
                self.reach = self.reach.saturating_mul(more);
            }
        }
    }

    /// Settles what a part leaves open once it is read to its end.
    #[inline(always)]
    pub(super) fn settle(
        &mut self,
        part: &PartNotation,
        charge: Option<ChargeNotation>,
        place: Place,
    ) -> Result<(), Error> {
        let mut size = 0;
        if let Some(charge) = charge {
            size = self.charge(part, charge, place)?;
        }
        if self.may_say_more(part, size) {
            self.look_closer(part, size, place)
        } else {
            self.formula.packed.push(Token::Charge(size));
            Ok(())
        }
    }

    /// Whether a part may be water spelt otherwise or with a zero, be in brackets as a whole, or
    /// have water in brackets at its end.
    #[inline(always)]
    fn may_say_more(&self, part: &PartNotation, charge: i32) -> bool {
        let packed = &self.formula.packed;
        if part.last.sign == Sign::Close(Bracket::Round) {
            let inside = packed.between(part.last.opened + 1, part.last.at);
            return part.last.opened == part.first || may_be_water(inside);
        }
        if part.terms > 3 || charge != 0 {
            return false;
        }
        let whole = packed.between(part.first, packed.length());
        part.twenty.is_some() || (may_be_water(whole) && whole != WATER)
    }

    /// The charge of a part; where its size stood as the last count, that is taken away.
    fn charge(
        &mut self,
        part: &PartNotation,
        charge: ChargeNotation,
        place: Place,
    ) -> Result<i32, Error> {
        let ChargeNotation::Bare {
            negative,
            signs,
            digits_after,
            place: written,
        } = charge
        else {
            let ChargeNotation::Marked(charge) = charge else {
                return Ok(0);
            };
            return Ok(charge);
        };
        let tokens: SmallVec<[Token; 40]> = self.formula.packed.tokens_from(part.first).collect();
        let bare = Bare {
            text: self.text,
            part: place.span(),
            last: part.last,
            one_unit: part.last.opened == part.first,
            tokens: &tokens,
            negative,
            signs,
            digits_after,
            span: written.span(),
        };
        let (size, is_count) = bare.size()?;
        if !is_count {
            self.formula.packed.truncate(part.last.at);
            self.formula.packed.push(match part.last.sign {
                Sign::Atom(atom) => Token::Atom(atom, Count::ONE),
                Sign::Close(bracket) => Token::Close(bracket, Count::ONE),
                Sign::Open(bracket) => Token::Open(bracket),
            });
        }
        Ok(if negative { -size } else { size })
    }

    /// Takes off brackets that say nothing more, sets water in brackets at the end apart, and
    /// spells water as it is mostly spelt.
    fn look_closer(&mut self, part: &PartNotation, charge: i32, place: Place) -> Result<(), Error> {
        let tokens: SmallVec<[Token; 40]> = self.formula.packed.tokens_from(part.first).collect();
        let unit = Unit {
            coefficient: part.coefficient.map_or(Count::ONE, |(count, _)| count),
            terms: &tokens,
            charge,
        };
        let mut waters = SmallVec::<[Count; 4]>::new();
        let mut rest = unwrap(unit, place.span())?;
        while let Some((before, water)) = split_final_water(rest) {
            waters.push(water);
            rest = unwrap(before, place.span())?;
        }
        if let (Some(twenty), true) = (part.twenty, rest.is_twenty_hydrogens()) {
            self.suspect_zero(twenty);
        }
        if waters.is_empty() && rest.terms.len() == tokens.len() && !rest.is_respelt_water() {
            self.formula.packed.push(Token::Charge(charge));
            return Ok(());
        }
        self.formula.packed.truncate(part.from);
        self.formula.push_part(rest.coefficient, Place::NOWHERE);
        if rest.is_water() {
            self.formula.push_water();
        } else {
            rest.terms
                .iter()
                .for_each(|token| self.formula.packed.push(*token));
        }
        self.formula.packed.push(Token::Charge(charge));
        for count in waters.into_iter().rev() {
            self.doubts.push(Doubt::Water(count));
            self.formula.push_part(count, Place::NOWHERE);
            self.formula.push_water();
        }
        Ok(())
    }

    /// `7H20`: twenty hydrogens alone are nearly always water with a zero for the letter O.
    #[cold]
    fn suspect_zero(&mut self, counted: Place) {
        let span = counted.span();
        // Lowered digits are no typing error.
        if self
            .text
            .get(span.start..)
            .is_some_and(|text| text.starts_with("20"))
        {
            self.doubts
                .push(Doubt::Zero(Place::new(span.start + 1, span.start + 2)));
        }
    }
}

/// H2O, and what begins as OH2 and HOH, in the formula's bytes.
const WATER: [u8; 3] = [0x81, 2 << 2, 8];

/// Bytes that are not in line, of which none are given, may be anything.
#[inline(always)]
fn may_be_water(bytes: &[u8]) -> bool {
    matches!(bytes, [] | [1 | 8, ..]) || *bytes == WATER
}

/// Whether two neighbouring symbols of one letter, the first without a count, may be a metal (or
/// silicon) typed in capitals: C, N, S, P, B, Y before U, I, N, B.
#[inline(always)]
fn may_be_a_metal(first: LastTerm, second: LastTerm) -> bool {
    let (Sign::Atom(a), Sign::Atom(b)) = (first.sign, second.sign) else {
        return false;
    };
    matches!(b.element().number(), 5 | 7 | 53 | 92)
        && matches!(a.element().number(), 5 | 6 | 7 | 15 | 16 | 39)
        && first.counted == Place::NOWHERE
}

fn is_electron(text: &str) -> bool {
    // Nearly every formula begins with a capital letter.
    if text.as_bytes().first().is_some_and(u8::is_ascii_uppercase) {
        return false;
    }
    let text = text.trim_matches(is_space);
    let Some(sign) = text.strip_prefix('e') else {
        return false;
    };
    let raised = sign.strip_prefix('^');
    let braced = raised.and_then(|sign| sign.strip_prefix('{')?.strip_suffix('}'));
    let mut sign = braced.or(raised).unwrap_or(sign).chars();
    sign.next().is_some_and(|c| is_minus(c) || c == '\u{207B}') && sign.next().is_none()
}

/// A part once brackets that say nothing more are taken off.
#[derive(Clone, Copy)]
struct Unit<'n> {
    coefficient: Count,
    terms: &'n [Token],
    charge: i32,
}

impl Reading<'_> {
    /// The note of each doubt, in the order of the text.
    pub(super) fn notes(&self) -> alloc::vec::Vec<Note> {
        let notes = self.doubts.iter().filter_map(|doubt| self.note(*doubt));
        notes.collect()
    }

    /// What the strict reader refuses first.
    #[inline(always)]
    pub(super) fn refusal(&self) -> Option<Error> {
        if self.doubts.is_empty() {
            return None;
        }
        self.doubts.iter().find_map(|doubt| self.refused(*doubt))
    }
}

impl<'n> Unit<'n> {
    fn is_water(&self) -> bool {
        self.charge == 0 && is_water(self.terms)
    }

    /// OH2 and HOH are other spellings of it.
    fn is_respelt_water(&self) -> bool {
        let spelt = matches!(self.terms, [Token::Atom(_, Count::Known(2, 1)), _]);
        self.is_water() && !spelt
    }

    fn is_twenty_hydrogens(&self) -> bool {
        let hydrogen = Atom::natural(Element::HYDROGEN);
        self.charge == 0 && *self.terms == [Token::Atom(hydrogen, Count::Known(20, 1))]
    }

    /// The group in round brackets at the end: what stands before it, its terms, and its count.
    fn final_group(&self) -> Option<(&'n [Token], &'n [Token], Count)> {
        let (last, before) = self.terms.split_last()?;
        let Token::Close(Bracket::Round, count) = last else {
            return None;
        };
        let mut depth = 0_usize;
        for (index, token) in before.iter().enumerate().rev() {
            match token {
                Token::Close(..) => depth += 1,
                Token::Open(_) if depth == 0 => {
                    let (before, group) = before.split_at_checked(index)?;
                    return Some((before, group.get(1..)?, *count));
                }
                Token::Open(_) => depth -= 1,
                _ => {}
            }
        }
        None
    }
}

fn is_water(terms: &[Token]) -> bool {
    let atoms = terms.iter().map(|token| match token {
        Token::Atom(atom, count) => Some((*atom, *count)),
        _ => None,
    });
    terms.len() <= 3 && super::is_water(atoms)
}

/// `5(H2O)` and `(H2O)5` count what stands in the brackets, which say nothing more; with a charge
/// behind them they hold together what bears it.
fn unwrap(mut unit: Unit<'_>, span: Span) -> Result<Unit<'_>, Error> {
    while let Some(([], inside, count)) = unit.final_group() {
        if unit.charge != 0 && !count.is_one() {
            break;
        }
        let Some(product) = product(unit.coefficient, count, span)? else {
            break;
        };
        unit.coefficient = product;
        unit.terms = inside;
    }
    Ok(unit)
}

/// One count for two; `None` where one of them is open and the other more than one.
fn product(a: Count, b: Count, span: Span) -> Result<Option<Count>, Error> {
    match (a, b) {
        (known, Count::ONE) => Ok(Some(known)),
        (Count::ONE, other) => Ok(Some(other)),
        (Count::Known(..), Count::Known(..)) => a
            .ratio()
            .zip(b.ratio())
            .and_then(|(a, b)| Count::from_ratio(&(&a * &b)))
            .map(Some)
            .ok_or_else(|| Error::too_large(span, "the number of formula units", "9 digits")),
        _ => Ok(None),
    }
}

/// `CuSO4(H2O)5`: water in round brackets at the end of a part is water of crystallization.
fn split_final_water(unit: Unit<'_>) -> Option<(Unit<'_>, Count)> {
    // With a count of its own, or with a charge, the part is a unit that holds its water.
    if unit.coefficient != Count::ONE || unit.charge != 0 {
        return None;
    }
    let (before, inside, count) = unit.final_group()?;
    if before.is_empty() || !is_water(inside) {
        return None;
    }
    let rest = Unit {
        terms: before,
        ..unit
    };
    Some((rest, count))
}

// --- charges on the line -----------------------------------------------------------------

/// As much as three digits behind a caret say.
const MOST_CHARGE: i32 = 999;

/// A charge whose sign stands on the line.
struct Bare<'t> {
    text: &'t str,
    part: Span,
    last: LastTerm,
    /// Whether the last bracket closes a group that is the whole part.
    one_unit: bool,
    tokens: &'t [Token],
    negative: bool,
    signs: u32,
    digits_after: Option<u32>,
    span: Span,
}

impl Bare<'_> {
    /// The size of the charge, if it has one honest reading, and whether the digits before the sign
    /// remain a count; else an error that names both readings.
    fn size(&self) -> Result<(i32, bool), Error> {
        let last = self.last;
        let written = last.counted.somewhere();
        let closes = matches!(last.sign, Sign::Close(_));
        let ambiguous = |from: usize| {
            let doubtful = Span::new(from, self.span.end);
            Err(two_readings(self.text, self.part, doubtful, self.span))
        };
        if let Some(size) = self.digits_after {
            // `]-2`: nothing but a charge can begin with a sign behind a bracket.
            return match i32::try_from(size) {
                Ok(size) if closes && written.is_none() && self.signs == 1 && size > 0 => {
                    Ok((size, true))
                }
                _ => ambiguous(self.span.start),
            };
        }
        if self.signs > 1 {
            let size = i32::try_from(self.signs).ok();
            let size = size.filter(|size| *size <= MOST_CHARGE);
            let size = size.ok_or_else(|| Error::too_large(self.span, "the charge", MOST_CHARGE));
            return Ok((size?, true));
        }
        let Some(written) = written.filter(|_| last.plain_digits) else {
            return Ok((1, true));
        };
        let single = self.tokens.len() == 1;
        let square = last.sign == Sign::Close(Bracket::Square);
        let metal = |token: Option<&Token>| matches!(token, Some(Token::Atom(a, _)) if a.element().is_metal());
        let digit = small_digit(
            self.text
                .get(written.start..written.end)
                .unwrap_or_default(),
        );
        let as_charge = if closes {
            square || self.one_unit
        } else {
            single && metal(self.tokens.first()) && !self.negative
        };
        // VO2+ is VO2^+ or VO^2+.
        let oxygen =
            |token: &Token| matches!(token, Token::Atom(a, _) if a.element() == Element::OXYGEN);
        let oxo_cation = !self.negative
            && metal(self.tokens.first())
            && matches!(self.tokens, [_, second] if oxygen(second));
        match digit {
            Some(size) if as_charge => Ok((size, false)),
            Some(_) if !closes && !single && !oxo_cation => Ok((1, true)),
            _ => ambiguous(written.start),
        }
    }
}

fn small_digit(digits: &str) -> Option<i32> {
    let mut chars = digits.chars();
    match (chars.next().and_then(crate::text::digit), chars.next()) {
        (Some(digit), None) => Some(i32::from(digit)),
        _ => None,
    }
}

/// `SO42-` is SO4^2- or SO42^-.
#[cold]
fn two_readings(text: &str, part: Span, doubtful: Span, signs: Span) -> Error {
    let between = |from: usize, to: usize| text.get(from..to).unwrap_or_default();
    let digits = between(doubtful.start, signs.start.max(doubtful.start));
    let before = between(part.start, doubtful.start);
    let written = between(signs.start, signs.end);
    let sign = if written.starts_with(is_minus) {
        '-'
    } else {
        '+'
    };
    let after: String = written
        .chars()
        .filter(|c| !is_minus(*c) && *c != '+')
        .collect();
    let (first, second) = if after.is_empty() {
        let (kept, last) =
            digits.split_at(digits.char_indices().next_back().map_or(0, |(at, _)| at));
        let as_charge = if last == "1" {
            String::new()
        } else {
            last.into()
        };
        (
            format!("{before}{kept}^{as_charge}{sign}"),
            format!("{before}{digits}^{sign}"),
        )
    } else {
        (
            format!("{before}{digits}^{after}{sign}"),
            format!("{before}{digits}^{sign} and {after} more"),
        )
    };
    Error::say(
        ErrorKind::AmbiguousNotation,
        doubtful,
        format!(
            "`{}` can be read as {first} or as {second}",
            between(part.start, part.end)
        ),
        format!("write the charge after a caret: `{first}`"),
    )
}

// --- doubts ------------------------------------------------------------------------------

impl Reading<'_> {
    #[cold]
    fn note(&self, doubt: Doubt) -> Option<Note> {
        Some(match doubt {
            Doubt::Dot(dot) => {
                let start = dot.start;
                Note::new(
                    "ambiguous_dot",
                    format!(
                        "The full stop at byte {start} was taken as an adduct dot; it could also be a decimal point."
                    ),
                )
                .with("at", format!("{start}"))
            }
            Doubt::Water(count) => {
                let count = match count.ratio() {
                    Some(count) => format!("{count}"),
                    None => "x".into(),
                };
                Note::new(
                    "bracketed_water",
                    format!(
                        "The water in brackets at the end was read as {count} H2O of crystallization."
                    ),
                )
                .with("waters", count)
            }
            Doubt::Zero(_) => Note::new(
                "suspect_zero",
                "`H20` was read as twenty hydrogens; perhaps water was meant, with the letter O.",
            )
            .with("read", "H20")
            .with("perhaps", "H2O"),
            Doubt::Case => {
                let (_, capitals, symbol) = suspect_pair(self.text)?;
                Note::new(
                    "suspect_case",
                    format!("`{capitals}` was read as two elements; perhaps {symbol} was meant."),
                )
                .with("read", capitals)
                .with("perhaps", symbol)
            }
            Doubt::Slip(slip) => slip.note(self.text),
            Doubt::FullStop(_) => Note::new("full_stop", "The full stop at the end was left out."),
        })
    }

    #[cold]
    fn refused(&self, doubt: Doubt) -> Option<Error> {
        let text = self.text;
        let between = |from: usize, to: usize| text.get(from..to).unwrap_or_default();
        Some(match doubt {
            Doubt::Water(_) => return None,
            Doubt::Dot(dot) => Error::say(
                ErrorKind::AmbiguousNotation,
                dot,
                "this full stop can be an adduct dot or a decimal point",
                format!(
                    "write an adduct dot: `{}·{}`",
                    between(0, dot.start),
                    between(dot.end, text.len())
                ),
            ),
            Doubt::Zero(zero) => {
                let zero = zero.span();
                let mended = format!(
                    "{}O{}",
                    between(0, zero.start),
                    between(zero.end, text.len())
                );
                Error::say(
                    ErrorKind::AmbiguousNotation,
                    zero,
                    "`H20` would be twenty hydrogens; it looks like water with a zero for the letter O",
                    format!("write `{}`", mended.trim()),
                )
            }
            Doubt::Case => {
                let (at, capitals, symbol) = suspect_pair(text)?;
                let mended = text.replacen(capitals, symbol, 1);
                Error::say(
                    ErrorKind::AmbiguousNotation,
                    Span::new(at, at + 2),
                    format!(
                        "`{capitals}` would be two elements; it looks like {symbol} typed in capitals"
                    ),
                    format!("write `{}`", mended.trim()),
                )
            }
            Doubt::Slip(slip) => slip.refused(text),
            Doubt::FullStop(stop) => {
                Error::bad(stop, "a full stop after the formula", "take it out")
            }
        })
    }
}

/// Pairs of capitals that are nearly always a metal (or silicon) typed without small letters,
/// where more elements follow.
const SUSPECTS: [(&str, &str); 10] = [
    ("CU", "Cu"),
    ("NI", "Ni"),
    ("SN", "Sn"),
    ("SB", "Sb"),
    ("SI", "Si"),
    ("PB", "Pb"),
    ("BI", "Bi"),
    ("NB", "Nb"),
    ("PU", "Pu"),
    ("YB", "Yb"),
];

/// Where two capitals in a text without small letters spell a suspect, which, and what for.
fn suspect_pair(text: &str) -> Option<(usize, &'static str, &'static str)> {
    if text.chars().any(|c| c.is_ascii_lowercase()) {
        return None;
    }
    SUSPECTS.iter().find_map(|(capitals, symbol)| {
        let (before, behind) = text.split_once(capitals)?;
        let at = before.len();
        let begins = !before.ends_with(|c: char| c.is_ascii_uppercase());
        let more = behind.chars().any(|c| c.is_ascii_uppercase());
        (begins && more).then_some((at, *capitals, *symbol))
    })
}

/// Writes what would look like a slip so that it does not: a one between two elements that would
/// look like a metal in capitals (`C1UO2`), a count lowered.
pub(super) fn part_suspects(canonical: &mut String) {
    while let Some((at, ..)) = suspect_pair(canonical) {
        canonical.insert(at + 1, '1');
    }
    suspect::settle(canonical);
}

/// More atoms of one kind than this are refused, and so are finer fractions.
const MOST_ATOMS: u64 = 1_000_000_000_000;

/// No short text has more terms, which may all be of one kind.
const MOST_TERMS: u64 = SURELY_SHORT as u64;

/// A text of at most so many bytes has a canonical one that is short enough: no sign of a text grows
/// more than fourfold when it is written back (T to [3H]).
const SURELY_SHORT: usize = parse::MOST_CANONICAL / 4;

impl Formula {
    /// No kind of atom is counted beyond [`MOST_ATOMS`], nor more finely, and the canonical text is
    /// not too long.
    #[cold]
    pub(super) fn check_size(&self, span: Span) -> Result<(), Error> {
        if self.longest_text() > parse::MOST_CANONICAL && self.plain().len() > parse::MOST_CANONICAL
        {
            let limit = format!("{} bytes", parse::MOST_CANONICAL);
            return Err(Error::too_large(span, "the formula", limit));
        }
        // What is left open cannot make more atoms than are counted.
        let tally = self.tally(Some(Count::ONE));
        let few = tally.is_ok_and(|tally| {
            let most = |(_, count): &(Atom, u64)| count / tally.denominator <= MOST_ATOMS;
            tally.denominator <= MOST_ATOMS && tally.counts.iter().all(most)
        });
        if few {
            return Ok(());
        }
        Err(Error::too_large(
            span,
            "the number of atoms of one kind",
            MOST_ATOMS,
        ))
    }

    /// A bound from above of the length of the canonical text.
    fn longest_text(&self) -> usize {
        let lengths = self.packed.tokens().map(|token| {
            let (sign, count) = match token {
                // `[293Og]`
                Token::Atom(atom, count) if atom.mass_number().is_some() => (7, count),
                Token::Atom(_, count) => (2, count),
                Token::Close(_, count) | Token::Coefficient(count) => (1, count),
                Token::Dot | Token::Open(_) | Token::Charge(_) => (12, Count::ONE),
            };
            sign + match count {
                Count::Known(1, 1) => 0,
                Count::Known(n, 1) => 4 + n.ilog10() as usize,
                Count::Known(..) | Count::Unknown(_) => 23,
            }
        });
        lengths.sum()
    }
}
