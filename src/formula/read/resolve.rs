//! Notation to [`Formula`]: settles what the text leaves open, or names both readings.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::charge::Bare;
use super::notes::Doubt;
use super::parse::cursor;
use super::parse::notation::{ChargeNotation, PartNotation};
use crate::element::{Atom, Element};
use crate::formula::error::Error;
use crate::formula::lex::{each, may_have_suspect, suspect_pair};
use crate::formula::limits::{MOST_ATOMS, MOST_PARTS, MOST_TERMS, SURELY_SHORT};
use crate::formula::repr::{
    Bracket, Count, Formula, Place, Token, is_group_of_water, is_odd, is_water_of, words,
};
use crate::text::{Note, Span, is_minus, is_space};

/// No formula has too many atoms if its counts, but those of plain atoms, have so few bits in all.
const FEW_BITS: u32 = (MOST_ATOMS / MOST_TERMS / words::MORE as u64).ilog2();

/// So many bits that two to that power is no less than a count.
#[inline(always)]
const fn bits(count: u64) -> u32 {
    u64::BITS - count.saturating_sub(1).leading_zeros()
}

/// A formula as it is read, and what is doubtful about the reading.
pub(crate) struct Reading<'t> {
    text: &'t str,
    pub(crate) formula: &'t mut Formula,
    doubts: SmallVec<[Doubt; 2]>,
    /// The part that is read.
    pub(crate) part: PartNotation,
    /// How many words there were behind the round bracket that was closed last.
    pub(crate) behind_round: u16,
    /// As many bits as it takes for the product of all counts but those of plain atoms.
    bits: u32,
    /// Whether any small letter was read behind a capital: then all is surely not in capitals.
    pub(crate) small_letters: bool,
    /// Whether the text may hold a slip of the keyboard.
    pub(crate) strange: bool,
}

impl<'t> Reading<'t> {
    #[inline]
    pub(crate) fn new(text: &'t str, formula: &'t mut Formula) -> Reading<'t> {
        Reading {
            text,
            formula,
            doubts: SmallVec::new(),
            part: PartNotation::NONE,
            behind_round: 0,
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
        cursor::parts(text, self)?;
        if !self.small_letters && may_have_suspect(text) && suspect_pair(text).is_some() {
            self.doubts.push(Doubt::Case);
        }
        if self.strange {
            each(text, |slip| self.doubts.push(Doubt::Slip(slip)));
        }
        let few = self.bits <= FEW_BITS && text.len() <= SURELY_SHORT;
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
        if dots < MOST_PARTS {
            return Ok(());
        }
        let span = Span::new(0, self.text.len());
        Err(Error::too_large(span, "the number of parts", MOST_PARTS))
    }

    #[cold]
    pub(crate) fn full_stop(&mut self, span: Span) {
        self.doubts.push(Doubt::FullStop(span));
    }

    #[cold]
    pub(crate) fn doubtful_dot(&mut self, span: Span) {
        self.doubts.push(Doubt::Dot(span));
    }

    /// Takes up a part's coefficient, which stands at a place.
    pub(crate) fn coefficient(&mut self, count: Count, place: Place) {
        self.take_in(count);
        self.formula.push_part(count, place);
        self.part.coefficient = place;
        self.part.first = self.formula.packed.length();
    }

    /// Whether nothing was read of a part yet.
    #[inline(always)]
    pub(crate) fn is_empty(&self) -> bool {
        self.formula.packed.length() == self.part.first
    }

    /// Takes up an atom with a plain count; `origin` is the place that an error about it would show.
    #[inline]
    pub(crate) fn plain_atom(&mut self, atom: Atom, count: u16, origin: Place) {
        self.formula.origins.atom(atom, origin);
        self.formula.packed.plain_atom(atom, count);
    }

    /// Takes up an atom; `origin` is the place that an error about it would show.
    pub(crate) fn atom(&mut self, atom: Atom, count: Count, origin: Place) {
        self.formula.push_atom(atom, count, origin);
        self.take_in(count);
    }

    /// Takes up a closed bracket, whose count stands at a place if it is left open.
    pub(crate) fn close(&mut self, opened: u16, bracket: Bracket, count: Count, open: Place) {
        let packed = &mut self.formula.packed;
        packed.close(opened, bracket, count);
        if bracket == Bracket::Round {
            self.behind_round = packed.length();
        }
        self.take_in(count);
        if let Count::Unknown(_) = count {
            self.formula.origins.open(open);
        }
    }

