//! Notation to [`Formula`]: settles what the text leaves open, or names both readings.

use alloc::format;
use alloc::string::String;

use smallvec::SmallVec;

use super::error::{Error, ErrorKind};
use super::notation::{Bracket, ChargeNotation, Notation, PartNotation, Place, Sign, TermNotation};
use super::packed::Token;
use super::suspect::{self, Suspect};
use super::{Count, Formula, parse};
use crate::element::{Atom, Element};
use crate::text::{Note, Span, is_minus, is_space};

/// A formula and what is doubtful about the reading.
pub(super) struct Reading<'t> {
    text: &'t str,
    pub(super) formula: Formula,
    doubts: SmallVec<[Doubt; 2]>,
}

/// What the lenient reader notes, and the strict one may refuse.
#[derive(Debug, Clone, Copy)]
enum Doubt {
    /// A full stop that may be an adduct dot or a decimal point.
    Dot(Place),
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

pub(super) fn read(text: &str) -> Result<Reading<'_>, Error> {
    let mut reading = Reading {
        text,
        formula: Formula::new(),
        doubts: SmallVec::new(),
    };
    if is_electron(text) {
        reading.formula = Formula::electron();
        return Ok(reading);
    }
    let mut notation = Notation::default();
    parse::notation(text, &mut notation)?;
    reading.resolve(&notation)?;
    Ok(reading)
}

fn is_electron(text: &str) -> bool {
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
    counted: Place,
    terms: &'n [TermNotation],
    charge: i32,
}

impl Reading<'_> {
    /// The note of each doubt, in the order of the text.
    pub(super) fn notes(&self) -> alloc::vec::Vec<Note> {
        let notes = self.doubts.iter().filter_map(|doubt| self.note(*doubt));
        notes.collect()
    }

    /// What the strict reader refuses first.
    pub(super) fn refusal(&self) -> Option<Error> {
        self.doubts.iter().find_map(|doubt| self.refused(*doubt))
    }

    fn resolve(&mut self, notation: &Notation) -> Result<(), Error> {
        for part in &notation.parts {
            if let Some(dot) = part.doubtful_dot {
                self.doubts.push(Doubt::Dot(dot));
            }
            self.part(notation, part)?;
        }
        if suspect_letters(notation) && suspect_pair(self.text).is_some() {
            self.doubts.push(Doubt::Case);
        }
        suspect::each(self.text, |slip| self.doubts.push(Doubt::Slip(slip)));
        if let Some(stop) = notation.full_stop {
            self.doubts.push(Doubt::FullStop(stop));
        }
        self.check_parts(notation.parts.len())?;
        self.formula.state = notation.state;
        self.formula.check_size(Span::new(0, self.text.len()))
    }

    /// Water in brackets at the end is a part of its own, which the text did not count as one.
    fn check_parts(&self, written: usize) -> Result<(), Error> {
        let waters = self.doubts.iter();
        let waters = waters.filter(|doubt| matches!(doubt, Doubt::Water(_)));
        if written + waters.count() <= parse::MOST_PARTS {
            return Ok(());
        }
        let span = Span::new(0, self.text.len());
        Err(Error::too_large(
            span,
            "the number of parts",
            parse::MOST_PARTS,
        ))
    }

    fn part(&mut self, notation: &Notation, part: &PartNotation) -> Result<(), Error> {
        let terms = notation.terms.get(part.terms.clone()).unwrap_or_default();
        let mut unit = Unit {
            coefficient: part.coefficient.map_or(Count::ONE, |(count, _)| count),
            counted: part.coefficient.map_or(part.place, |(_, place)| place),
            terms,
            charge: 0,
        };
        let mut own = SmallVec::<[TermNotation; 8]>::new();
        match part.charge {
            None => {}
            Some(ChargeNotation::Marked(charge)) => unit.charge = charge,
            Some(ChargeNotation::Bare {
                negative,
                signs,
                digits_after,
                place,
            }) => {
                let bare = Bare {
                    text: self.text,
                    part,
                    terms,
                    negative,
                    signs,
                    digits_after,
                    span: place.span(),
                };
                let (size, is_count) = bare.size()?;
                unit.charge = if negative { -size } else { size };
                if !is_count {
                    // The digits behind the last term were the charge's.
                    own.extend_from_slice(terms);
                    uncount_last(&mut own);
                    unit.terms = &own;
                }
            }
        }
        self.unit(unit, part.place)
    }

    /// Sets water in brackets at the end apart, and takes the rest up, and then the water, in order.
    fn unit(&mut self, unit: Unit<'_>, place: Place) -> Result<(), Error> {
        let span = place.span();
        let mut waters = SmallVec::<[(Count, Place); 4]>::new();
        let mut rest = unwrap(unit, span)?;
        while let Some((before, water)) = split_final_water(rest) {
            waters.push(water);
            rest = unwrap(before, span)?;
        }
        if let Some(zero) = suspect_zero(self.text, &rest) {
            self.doubts.push(Doubt::Zero(zero));
        }
        self.take(rest);
        for (count, place) in waters.into_iter().rev() {
            self.doubts.push(Doubt::Water(count));
            self.formula.push_part(count, place);
            self.formula.push_water();
        }
        Ok(())
    }

    fn take(&mut self, unit: Unit<'_>) {
        self.formula.push_part(unit.coefficient, unit.counted);
        if unit.is_water() {
            // OH2 and HOH are other spellings of it.
            self.formula.push_water();
            return;
        }
        for term in unit.terms {
            match term.sign {
                Sign::Atom(atom) => {
                    let place = match term.count {
                        Count::Unknown(_) => term.counted,
                        Count::Known(..) => term.place,
                    };
                    self.formula.push_atom(atom, term.count, place);
                }
                Sign::Open(bracket) => self.formula.packed.push(Token::Open(bracket, term.count)),
                Sign::Close(bracket) => {
                    self.formula.packed.push(Token::Close(bracket));
                    if let Count::Unknown(_) = term.count {
                        self.formula.origins.open(term.counted);
                    }
                }
            }
        }
        self.formula.packed.push(Token::Charge(unit.charge));
    }
}

