//! A name as a whole: a salt, a hydrate, or an adduct with its proportion.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;

use super::degree::count;
use super::reader::{NameReader, bad_name};
use super::remark::NameRemark;
use super::words::{self, NameToken, joined, trimmed};
use crate::formula::error::Error;
use crate::formula::ions::{COMMON_NAMES, DOUBLE_FORMULAS, MOLECULES, Usage, formula_of};
use crate::formula::limits::MOST_BYTES;
use crate::formula::repr::{Count, Formula, ShortSpan};
use crate::text::{Note, Span};

/// The highest charge of a metal in a name.
#[cfg(feature = "class")]
const HIGHEST_CHARGE: u8 = 8;

impl Formula {
    /// Reads the name of an ionic salt, of its hydrate, or of an adduct of salts and a few
    /// molecules.
    ///
    /// The names that it reads are:
    /// - compositional names, such as `cobalt(II) chloride hexahydrate`, `calcium sulfate
    ///   0.5-hydrate` or `copper(II) sulfate-5-water`;
    /// - adducts with their proportions, such as `sodium sulfate—water (1/10)`;
    /// - metals with bound water, such as `hexaaquanickel(II) chloride`;
    /// - a few common names, such as `potassium alum`.
    ///
    /// Cations keep the order in which they are named. Charges must cancel. A metal with several
    /// common ions needs its charge as a Roman numeral.
    ///
    /// The notes are:
    /// - `old_name`: `ferric`, `bicarbonate`;
    /// - `other_name`: `aluminum`, `sulphate`, `ethanoate`;
    /// - `trivial_name`: `potassium alum`;
    /// - `bare_number`: `copper II sulfate`;
    /// - `simplest_ratio`: the name does not give the ratio of two cations, and only the simplest
    ///   ratio is common in such salts;
    /// - `open_degree`: `hydrate` without a number, which is read as `xH2O`.
    ///
    /// # Errors
    /// `bad_name` if a word is not known, if a charge is missing or impossible, or if the name
    /// does not give one formula. `too_large` if the text is longer than any name.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let (alum, notes) = Formula::from_name("potassium aluminium sulfate dodecahydrate")?;
    /// assert_eq!(alum.to_string(), "KAl(SO4)2·12H2O");
    /// assert_eq!(notes[0].code(), "simplest_ratio");
    ///
    /// let error = Formula::from_name("cobalt chloride").unwrap_err();
    /// assert_eq!(error.to_string(), "`cobalt` forms several ions: cobalt(II) and cobalt(III)");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn from_name(text: &str) -> Result<(Formula, Vec<Note>), Error> {
        read_name(text, None)
    }

    /// Returns the formulas that a name may mean if it does not give the charge of its metal, in the
    /// order of the charges, each with the notes on the name.
    #[cfg(feature = "class")]
    pub(crate) fn meanings_of_name(text: &str) -> impl Iterator<Item = (Formula, Vec<Note>)> {
        (1..=HIGHEST_CHARGE).filter_map(move |charge| read_name(text, Some(charge)).ok())
    }
}

fn read_name(text: &str, assumed_charge: Option<u8>) -> Result<(Formula, Vec<Note>), Error> {
    let whole = Span::new(0, text.len());
    if text.len() > MOST_BYTES {
        let limit = format!("{MOST_BYTES} bytes");
        return Err(Error::too_large(whole, "the name", limit));
    }
    let tokens = words::split(text);
    let tokens = match tokens.split_last() {
        Some((stop, before)) if stop.is('.') => before,
        _ => &tokens,
    };
    let mut reader = NameReader {
        text,
        remarks: Vec::new(),
        assumed_charge,
    };
    let formula = reader.whole(tokens)?;
    formula.check_size(whole)?;
    let written = formula.to_string();
    let double = DOUBLE_FORMULAS.iter().find(|(own, _)| *own == written);
    let double = double.map(|(_, double)| NameRemark::DoubleFormula(double));
    reader.remarks.extend(double);
    Ok((
        formula,
        reader.remarks.into_iter().map(Note::from).collect(),
    ))
}

/// The numbers of a proportion at the end of a name, and the tokens before it.
struct Proportion<'a> {
    before: &'a [NameToken],
    counts: Vec<Count>,
    span: Span,
}

