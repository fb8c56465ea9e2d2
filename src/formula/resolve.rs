//! Notation to [`Formula`]: settles what the text leaves open, or names both readings.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::error::{Error, ErrorKind};
use super::notation::{Bracket, ChargeNotation, Notation, PartNotation, Sign, TermNotation};
use super::{Count, Formula, Part, Place, Term, is_water, parse};
use crate::element::{Atom, Element};
use crate::text::{Note, Span, is_minus, is_space};

/// A formula and what is doubtful about the reading.
pub(super) struct Doubts {
    pub(super) formula: Formula,
    pub(super) notes: Vec<Doubt>,
}

/// A note for the lenient reader, and the error that the strict one makes of it.
pub(super) struct Doubt {
    pub(super) note: Note,
    pub(super) refusal: Option<Error>,
}

/// More atoms of one kind than this are refused, and so are finer fractions.
const MOST_ATOMS: u64 = 1_000_000_000_000;

pub(super) fn read(text: &str) -> Result<Doubts, Error> {
    if is_electron(text) {
        return Ok(Doubts {
            formula: Formula::electron(Place(Some(Span::new(0, text.len())))),
            notes: Vec::new(),
        });
    }
    resolve(text, parse::notation(text)?)
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

fn resolve(text: &str, notation: Notation) -> Result<Doubts, Error> {
    let mut doubts = Doubts {
        formula: Formula {
            parts: Vec::with_capacity(notation.parts.len()),
            state: notation.state,
        },
        notes: Vec::new(),
    };
    for part in notation.parts {
        if let Some(dot) = part.doubtful_dot {
            doubts.notes.push(doubtful_dot(text, dot));
        }
        let resolved = resolve_part(text, part)?;
        if let Some(first) = resolved.first() {
            doubts.notes.extend(suspect_zero(text, first));
        }
        doubts
            .notes
            .extend(resolved.iter().skip(1).map(bracketed_water));
        doubts.formula.parts.extend(resolved);
    }
    doubts.notes.extend(suspect_case(text));
    doubts.notes.extend(notation.full_stop.map(full_stop));
    doubts.formula.check_size(Span::new(0, text.len()))?;
    Ok(doubts)
}

fn resolve_part(text: &str, mut part: PartNotation) -> Result<Vec<Part>, Error> {
    let charge = match part.charge.take() {
        None => 0,
        Some(ChargeNotation::Marked(charge)) => charge,
        Some(ChargeNotation::Bare {
            negative,
            signs,
            digits_after,
            span,
        }) => {
            let size = bare_charge(text, &mut part, negative, signs, digits_after, span)?;
            if negative { -size } else { size }
        }
    };
    let coefficient = part.coefficient.map_or(Count::ONE, |(count, _)| count);
    let place = Place(part.coefficient.map(|(_, span)| span).or(Some(part.span)));
    let whole = Part {
        coefficient,
        terms: part.terms.iter().map(term).collect(),
        charge,
        place,
    };
    normalise(whole, part.span)
}

/// What is left to say once brackets that say nothing more are taken off and water in brackets
/// at the end is set apart: the part, and the water behind it, in order.
fn normalise(part: Part, span: Span) -> Result<Vec<Part>, Error> {
    let mut waters = Vec::new();
    let mut rest = unwrap(part, span)?;
    while let Some(water) = split_final_water(&mut rest) {
        waters.push(unwrap(water, span)?);
        rest = unwrap(rest, span)?;
    }
    let mut parts = alloc::vec![rest];
    parts.extend(waters.into_iter().rev());
    Ok(parts)
}

/// `5(H2O)` and `(H2O)5` count what stands in the brackets, which say nothing more; with a charge
/// behind them they hold together what bears it.
fn unwrap(mut part: Part, span: Span) -> Result<Part, Error> {
    while let Some((count, counted)) = enclosing_round(&part.terms) {
        if part.charge != 0 && !count.is_one() {
            break;
        }
        let Some(product) = product(part.coefficient, count, span)? else {
            break;
        };
        if let Count::Unknown(_) = count {
            part.place = counted;
        }
        part.coefficient = product;
        part.terms.pop();
        part.terms.remove(0);
    }
    if part.is_water() {
        // OH2 and HOH are other spellings of it.
        part.terms = Part::water(Count::ONE).terms;
    }
    Ok(part)
}

fn term(notation: &TermNotation) -> Term {
    let count = notation
        .count
        .as_ref()
        .map_or(Count::ONE, |written| written.count);
    let place = Place(Some(match (&notation.count, count) {
        (Some(written), Count::Unknown(_)) => written.span,
        _ => notation.span,
    }));
    match notation.sign {
        Sign::Atom(atom) => Term::Atom(atom, count, place),
        Sign::Open(bracket) => Term::Open(bracket),
        Sign::Close(bracket) => Term::Close(bracket, count, place),
    }
}

/// The count of the round brackets that hold all of the terms, if one pair does.
fn enclosing_round(terms: &[Term]) -> Option<(Count, Place)> {
    let Some(Term::Close(Bracket::Round, count, place)) = terms.last() else {
        return None;
    };
    (matching_open(terms)? == 0).then_some((*count, *place))
}

/// The place of the bracket that the last term closes.
fn matching_open(terms: &[Term]) -> Option<usize> {
    let mut depth = 0_usize;
    for (index, term) in terms.iter().enumerate().rev() {
        match term {
            Term::Close(..) => depth += 1,
            Term::Open(_) => depth = depth.checked_sub(1)?,
            Term::Atom(..) => {}
        }
        if depth == 0 {
            return Some(index);
        }
    }
    None
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
fn split_final_water(part: &mut Part) -> Option<Part> {
    let Some(Term::Close(Bracket::Round, count, place)) = part.terms.last() else {
        return None;
    };
    let (count, place) = (*count, *place);
    let open = matching_open(&part.terms).filter(|open| *open > 0)?;
    let inside = part.terms.get(open + 1..part.terms.len() - 1)?;
    // With a count of its own, or with a charge, the part is a unit that holds its water.
    if part.coefficient != Count::ONE || part.charge != 0 || !is_water(inside) {
        return None;
    }
    part.terms.truncate(open);
    Some(Part {
        place,
        ..Part::water(count)
    })
}

// --- charges on the line -----------------------------------------------------------------

/// The size of a charge whose sign stands on the line, if it has one honest
/// reading; else an error that names both.
fn bare_charge(
    text: &str,
    part: &mut PartNotation,
    negative: bool,
    signs: u32,
    digits_after: Option<u32>,
    span: Span,
) -> Result<i32, Error> {
    let one_unit = part.terms.len() > 1 && encloses_all(&part.terms);
    let atoms = part
        .terms
        .iter()
        .filter(|t| matches!(t.sign, Sign::Atom(_)))
        .count();
    let single = part.terms.len() == 1;
    let oxo_cation =
        !negative && atoms == 2 && part.terms.len() == 2 && is_metal_then_oxygen(&part.terms);
    let metal = matches!(part.terms.first().map(|t| t.sign), Some(Sign::Atom(atom)) if atom.element().is_metal());
    let Some(last) = part.terms.last_mut() else {
        return Ok(1);
    };
    let digits = match &last.count {
        Some(written) if written.plain_digits => Some(&text[written.span.start..written.span.end]),
        _ => None,
    };
    if let Some(size) = digits_after {
        // `]-2`: nothing but a charge can begin with a sign behind a bracket.
        let behind_bracket = last.sign.is_close() && last.count.is_none();
        return match i32::try_from(size) {
            Ok(size) if behind_bracket && signs == 1 && size > 0 => Ok(size),
            _ => Err(two_readings(text, part.span, span, span)),
        };
    }
    if signs > 1 {
        return Ok(i32::try_from(signs).unwrap_or(i32::MAX));
    }
    let Some(digits) = digits else {
        return Ok(1);
    };
    let digit = small_digit(digits);
    let square = matches!(last.sign, Sign::Close(Bracket::Square));
    let as_charge = digit.filter(|_| {
        if last.sign.is_close() {
            square || one_unit
        } else {
            single && metal && !negative
        }
    });
    let as_count = digit.is_some() && !last.sign.is_close() && !single && !oxo_cation;
    let from = last
        .count
        .as_ref()
        .map_or(span.start, |written| written.span.start);
    if let Some(size) = as_charge {
        last.count = None;
        Ok(size)
    } else if as_count {
        Ok(1)
    } else {
        Err(two_readings(
            text,
            part.span,
            Span::new(from, span.end),
            span,
        ))
    }
}

fn small_digit(digits: &str) -> Option<i32> {
    let mut chars = digits.chars();
    match (chars.next().and_then(crate::text::digit), chars.next()) {
        (Some(digit), None) => Some(i32::from(digit)),
        _ => None,
    }
}

fn encloses_all(terms: &[TermNotation]) -> bool {
    let terms: Vec<Term> = terms.iter().map(term).collect();
    matches!(terms.last(), Some(Term::Close(..))) && matching_open(&terms) == Some(0)
}

fn is_metal_then_oxygen(terms: &[TermNotation]) -> bool {
    let element = |index: usize| match terms.get(index).map(|t| t.sign) {
        Some(Sign::Atom(atom)) => Some(atom.element()),
        _ => None,
    };
    element(0).is_some_and(crate::Element::is_metal) && element(1) == Some(crate::Element::OXYGEN)
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

// --- notes -------------------------------------------------------------------------------

fn doubtful_dot(text: &str, dot: Span) -> Doubt {
    Doubt {
        note: Note::new(
            "ambiguous_dot",
            format!(
                "The full stop at byte {} was taken as an adduct dot; it could also be a decimal point.",
                dot.start
            ),
        )
        .with("at", format!("{}", dot.start)),
        refusal: Some(Error::say(
            ErrorKind::AmbiguousNotation,
            dot,
            "this full stop can be an adduct dot or a decimal point",
            format!("write an adduct dot: `{}·{}`", &text[..dot.start], &text[dot.end..]),
        )),
    }
}

fn bracketed_water(water: &Part) -> Doubt {
    let count = match water.coefficient.ratio() {
        Some(count) => format!("{count}"),
        None => "x".into(),
    };
    Doubt {
        note: Note::new(
            "bracketed_water",
            format!("The water in brackets at the end was read as {count} H2O of crystallization."),
        )
        .with("waters", count),
        refusal: None,
    }
}

fn full_stop(span: Span) -> Doubt {
    Doubt {
        note: Note::new("full_stop", "The full stop at the end was left out."),
        refusal: Some(Error::bad(
            span,
            "a full stop after the formula",
            "take it out",
        )),
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

fn suspect_case(text: &str) -> Option<Doubt> {
    let (at, capitals, symbol) = suspect_pair(text)?;
    let mended = text.replacen(capitals, symbol, 1);
    Some(Doubt {
        note: Note::new(
            "suspect_case",
            format!("`{capitals}` was read as two elements; perhaps {symbol} was meant."),
        )
        .with("read", capitals)
        .with("perhaps", symbol),
        refusal: Some(Error::say(
            ErrorKind::AmbiguousNotation,
            Span::new(at, at + 2),
            format!("`{capitals}` would be two elements; it looks like {symbol} typed in capitals"),
            format!("write `{}`", mended.trim()),
        )),
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

/// Puts a one between two elements that would look like a metal in capitals: `C1UO2`.
pub(super) fn part_suspects(canonical: &mut String) {
    while let Some((at, ..)) = suspect_pair(canonical) {
        canonical.insert(at + 1, '1');
    }
}

/// `7H20`: twenty hydrogens alone are nearly always water with a zero for the letter O.
fn suspect_zero(text: &str, part: &Part) -> Option<Doubt> {
    let [Term::Atom(atom, Count::Known(20, 1), Place(Some(place)))] = part.terms.as_slice() else {
        return None;
    };
    if *atom != Atom::natural(Element::HYDROGEN) || part.charge != 0 {
        return None;
    }
    // Lowered digits are no typing error.
    let behind = &text[place.end..];
    let zero = place.end + behind.starts_with("20").then_some(1)?;
    let mended = format!("{}O{}", &text[..zero], &text[zero + 1..]);
    Some(Doubt {
        note: Note::new(
            "suspect_zero",
            "`H20` was read as twenty hydrogens; perhaps water was meant, with the letter O.",
        )
        .with("read", "H20")
        .with("perhaps", "H2O"),
        refusal: Some(Error::say(
            ErrorKind::AmbiguousNotation,
            Span::new(zero, zero + 1),
            "`H20` would be twenty hydrogens; it looks like water with a zero for the letter O",
            format!("write `{}`", mended.trim()),
        )),
    })
}

impl Formula {
    /// No kind of atom is counted beyond [`MOST_ATOMS`], nor more finely.
    fn check_size(&self, span: Span) -> Result<(), Error> {
        let limit = crate::Ratio::from(MOST_ATOMS);
        // No sign of a text grows more than fourfold when it is written back (T to [3H]).
        let canonical = if span.end > parse::MOST_CANONICAL / 4 {
            self.plain().len()
        } else {
            0
        };
        if canonical > parse::MOST_CANONICAL {
            let limit = format!("{} bytes", parse::MOST_CANONICAL);
            return Err(Error::too_large(span, "the formula", limit));
        }
        for (_, count) in self.known_counts() {
            let fine = count
                .to_parts()
                .is_some_and(|(_, d)| d <= i128::from(MOST_ATOMS));
            if count > limit || !fine {
                return Err(Error::too_large(
                    span,
                    "the number of atoms of one kind",
                    MOST_ATOMS,
                ));
            }
        }
        Ok(())
    }
}