/// Takes the count away from the last term, and from the bracket that it closes.
fn uncount_last(terms: &mut [TermNotation]) {
    let Some((last, before)) = terms.split_last_mut() else {
        return;
    };
    last.count = Count::ONE;
    last.counted = Place::NOWHERE;
    if let Sign::Close(_) = last.sign {
        let opened = before.len().checked_sub(usize::from(last.partner));
        if let Some(open) = opened.and_then(|at| before.get_mut(at)) {
            open.count = Count::ONE;
        }
    }
}

impl<'n> Unit<'n> {
    fn is_water(&self) -> bool {
        self.charge == 0 && is_water(self.terms)
    }

    /// The group in round brackets at the end: what stands before it, and its terms with both
    /// brackets.
    fn final_group(&self) -> Option<(&'n [TermNotation], &'n [TermNotation])> {
        let last = self.terms.last()?;
        if last.sign != Sign::Close(Bracket::Round) {
            return None;
        }
        let length = usize::from(last.partner) + 1;
        self.terms
            .split_at_checked(self.terms.len().checked_sub(length)?)
    }
}

fn is_water(terms: &[TermNotation]) -> bool {
    let atoms = terms.iter().map(|term| match term.sign {
        Sign::Atom(atom) => Some((atom, term.count)),
        Sign::Open(_) | Sign::Close(_) => None,
    });
    terms.len() <= 3 && super::is_water(atoms)
}

