//! Notation to [`Formula`]: settles what the text leaves open, or names both readings.

use smallvec::SmallVec;

use super::charge::Bare;
use super::doubt::{Doubt, suspect_pair};
use super::error::Error;
use super::notation::{Bracket, ChargeNotation, PartNotation, Place};
use super::packed::{self, Token};
use super::size::{MOST_ATOMS, MOST_TERMS, SURELY_SHORT};
use super::{Count, Formula, parse, suspect};
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
    /// Whether the text may hold a slip of the keyboard.
    pub(super) strange: bool,
}

impl<'t> Reading<'t> {
    #[inline]
    pub(super) fn new(text: &'t str) -> Reading<'t> {
        Reading {
            text,
            formula: Formula::new(),
            doubts: SmallVec::new(),
            reach: 1,
            small_letters: false,
            strange: false,
        }
    }

    pub(super) fn read(&mut self) -> Result<(), Error> {
        let text = self.text;
        if is_electron(text) {
            self.formula = Formula::electron();
            return Ok(());
        }
        parse::parts(text, self)?;
        if !self.small_letters && may_be_a_metal(text) && suspect_pair(text).is_some() {
            self.doubts.push(Doubt::Case);
        }
        if self.strange {
            suspect::each(text, |slip| self.doubts.push(Doubt::Slip(slip)));
        }
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
    #[inline]
    pub(super) fn begin(&mut self, coefficient: Option<(Count, Place)>) -> PartNotation {
        let packed = &mut self.formula.packed;
        let from = packed.length();
        if from > 0 {
            packed.dot();
        }
        if let Some((count, place)) = coefficient {
            packed.coefficient(count);
            self.reach(count);
            if let Count::Unknown(_) = count {
                self.formula.origins.open(place);
            }
        }
        let first = self.formula.packed.length();
        PartNotation {
            coefficient,
            from,
            first,
            last: first,
            opened: 0,
            round: None,
        }
    }

    /// Whether nothing was read of a part yet.
    pub(super) fn is_empty(&self, part: &PartNotation) -> bool {
        self.formula.packed.length() == part.first
    }

    /// Takes up an atom; `origin` is the place that an error about it would show.
    pub(super) fn atom(
        &mut self,
        part: &mut PartNotation,
        atom: Atom,
        count: Count,
        origin: Place,
    ) {
        part.last = self.formula.packed.length();
        self.formula.push_atom(atom, count, origin);
        self.reach(count);
    }

    /// Takes up a closed bracket, whose count stands at a place if it is left open.
    #[inline]
    pub(super) fn close(
        &mut self,
        part: &mut PartNotation,
        bracket: Bracket,
        count: Count,
        open: Place,
    ) {
        part.last = self.formula.packed.length();
        if bracket == Bracket::Round {
            part.round = Some(part.last);
        }
        self.formula.packed.close(part.opened, bracket, count);
        self.reach(count);
        if let Count::Unknown(_) = count {
            self.formula.origins.open(open);
        }
    }

    /// Keeps the bound of the atoms in step.
    #[inline]
    fn reach(&mut self, count: Count) {
        if let Count::Known(numerator, denominator) = count {
            let more = u64::from(numerator).saturating_mul(denominator.into());
            self.reach = self.reach.saturating_mul(more);
        }
    }

    /// Takes up a plain atom, which has a few digits for its count if that is not one.
    #[inline(always)]
    pub(super) fn plain_atom(&mut self, z: u8, count: u16) {
        self.formula.packed.word(packed::plain(z, count));
        self.reach = self.reach.saturating_mul(count.into());
    }

    /// The index of the last word, if it is a term of the part.
    #[inline]
    pub(super) fn last_word(&self, part: &PartNotation) -> u16 {
        self.formula
            .packed
            .length()
            .saturating_sub(1)
            .max(part.first)
    }

    /// Settles what a part leaves open once it is read to its end.
    #[inline]
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
            if size != 0 {
                self.formula.packed.push(Token::Charge(size));
            }
            Ok(())
        }
    }

    /// Whether a part may be water spelt otherwise or with a zero, be in brackets as a whole, or
    /// have water in brackets at its end.
    #[inline]
    fn may_say_more(&self, part: &PartNotation, charge: i32) -> bool {
        let words = self.formula.packed.words_from(part.first);
        if part.round != Some(part.last) {
            return charge == 0 && packed::is_odd(words);
        }
        let (inside, last) = (part.opened + 1 - part.first, part.last - part.first);
        let inside = words.get(usize::from(inside)..usize::from(last));
        part.opened == part.first || inside.is_some_and(packed::is_water)
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
            counted,
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
            counted,
            one_unit: part.opened == part.first,
            tokens: &tokens,
            negative,
            signs,
            digits_after,
            span: written.span(),
        };
        let (size, is_count) = bare.size()?;
        if !is_count {
            self.formula.packed.truncate(part.last);
            match tokens.last() {
                Some(Token::Atom(atom, _)) => {
                    self.formula.packed.push(Token::Atom(*atom, Count::ONE));
                }
                Some(Token::Close(bracket, _)) => {
                    self.formula.packed.push(Token::Close(*bracket, Count::ONE));
                }
                _ => {}
            }
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
        if rest.is_twenty_hydrogens() {
            self.suspect_zero(place.span());
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
    fn suspect_zero(&mut self, part: Span) {
        let text = self.text.get(part.start..part.end).unwrap_or_default();
        // Lowered digits are no typing error.
        if let Some(at) = text.find("H20") {
            let zero = part.start + at + 2;
            self.doubts.push(Doubt::Zero(Place::new(zero, zero + 1)));
        }
    }
}

/// Whether a text has two neighbouring capitals that may be a metal (or silicon) typed so: C, N, S,
/// P, B, Y before U, I, N, B.
fn may_be_a_metal(text: &str) -> bool {
    let mut pairs = text.as_bytes().windows(2);
    pairs.any(|pair| {
        matches!(
            pair,
            [
                b'B' | b'C' | b'N' | b'P' | b'S' | b'Y',
                b'B' | b'I' | b'N' | b'U'
            ]
        )
    })
}

fn is_electron(text: &str) -> bool {
    // Nearly every formula begins with another sign.
    let first = text.as_bytes().first();
    if first.is_none_or(|first| first.is_ascii_graphic() && *first != b'e') {
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
        let notes = self.doubts.iter().filter_map(|doubt| doubt.note(self.text));
        notes.collect()
    }

    /// What the strict reader refuses first.
    #[inline]
    pub(super) fn refusal(&self) -> Option<Error> {
        if self.doubts.is_empty() {
            return None;
        }
        self.doubts
            .iter()
            .find_map(|doubt| doubt.refused(self.text))
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
