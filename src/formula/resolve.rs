//! Notation to [`Formula`]: settles what the text leaves open, or names both readings.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::charge::Bare;
use super::doubt::{Doubt, may_have_suspect, suspect_pair};
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
    pub(super) formula: &'t mut Formula,
    doubts: SmallVec<[Doubt; 2]>,
    /// As many bits as the product of all counts may have.
    pub(super) bits: u32,
    /// Whether any small letter was read behind a capital: then all is surely not in capitals.
    pub(super) small_letters: bool,
    /// Whether the text may hold a slip of the keyboard.
    pub(super) strange: bool,
}

impl<'t> Reading<'t> {
    #[inline]
    pub(super) fn new(text: &'t str, formula: &'t mut Formula) -> Reading<'t> {
        Reading {
            text,
            formula,
            doubts: SmallVec::new(),
            bits: 0,
            small_letters: false,
            strange: false,
        }
    }

    /// Reads the text. Whether anything about it is doubtful.
    #[inline(always)]
    fn read(&mut self) -> Result<bool, Error> {
        let text = self.text;
        if is_electron(text) {
            *self.formula = Formula::electron();
            return Ok(false);
        }
        parse::parts(text, self)?;
        if !self.small_letters && may_have_suspect(text) && suspect_pair(text).is_some() {
            self.doubts.push(Doubt::Case);
        }
        if self.strange {
            suspect::each(text, |slip| self.doubts.push(Doubt::Slip(slip)));
        }
        let few = self.bits <= (MOST_ATOMS / MOST_TERMS).ilog2() && text.len() <= SURELY_SHORT;
        if self.doubts.is_empty() && few {
            return Ok(false);
        }
        self.look_over(few)?;
        Ok(!self.doubts.is_empty())
    }

    /// Looks at the whole once more where it is doubtful or may be too large.
    #[cold]
    fn look_over(&mut self, few: bool) -> Result<(), Error> {
        if !self.doubts.is_empty() {
            if !self.formula.packed.has_few_parts() {
                self.check_parts()?;
            }
            // A full stop at the end is told last.
            self.doubts
                .sort_by_key(|doubt| matches!(doubt, Doubt::FullStop(_)));
        }
        let text = self.text;
        if few || (text.len() <= SURELY_SHORT && self.formula.packed.is_small()) {
            return Ok(());
        }
        self.formula.check_size(Span::new(0, text.len()))
    }

    /// Water in brackets at the end is a part of its own, which the text did not count as one.
    #[cold]
    fn check_parts(&self) -> Result<(), Error> {
        let tokens = self.formula.packed.tokens();
        let dots = tokens
            .filter(|token| matches!(token, Token::Dot(_)))
            .count();
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

    /// Begins a part.
    #[inline]
    pub(super) fn begin(&mut self) -> PartNotation {
        let from = self.formula.packed.length();
        PartNotation {
            coefficient: Place::NOWHERE,
            charge: None,
            start: 0,
            end: 0,
            from,
            first: from,
            opened: 0,
            closed: 0,
            round: 0,
        }
    }

    /// Takes up a part's coefficient that is a plain count, or one where there is none.
    #[inline]
    pub(super) fn plain_coefficient(&mut self, part: &mut PartNotation, count: u16) {
        self.formula.packed.plain_part(count);
        part.first = self.formula.packed.length();
    }

    /// Takes up a part's coefficient.
    pub(super) fn coefficient(&mut self, part: &mut PartNotation, count: Count) {
        self.take_in(count);
        self.formula.packed.part(count);
        part.first = self.formula.packed.length();
        if let Count::Unknown(_) = count {
            self.formula.origins.open(part.coefficient);
        }
    }

    /// Whether nothing was read of a part yet.
    pub(super) fn is_empty(&self, part: &PartNotation) -> bool {
        self.formula.packed.length() == part.first
    }

    /// Takes up an atom with a plain count, whose bits are counted where it is read; `origin` is the
    /// place that an error about it would show.
    #[inline]
    pub(super) fn plain_atom(&mut self, atom: Atom, count: u16, origin: Place) {
        self.formula.origins.atom(atom, origin);
        self.formula.packed.plain_atom(atom, count);
    }

    /// Takes up an atom; `origin` is the place that an error about it would show.
    pub(super) fn atom(&mut self, atom: Atom, count: Count, origin: Place) {
        self.formula.push_atom(atom, count, origin);
        self.take_in(count);
    }

    /// Takes up a closed bracket with a plain count; `None` where it closes nothing, or empty brackets.
    #[inline(always)]
    pub(super) fn close_plain(
        &mut self,
        part: &mut PartNotation,
        opened: u16,
        bracket: Bracket,
        count: u16,
    ) -> Option<()> {
        let packed = &mut self.formula.packed;
        let closed = packed.length();
        packed.close_plain(opened, bracket, count)?;
        part.close(opened, closed, packed.length(), bracket);
        Some(())
    }

    /// Takes up a closed bracket, whose count stands at a place if it is left open.
    #[cold]
    pub(super) fn close(
        &mut self,
        part: &mut PartNotation,
        opened: u16,
        bracket: Bracket,
        count: Count,
        open: Place,
    ) {
        let packed = &mut self.formula.packed;
        let closed = packed.length();
        packed.close(opened, bracket, count);
        part.close(opened, closed, packed.length(), bracket);
        self.take_in(count);
        if let Count::Unknown(_) = count {
            self.formula.origins.open(open);
        }
    }

    /// Keeps the bound of the counts in step.
    fn take_in(&mut self, count: Count) {
        if let Count::Known(numerator, denominator) = count {
            let product = u64::from(numerator) * u64::from(denominator);
            self.bits += u64::BITS - product.leading_zeros();
        }
    }

    /// Settles what a part leaves open once it is read to its end.
    #[inline]
    pub(super) fn settle(&mut self, part: &PartNotation) -> Result<(), Error> {
        if let Some(charge) = part.charge {
            return self.settle_charged(part, charge);
        }
        match self.may_say_more(part) || self.may_be_odd(part) {
            true => self.look_closer(part, 0),
            false => Ok(()),
        }
    }

    #[cold]
    fn settle_charged(&mut self, part: &PartNotation, charge: ChargeNotation) -> Result<(), Error> {
        let size = self.charge(part, charge)?;
        if self.may_say_more(part) {
            return self.look_closer(part, size);
        }
        self.formula.packed.push(Token::Charge(size));
        Ok(())
    }

    /// Whether a part may be in brackets as a whole, or have water in brackets at its end.
    #[inline(always)]
    fn may_say_more(&self, part: &PartNotation) -> bool {
        let packed = &self.formula.packed;
        if part.round != packed.length() {
            return false;
        }
        let inside = packed.words_from(part.opened + 1);
        let inside = inside.get(..usize::from(part.closed - part.opened - 1));
        part.opened == part.first || inside.is_some_and(packed::is_water)
    }

    /// Whether a part may be water spelt otherwise or with a zero.
    #[inline(always)]
    fn may_be_odd(&self, part: &PartNotation) -> bool {
        packed::is_odd(self.formula.packed.words_from(part.first))
    }

    /// The charge of a part; where its size stood as the last count, that is taken away.
    fn charge(&mut self, part: &PartNotation, charge: ChargeNotation) -> Result<i32, Error> {
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
        let mut tokens = SmallVec::<[Token; 40]>::new();
        tokens.extend(self.formula.packed.tokens_from(part.first));
        let bare = Bare {
            text: self.text,
            part: part.place().span(),
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
            let packed = &mut self.formula.packed;
            packed.truncate(packed.last_from(part.first));
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
    #[cold]
    fn look_closer(&mut self, part: &PartNotation, charge: i32) -> Result<(), Error> {
        let place = part.place();
        let mut tokens = SmallVec::<[Token; 40]>::new();
        tokens.extend(self.formula.packed.tokens_from(part.first));
        let unit = Unit {
            coefficient: self.formula.packed.coefficient_from(part.from),
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
        let packed = &mut self.formula.packed;
        let begins = tokens.get(..rest.terms.len());
        let begins = begins.is_some_and(|begins| core::ptr::eq(begins, rest.terms));
        if begins && rest.coefficient == unit.coefficient && !rest.is_water() {
            packed.truncate(packed.words_before(part.first, rest.terms.len()));
        } else {
            packed.truncate(part.from);
            self.formula.push_part(rest.coefficient, Place::NOWHERE);
            if rest.is_water() {
                self.formula.push_water();
            } else {
                self.formula.packed.extend(rest.terms.iter().copied());
            }
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

#[inline(always)]
fn is_electron(text: &str) -> bool {
    // Nearly every formula begins with another sign.
    let first = text.as_bytes().first();
    first.is_some_and(|first| *first == b'e' || !first.is_ascii_graphic())
        && is_electron_alone(text)
}

#[cold]
fn is_electron_alone(text: &str) -> bool {
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
    #[cold]
    fn notes(&self) -> Vec<Note> {
        let notes = self.doubts.iter().filter_map(|doubt| doubt.note(self.text));
        notes.collect()
    }

    /// What the strict reader refuses first.
    #[cold]
    fn refusal(&self) -> Option<Error> {
        let mut doubts = self.doubts.iter();
        doubts.find_map(|doubt| doubt.refused(self.text))
    }
}

impl Formula {
    /// Becomes what a text says. What is doubtful is noted, or refused where no notes are taken.
    pub(super) fn fill(&mut self, text: &str, notes: Option<&mut Vec<Note>>) -> Result<(), Error> {
        let mut reading = Reading::new(text, self);
        let doubtful = reading.read()?;
        if !doubtful {
            return Ok(());
        }
        match notes {
            Some(notes) => *notes = reading.notes(),
            None => reading.refusal().map_or(Ok(()), Err)?,
        }
        Ok(())
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