impl NameReader<'_> {
    fn whole(&mut self, tokens: &[NameToken]) -> Result<Formula, Error> {
        let Some(span) = words::span(tokens) else {
            return Err(bad_name(
                Span::new(0, self.text.len()),
                "the name is empty",
                "write a name such as magnesium sulfate heptahydrate",
            ));
        };
        let without_apostrophes = tokens.iter().filter(|t| !(t.is('\'') || t.is('’')));
        if let Some(formula) = formula_of(COMMON_NAMES, &joined(without_apostrophes)) {
            self.note_usage(Usage::Common, span, formula);
            return Formula::read(formula).map(|(formula, _)| formula);
        }
        if let Some(formula) = formula_of(MOLECULES, &joined(tokens.iter())) {
            return Formula::read(formula).map(|(formula, _)| formula);
        }
        match self.proportion(tokens)? {
            Some(proportion) => self.adduct(&proportion),
            None => self.hydrate(tokens),
        }
    }

    /// The proportion at the end: `(1/10)`.
    fn proportion<'a>(&self, tokens: &'a [NameToken]) -> Result<Option<Proportion<'a>>, Error> {
        let open = tokens.iter().rposition(|token| token.is('('));
        let Some((before, [_, inside @ .., close])) =
            open.and_then(|open| tokens.split_at_checked(open))
        else {
            return Ok(None);
        };
        if !close.is(')') || !inside.iter().any(|token| token.is('/')) {
            return Ok(None);
        }
        let span = words::span(inside).unwrap_or(close.span);
        let mut counts = Vec::new();
        for number in inside.split(|token| token.is('/')) {
            let (number, span) = match number {
                [token] => (count(token), token.span),
                _ => (None, span),
            };
            counts.push(number.ok_or_else(|| {
                bad_name(
                    span,
                    format!("`{}` is not a number of a proportion", self.quoted(span)),
                    "write the proportion in positive numbers: `sodium sulfate—water (1/10)`",
                )
            })?);
        }
        Ok(Some(Proportion {
            before,
            counts,
            span,
        }))
    }

    fn adduct(&mut self, proportion: &Proportion<'_>) -> Result<Formula, Error> {
        let long = proportion.before.iter().any(|token| token.is('—'));
        let dash = if long { '—' } else { '-' };
        let components = proportion.before.split(|token| token.is(dash));
        let components: Vec<&[NameToken]> = components.filter(|c| !c.is_empty()).collect();
        if components.len() != proportion.counts.len() {
            return Err(bad_name(
                proportion.span,
                format!(
                    "the number of components is {}, but the proportion has {} numbers",
                    components.len(),
                    proportion.counts.len()
                ),
                "give each component one number: `sodium sulfate—water (1/10)`",
            ));
        }
        let mut parts = Vec::new();
        for (component, count) in components.into_iter().zip(&proportion.counts) {
            let formula = match molecule(component) {
                Some(formula) => Formula::read(formula)?.0,
                None => self.salt(component)?,
            };
            for mut part in formula.parts() {
                part.coefficient = *count;
                parts.push(part);
            }
        }
        Ok(Formula::from_parts(&parts, None))
    }

    fn hydrate(&mut self, tokens: &[NameToken]) -> Result<Formula, Error> {
        let (tokens, anhydrous) = without_anhydrous(tokens);
        let Some((salt, degree)) = self.degree(tokens)? else {
            return self.salt(tokens);
        };
        if let Some(anhydrous) = anhydrous {
            return Err(bad_name(
                anhydrous.span,
                "an anhydrous salt has no water of crystallization",
                "leave out `anhydrous` or the water",
            ));
        }
        let mut formula = match molecule(salt).filter(|formula| *formula != "H2O") {
            Some(formula) => Formula::read(formula)?.0,
            None => self.salt(salt)?,
        };
        formula.push_part(degree, ShortSpan::NONE);
        formula.push_water();
        Ok(formula)
    }
}

/// The formula of a molecule that adducts contain.
fn molecule(tokens: &[NameToken]) -> Option<&'static str> {
    formula_of(MOLECULES, &joined(tokens.iter()))
}

/// The tokens without the word `anhydrous` at either end, and that word.
fn without_anhydrous(tokens: &[NameToken]) -> (&[NameToken], Option<&NameToken>) {
    let is_anhydrous = |token: &NameToken| token.word() == Some("anhydrous");
    match tokens {
        [first, rest @ ..] if is_anhydrous(first) => (rest, Some(first)),
        [rest @ .., last] if is_anhydrous(last) => (trimmed(rest), Some(last)),
        _ => (tokens, None),
    }
}
