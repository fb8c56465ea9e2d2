//! The words of a salt: cations, each with its charge, then an anion. The charges must cancel.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::anion_words::AnionName;
use super::cation_words::{CationName, ions_of};
use super::reader::{NameReader, bad_name};
use super::remark::NameRemark;
use super::salt::{Cation, Salt, UnknownRatio};
use super::spelling::nearest_word;
use super::words::{self, NameToken};
use crate::formula::error::Error;
use crate::formula::ions::Metal;
use crate::formula::repr::Formula;
use crate::text::Span;

const WRITE_THE_FORMULA: &str = "write the formula instead";

impl NameReader<'_> {
    /// Reads all of these words as a salt.
    pub(super) fn salt(&mut self, tokens: &[NameToken]) -> Result<Formula, Error> {
        let mut cations: Vec<CationName> = Vec::new();
        let mut anion: Option<AnionName> = None;
        let mut rest = tokens;
        while !rest.is_empty() {
            if let Some((next, after)) = self.anion(rest) {
                if anion.is_some() {
                    let message = "a name does not give the ratio of two anions";
                    return Err(bad_name(next.span, message, WRITE_THE_FORMULA));
                }
                anion = Some(next);
                rest = after;
            } else if let Some((next, after)) = self.cation(rest)?.filter(|_| anion.is_none()) {
                cations.push(next);
                rest = after;
            } else {
                return Err(self.unknown_word(tokens, rest));
            }
        }
        let span = words::span(tokens).unwrap_or(Span::new(0, self.text.len()));
        match anion {
            Some(anion) if !cations.is_empty() => self.join(span, cations, &anion),
            Some(anion) => Err(bad_name(
                anion.span,
                format!("no cation comes before `{}`", self.quoted(anion.span)),
                "write the metal first: `magnesium sulfate`",
            )),
            None => Err(bad_name(
                span,
                match cations.is_empty() {
                    true => "the name contains no salt".into(),
                    false => format!("no anion follows `{}`", self.quoted(span)),
                },
                "write a cation and an anion: `magnesium sulfate`",
            )),
        }
    }

    fn unknown_word(&self, tokens: &[NameToken], rest: &[NameToken]) -> Error {
        let hydrogen =
            |token: &NameToken| token.word().is_some_and(|word| word.ends_with("hydrogen"));
        let unknown = match rest {
            // The next word belongs to `hydrogen`, which alone would mislead.
            [first, second, ..] if hydrogen(first) && second.word().is_some() => rest.get(..2),
            _ => rest.get(..1),
        };
        let unknown = unknown.unwrap_or_default();
        let span = words::span(unknown).unwrap_or(Span::new(0, 0));
        let mut subject = format!("`{}`", self.quoted(span));
        if rest.first().and_then(NameToken::word) == Some("borate") {
            let message = subject + " may mean BO3^3-, BO2^- or B4O7^2-";
            let help = "write orthoborate, metaborate or tetraborate";
            return bad_name(span, message, help);
        }
        let before = tokens.get(..tokens.len() - rest.len());
        if let Some(before) = before.and_then(words::span) {
            subject += &format!(", after `{}`,", self.quoted(before));
        }
        let is_word = unknown.iter().all(|token| token.word().is_some());
        let word: String = unknown.iter().filter_map(NameToken::word).collect();
        let help = match nearest_word(&word) {
            Some(nearest) => format!("did you mean `{nearest}`?"),
            None if is_word => {
                "use English names of ions: `cobalt(II) chloride hexahydrate`".into()
            }
            None => "write an adduct with its proportion: `sodium sulfate—water (1/10)`".into(),
        };
        let verb = match is_word {
            true => "is not a known word",
            false => "has no meaning in a name",
        };
        bad_name(span, format!("{subject} {verb}"), help)
    }

    /// The salt of these ions. `span` is where all of them are.
    fn join(
        &mut self,
        span: Span,
        mut names: Vec<CationName>,
        anion: &AnionName,
    ) -> Result<Formula, Error> {
        deduce_charge(&mut names, anion);
        self.assume_charge(&mut names);
        let mut cations = Vec::new();
        for name in &names {
            let cation = name.cation();
            cations.push(cation.map_err(|metal| self.several_charges(name, metal))?);
        }
        let counted = names.iter().any(|name| name.count.is_some()) || anion.count.is_some();
        let salt = match counted {
            true => self.counted(span, &names, &cations, anion)?,
            false => self.simplest(span, &cations, anion)?,
        };
        if let Some((first, second)) = salt.salts_of_this_name() {
            let message = format!("`{}` may mean {first} or {second}", self.quoted(span));
            return Err(bad_name(span, message, WRITE_THE_FORMULA));
        }
        if salt.may_be_oxide() {
            let message =
                "a peroxide cannot be distinguished from an oxide if the metal has several charges";
            return Err(bad_name(span, message, WRITE_THE_FORMULA));
        }
        // The text is made of the table's formulas, so it has one meaning only.
        Formula::read(&salt.formula()).map(|(formula, _)| formula)
    }

    fn simplest(
        &mut self,
        span: Span,
        cations: &[Cation],
        anion: &AnionName,
    ) -> Result<Salt, Error> {
        let salt = Salt::simplest(cations, anion.ion).map_err(|unknown| match unknown {
            UnknownRatio::Several(first, second) => bad_name(
                span,
                format!("the name may mean {first} or {second}"),
                "write how many of each: `dipotassium sodium phosphate`",
            ),
            UnknownRatio::None => bad_name(
                span,
                "a name does not give the ratio of these cations",
                WRITE_THE_FORMULA,
            ),
        })?;
        if cations.len() > 1 {
            let formula = salt.formula();
            self.remarks.push(NameRemark::SimplestRatio(formula));
        }
        Ok(salt)
    }

    /// A salt whose name gives the counts of some of its ions.
    fn counted(
        &self,
        span: Span,
        names: &[CationName],
        cations: &[Cation],
        anion: &AnionName,
    ) -> Result<Salt, Error> {
        if names.len() > 2 {
            let message = "the name has more than two cations";
            return Err(bad_name(span, message, WRITE_THE_FORMULA));
        }
        let salt = names.iter().zip(cations).map(|(name, cation)| {
            let count = cation.ions_of(name.count.unwrap_or(1))?;
            Some((*cation, count))
        });
        let salt = salt.collect::<Option<Vec<_>>>().map(|cations| {
            let positive: u32 = cations.iter().map(|(ion, n)| ion.charge() * n).sum();
            let anions = positive / u32::from(anion.ion.charge);
            Salt {
                cations,
                anion: anion.ion,
                anions: anion.count.unwrap_or(anions),
            }
        });
        salt.filter(Salt::is_neutral).ok_or_else(|| {
            bad_name(
                span,
                format!("the charges of `{}` do not cancel", self.quoted(span)),
                "check the numbers, or leave them out: `sodium sulfate`",
            )
        })
    }

    /// Gives metals that have no charge yet the assumed one, if they commonly have it.
    fn assume_charge(&self, names: &mut [CationName]) {
        let Some(charge) = self.assumed_charge else {
            return;
        };
        for name in names {
            if name
                .cation()
                .is_err_and(|metal| metal.common.contains(&charge))
            {
                name.charge = Some(charge);
            }
        }
    }

    fn several_charges(&self, name: &CationName, metal: &Metal) -> Error {
        let ions = ions_of(metal, metal.common.iter().copied());
        let quoted = self.quoted(name.span);
        let help = format!(
            "write which one you mean: {}",
            ions.replace(" and ", " or ")
        );
        let message = format!("`{quoted}` forms several ions: {ions}");
        bad_name(name.span, message, help)
    }
}

/// Finds the one charge that a name leaves out from the counts that it gives.
fn deduce_charge(names: &mut [CationName], anion: &AnionName) {
    let Some(anions) = anion.count else { return };
    let mut unknown = None;
    let mut others = 0;
    for name in names {
        let count = name.count.unwrap_or(1);
        match name.cation() {
            Ok(cation) => others += cation.charge() * count,
            Err(_) if unknown.is_some() => return,
            Err(metal) => unknown = Some((name, metal, count)),
        }
    }
    let Some((name, metal, count)) = unknown else {
        return;
    };
    let charge = (u32::from(anion.ion.charge) * anions).checked_sub(others);
    let charge = charge.filter(|charge| charge % count == 0);
    let charge = charge.and_then(|charge| u8::try_from(charge / count).ok());
    if let Some(charge) = charge.filter(|charge| metal.has(*charge)) {
        name.charge = Some(charge);
    }
}