/// `5(H2O)` and `(H2O)5` count what stands in the brackets, which say nothing more; with a charge
/// behind them they hold together what bears it.
fn unwrap(mut unit: Unit<'_>, span: Span) -> Result<Unit<'_>, Error> {
    while let Some(([], [_, inside @ .., close])) = unit.final_group() {
        if unit.charge != 0 && !close.count.is_one() {
            break;
        }
        let Some(product) = product(unit.coefficient, close.count, span)? else {
            break;
        };
        if let Count::Unknown(_) = close.count {
            unit.counted = close.counted;
        }
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
fn split_final_water(unit: Unit<'_>) -> Option<(Unit<'_>, (Count, Place))> {
    // With a count of its own, or with a charge, the part is a unit that holds its water.
    if unit.coefficient != Count::ONE || unit.charge != 0 {
        return None;
    }
    let (before, [_, inside @ .., close]) = unit.final_group()? else {
        return None;
    };
    if before.is_empty() || !is_water(inside) {
        return None;
    }
    let rest = Unit {
        terms: before,
        ..unit
    };
    Some((rest, (close.count, close.counted)))
}

// --- charges on the line -----------------------------------------------------------------

/// A charge whose sign stands on the line.
struct Bare<'t> {
    text: &'t str,
    part: &'t PartNotation,
    terms: &'t [TermNotation],
    negative: bool,
    signs: u32,
    digits_after: Option<u32>,
    span: Span,
}

impl Bare<'_> {
    /// The size of the charge, if it has one honest reading, and whether the digits before the sign
    /// remain a count; else an error that names both readings.
    fn size(&self) -> Result<(i32, bool), Error> {
        let Some(last) = self.terms.last() else {
            return Ok((1, true));
        };
        let written = last.counted.somewhere();
        let closes = matches!(last.sign, Sign::Close(_));
        let ambiguous = |from: usize| {
            let doubtful = Span::new(from, self.span.end);
            Err(two_readings(
                self.text,
                self.part.place.span(),
                doubtful,
                self.span,
            ))
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
            return Ok((i32::try_from(self.signs).unwrap_or(i32::MAX), true));
        }
        let Some(written) = written.filter(|_| last.plain_digits) else {
            return Ok((1, true));
        };
        let single = self.terms.len() == 1;
        let one_unit = closes && usize::from(last.partner) + 1 == self.terms.len();
        let square = last.sign == Sign::Close(Bracket::Square);
        let metal = matches!(
            self.terms.first().map(|t| t.sign),
            Some(Sign::Atom(atom)) if atom.element().is_metal()
        );
        let digit = small_digit(
            self.text
                .get(written.start..written.end)
                .unwrap_or_default(),
        );
        let as_charge = if closes {
            square || one_unit
        } else {
            single && metal && !self.negative
        };
        let oxo_cation = !self.negative && is_metal_then_oxygen(self.terms);
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

fn is_metal_then_oxygen(terms: &[TermNotation]) -> bool {
    let element = |term: &TermNotation| match term.sign {
        Sign::Atom(atom) => Some(atom.element()),
        Sign::Open(_) | Sign::Close(_) => None,
    };
    let [metal, oxygen] = terms else {
        return false;
    };
    element(metal).is_some_and(Element::is_metal) && element(oxygen) == Some(Element::OXYGEN)
}

/// `SO42-` is SO4^2- or SO42^-.
#[cold]
fn two_readings(text: &str, part: Span, doubtful: Span, signs: Span) -> Error {
    let digits = &text[doubtful.start..signs.start.max(doubtful.start)];
    let before = &text[part.start..doubtful.start];
    let sign = if text[signs.start..].starts_with(is_minus) {
        '-'
    } else {
        '+'
    };
    let after: String = text[signs.start..signs.end]
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
            &text[part.start..part.end]
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
                let start = dot.span().start;
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
            Doubt::Dot(dot) => {
                let dot = dot.span();
                Error::say(
                    ErrorKind::AmbiguousNotation,
                    dot,
                    "this full stop can be an adduct dot or a decimal point",
                    format!(
                        "write an adduct dot: `{}·{}`",
                        between(0, dot.start),
                        between(dot.end, text.len())
                    ),
                )
            }
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

/// Whether two neighbouring symbols of one letter may be such a pair: a quick look that spares
/// nearly every formula the search.
fn suspect_letters(notation: &Notation) -> bool {
    let capital = |term: &TermNotation| match term.sign {
        Sign::Atom(atom) => Some(atom.element().number()),
        Sign::Open(_) | Sign::Close(_) => None,
    };
    let mut pairs = notation.terms.iter().zip(notation.terms.iter().skip(1));
    pairs.any(|(first, second)| {
        // C, N, S, P, B, Y before U, I, N, B.
        matches!(capital(first), Some(5 | 6 | 7 | 15 | 16 | 39))
            && matches!(capital(second), Some(5 | 7 | 53 | 92))
            && first.count.is_one()
    })
}

/// Where two capitals in a text without small letters spell a suspect, which, and what for.
fn suspect_pair(text: &str) -> Option<(usize, &'static str, &'static str)> {
    if text.chars().any(|c| c.is_ascii_lowercase()) {
        return None;
    }
    SUSPECTS.iter().find_map(|(capitals, symbol)| {
        let at = text.find(capitals)?;
        let begins = !text[..at].ends_with(|c: char| c.is_ascii_uppercase());
        let more = text[at + 2..].chars().any(|c| c.is_ascii_uppercase());
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

/// `7H20`: twenty hydrogens alone are nearly always water with a zero for the letter O.
fn suspect_zero(text: &str, unit: &Unit<'_>) -> Option<Place> {
    let [term] = unit.terms else {
        return None;
    };
    let hydrogen = Sign::Atom(Atom::natural(Element::HYDROGEN));
    if term.count != Count::Known(20, 1) || term.sign != hydrogen || unit.charge != 0 {
        return None;
    }
    // Lowered digits are no typing error.
    let behind = term.place.span().end;
    let zero = behind + text.get(behind..)?.starts_with("20").then_some(1)?;
    Some(Place::new(zero, zero + 1))
}

/// More atoms of one kind than this are refused, and so are finer fractions.
const MOST_ATOMS: u64 = 1_000_000_000_000;

impl Formula {
    /// No kind of atom is counted beyond [`MOST_ATOMS`], nor more finely, and the canonical text is
    /// not too long.
    fn check_size(&self, span: Span) -> Result<(), Error> {
        let (reach, length) = self.bounds();
        if length > parse::MOST_CANONICAL {
            let canonical = self.plain().len();
            if canonical > parse::MOST_CANONICAL {
                let limit = format!("{} bytes", parse::MOST_CANONICAL);
                return Err(Error::too_large(span, "the formula", limit));
            }
        }
        if reach <= MOST_ATOMS {
            return Ok(());
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

    /// Quick bounds from above: of the atoms of any kind, in whole numbers over one denominator;
    /// and of the length of the canonical text.
    fn bounds(&self) -> (u64, usize) {
        let (mut reach, mut length) = (1_u64, 0_usize);
        for token in self.packed.tokens() {
            length += 2;
            let count = match token {
                Token::Atom(atom, count) => {
                    // `[293Og]`
                    length += if atom.mass_number().is_some() { 5 } else { 0 };
                    count
                }
                Token::Open(_, count) | Token::Coefficient(count) => count,
                Token::Dot | Token::Close(_) | Token::Charge(_) => {
                    length += 10;
                    continue;
                }
            };
            if let Count::Known(numerator, denominator) = count {
                // Each term once more, for a sum of equal atoms.
                reach = reach.saturating_mul(u64::from(numerator) + 1);
                if denominator != 1 {
                    reach = reach.saturating_mul(u64::from(denominator));
                }
            }
            if !count.is_one() {
                length += 23;
            }
        }
        (reach, length)
    }
}
