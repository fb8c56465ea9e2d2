//! The words of a cation and of its charge.

use alloc::format;
use alloc::string::String;

use super::numbers;
use super::reader::{NameReader, bad_name};
use super::salt::{self, Cation, CationKind};
use super::words::{self, NameToken};
use crate::formula::error::Error;
use crate::formula::ions::{CATIONS, METAL_SYNONYMS, METALS, Metal, Usage};
use crate::text::{Span, list};

/// A cation of a name. Its charge may not be known yet.
#[derive(Clone, Copy)]
pub(super) struct CationName {
    pub(super) kind: CationKind,
    pub(super) charge: Option<u8>,
    /// How many there are, if a prefix gives it.
    pub(super) count: Option<u32>,
    pub(super) span: Span,
}

/// The charge after a cation.
struct ChargeNumber {
    charge: u8,
    /// How many tokens give it.
    length: usize,
    in_brackets: bool,
}

impl CationName {
    /// The cation, or its metal if that has several charges and none is given.
    pub(super) fn cation(&self) -> Result<Cation, &'static Metal> {
        match (self.kind, self.charge) {
            (CationKind::Ion(ion), _) => Ok(Cation::ion(ion)),
            (CationKind::Metal(metal, waters), Some(charge)) => {
                Ok(Cation::metal(metal, waters, charge))
            }
            (CationKind::Metal(metal, waters), None) => match metal.common {
                [charge] => Ok(Cation::metal(metal, waters, *charge)),
                _ => Err(metal),
            },
        }
    }
}

impl NameReader<'_> {
    /// The cation with which these tokens begin, and the tokens after it.
    pub(super) fn cation<'a>(
        &mut self,
        tokens: &'a [NameToken],
    ) -> Result<Option<(CationName, &'a [NameToken])>, Error> {
        let Some((first, after)) = tokens.split_first() else {
            return Ok(None);
        };
        let Some((mut cation, usage)) = first.word().and_then(|word| cation(word, first.span))
        else {
            return Ok(None);
        };
        let number = self.charge_number(after)?;
        let length = number.as_ref().map_or(0, |number| number.length);
        let (taken, after) = after.split_at_checked(length).unwrap_or_default();
        cation.span.end = taken.last().unwrap_or(first).span.end;
        if let Some(number) = &number {
            cation.charge = Some(self.checked_charge(&cation, number.charge)?);
        }
        let meaning = cation.cation();
        let meaning = meaning.map_or_else(|metal| metal.name().into(), Cation::name);
        self.note_usage(usage, first.span, &meaning);
        if number.is_some_and(|number| !number.in_brackets) {
            self.note_usage(Usage::Bare, cation.span, &meaning);
        }
        Ok(Some((cation, after)))
    }

    fn charge_number(&self, tokens: &[NameToken]) -> Result<Option<ChargeNumber>, Error> {
        let roman = |token: &NameToken| token.word().and_then(salt::from_roman);
        let (charge, length, in_brackets) = match tokens {
            [open, number, close, ..] if open.is('(') && close.is(')') => (roman(number), 3, true),
            [open, digits, plus, close, ..] if open.is('(') && plus.is('+') && close.is(')') => {
                let digits = digits.number();
                (digits.and_then(|digits| digits.parse().ok()), 4, true)
            }
            [open, ..] if open.is('(') => (None, 1, true),
            [dash, number, ..] if dash.is('-') => (roman(number), 2, false),
            [number, ..] => (roman(number), 1, false),
            [] => (None, 0, false),
        };
        if in_brackets && charge.is_none() {
            let end = tokens.iter().position(|token| token.is(')'));
            let taken = tokens.get(..=end.unwrap_or(0)).unwrap_or_default();
            let span = words::span(taken).unwrap_or(Span::new(0, 0));
            return Err(bad_name(
                span,
                format!("`{}` is not the charge of one ion", self.quoted(span)),
                "write the charge as a Roman numeral from I to VIII: `iron(III)`",
            ));
        }
        Ok(charge.map(|charge| ChargeNumber {
            charge,
            length,
            in_brackets,
        }))
    }

    /// The charge that is written after a cation, if that ion exists.
    fn checked_charge(&self, cation: &CationName, charge: u8) -> Result<u8, Error> {
        let quoted = self.quoted(cation.span);
        let CationKind::Metal(metal, _) = cation.kind else {
            let message = format!("`{quoted}` has a number that it does not need");
            return Err(bad_name(cation.span, message, "write the name alone"));
        };
        let ion = salt::stock_name(metal, charge);
        if cation.charge.is_some_and(|own| own != charge) {
            let message = format!("`{quoted}` gives two charges");
            return Err(bad_name(cation.span, message, format!("write {ion} alone")));
        }
        if !metal.has(charge) {
            let message = format!("{ion} is not a known ion");
            let known = ions_of(metal, metal.charges()).replace(" and ", " or ");
            return Err(bad_name(cation.span, message, format!("write {known}")));
        }
        Ok(charge)
    }
}

/// The ions of these charges: `iron(II) and iron(III)`.
pub(super) fn ions_of(metal: &Metal, charges: impl Iterator<Item = u8>) -> String {
    list(charges.map(|charge| salt::stock_name(metal, charge)))
}

/// The cation that a word names, with how many there are.
fn cation(word: &str, span: Span) -> Option<(CationName, Usage)> {
    let one = |(kind, charge, usage), count| {
        let name = CationName {
            kind,
            charge,
            count,
            span,
        };
        (name, usage)
    };
    let aqua = |word: &str, waters| {
        let metal = metal(word.strip_prefix("aqua")?)?;
        let kind = CationKind::Metal(metal, waters);
        Some(one((kind, None, Usage::Current), None))
    };
    if let Some(cation) = bare_cation(word) {
        return Some(one(cation, None));
    }
    aqua(word, 1).or_else(|| {
        numbers::beginnings(word).find_map(|(count, rest)| {
            aqua(rest, count).or_else(|| bare_cation(rest).map(|cation| one(cation, Some(count))))
        })
    })
}

fn metal(name: &str) -> Option<&'static Metal> {
    METALS.iter().find(|metal| metal.name() == name)
}

fn bare_cation(word: &str) -> Option<(CationKind, Option<u8>, Usage)> {
    if let Some(metal) = metal(word) {
        return Some((CationKind::Metal(metal, 0), None, Usage::Current));
    }
    if let Some(ion) = CATIONS.iter().find(|ion| ion.name == word) {
        return Some((CationKind::Ion(ion), None, Usage::Current));
    }
    let row = METAL_SYNONYMS.iter().find(|(name, ..)| *name == word);
    let (_, symbol, charge, usage) = row?;
    Some((CationKind::Metal(Metal::of(symbol)?, 0), *charge, *usage))
}