    /// Keeps the bound of the counts in step with a plain one.
    #[inline(always)]
    pub(crate) fn take_in_plain(&mut self, count: u16) {
        self.bits += bits(count.into());
    }

    /// Keeps it in step with any count.
    fn take_in(&mut self, count: Count) {
        if let Count::Known(numerator, denominator) = count {
            let product = u64::from(numerator) * u64::from(denominator);
            self.bits += bits(product);
        }
    }

    /// Settles what a part leaves open that ends there in the text; the outermost of the brackets that
    /// were closed last was opened when there were so many words.
    #[inline(always)]
    pub(crate) fn settle(&mut self, end: usize, opened: u16) -> Result<(), Error> {
        if self.may_say_more(opened) || self.may_be_odd() {
            return self.look_closer(end, 0);
        }
        Ok(())
    }

    /// The same where it has a charge.
    #[cold]
    pub(crate) fn settle_charged(
        &mut self,
        end: usize,
        opened: u16,
        charge: ChargeNotation,
    ) -> Result<(), Error> {
        let size = self.charge(end, opened, charge)?;
        if self.may_say_more(opened) {
            return self.look_closer(end, size);
        }
        self.formula.packed.push(Token::Charge(size));
        Ok(())
    }

    /// Whether a part may be in brackets as a whole, or have water in brackets at its end.
    #[inline(always)]
    fn may_say_more(&self, opened: u16) -> bool {
        let packed = &self.formula.packed;
        self.behind_round == packed.length()
            && (opened == self.part.first || is_group_of_water(packed.words_from(opened + 1)))
    }

    /// Whether a part may be water spelt otherwise or with a zero.
    #[inline(always)]
    fn may_be_odd(&self) -> bool {
        let (packed, first) = (&self.formula.packed, self.part.first);
        packed.may_be_odd(first) && is_odd(packed.words_from(first))
    }

    /// Where the part stands that ends there.
    fn place(&self, end: usize) -> Span {
        Span::new(self.part.start.into(), end)
    }

    /// The charge of a part; where its size stood as the last count, that is taken away.
    fn charge(&mut self, end: usize, opened: u16, charge: ChargeNotation) -> Result<i32, Error> {
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
        let first = self.part.first;
        let mut tokens = SmallVec::<[Token; 40]>::new();
        tokens.extend(self.formula.packed.tokens_from(first));
        let bare = Bare {
            text: self.text,
            part: self.place(end),
            counted,
            one_unit: opened == first,
            tokens: &tokens,
            negative,
            signs,
            digits_after,
            span: written.span(),
        };
        let (size, is_count) = bare.size()?;
        if !is_count {
            let packed = &mut self.formula.packed;
            packed.truncate(packed.last_from(first));
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
    fn look_closer(&mut self, end: usize, charge: i32) -> Result<(), Error> {
        let (place, first) = (self.place(end), self.part.first);
        let mut tokens = SmallVec::<[Token; 40]>::new();
        tokens.extend(self.formula.packed.tokens_from(first));
        let (coefficient, from) = self.formula.packed.coefficient_before(first);
        let unit = Unit {
            coefficient,
            terms: &tokens,
            charge,
        };
        let mut waters = SmallVec::<[Count; 4]>::new();
        let mut rest = unwrap(unit, place)?;
        while let Some((before, water)) = split_final_water(rest) {
            waters.push(water);
            rest = unwrap(before, place)?;
        }
        if rest.is_twenty_hydrogens() {
            self.suspect_zero(place);
        }
        if waters.is_empty() && rest.terms.len() == tokens.len() && !rest.is_respelt_water() {
            self.formula.packed.push(Token::Charge(charge));
            return Ok(());
        }
        let packed = &mut self.formula.packed;
        let begins = tokens.get(..rest.terms.len());
        let begins = begins.is_some_and(|begins| core::ptr::eq(begins, rest.terms));
        if begins && rest.coefficient == unit.coefficient && !rest.is_water() {
            packed.truncate(packed.words_before(first, rest.terms.len()));
        } else {
            packed.truncate(from);
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
    pub(in crate::formula) fn fill(
        &mut self,
        text: &str,
        notes: Option<&mut Vec<Note>>,
    ) -> Result<(), Error> {
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
    terms.len() <= 3 && is_water_of(atoms)
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
