//! The words of a salt: cations, each with its charge, then an anion; charges must cancel.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::ions::{CALLED, CATIONS, Ion, METALS, Metal, Usage};
use super::likely::likely;
use super::numbers;
use super::read::{Reader, bad};
use super::salt::{self, Cation, Open, Salt};
use super::words::{self, Token};
use crate::formula::Formula;
use crate::formula::error::Error;
use crate::text::{Note, Span};

/// A cation as it is named, its charge perhaps not yet known.
#[derive(Debug, Clone, Copy)]
struct Named {
    which: Which,
    /// How many, where a prefix says it.
    count: Option<u32>,
    span: Span,
}

#[derive(Debug, Clone, Copy)]
enum Which {
    Metal(&'static Metal, Option<u8>),
    Ion(&'static Ion),
    Aqua(&'static Metal, Option<u8>, u32),
}

impl Which {
    fn metal(self) -> Option<(&'static Metal, Option<u8>)> {
        match self {
            Which::Metal(metal, charge) | Which::Aqua(metal, charge, _) => Some((metal, charge)),
            Which::Ion(_) => None,
        }
    }

    fn charged(self, charge: u8) -> Which {
        match self {
            Which::Metal(metal, _) => Which::Metal(metal, Some(charge)),
            Which::Aqua(metal, _, waters) => Which::Aqua(metal, Some(charge), waters),
            Which::Ion(_) => self,
        }
    }

    /// The cation, where the charge is said or there is only one.
    fn cation(self) -> Option<Cation> {
        let known = |metal: &Metal, charge: Option<u8>| match (charge, metal.common) {
            (Some(charge), _) => Some(charge),
            (None, [charge]) => Some(*charge),
            _ => None,
        };
        Some(match self {
            Which::Ion(ion) => Cation::Ion(ion),
            Which::Metal(metal, charge) => Cation::metal(metal, known(metal, charge)?),
            Which::Aqua(metal, charge, waters) => {
                Cation::Aqua(metal, known(metal, charge)?, waters)
            }
        })
    }
}

/// The anion as it is named.
struct NamedAnion {
    ion: &'static Ion,
    count: Option<u32>,
    span: Span,
}

impl Reader<'_> {
    /// Reads all of these words as a salt.
    pub(super) fn salt(&mut self, tokens: &[Token]) -> Result<Formula, Error> {
        let mut cations: Vec<Named> = Vec::new();
        let mut anion: Option<NamedAnion> = None;
        let mut rest = tokens;
        while !rest.is_empty() {
            if let Some((found, behind)) = self.anion(rest) {
                if anion.is_some() {
                    return Err(bad(
                        found.span,
                        "the ratio of two anions does not follow from a name",
                        "write the formula instead",
                    ));
                }
                anion = Some(found);
                rest = behind;
            } else if let Some((found, behind)) = self.cation(rest)?.filter(|_| anion.is_none()) {
                cations.push(found);
                rest = behind;
            } else {
                return Err(self.unknown(tokens, rest));
            }
        }
        let here = words::span(tokens).unwrap_or(Span::new(0, self.text.len()));
        match anion {
            Some(anion) if !cations.is_empty() => self.join(here, &cations, &anion),
            Some(anion) => Err(bad(
                anion.span,
                format!("no cation stands before `{}`", self.quoted(anion.span)),
                "write the metal first: `magnesium sulfate`",
            )),
            None => Err(bad(
                here,
                match cations.is_empty() {
                    true => "no salt is named".into(),
                    false => format!("no anion follows `{}`", self.quoted(here)),
                },
                "write a cation and an anion: `magnesium sulfate`",
            )),
        }
    }

    // --- words ---------------------------------------------------------------------------

    fn anion<'a>(&mut self, tokens: &'a [Token]) -> Option<(NamedAnion, &'a [Token])> {
        let word = tokens.first()?.word()?;
        let mut found = exact_anion(tokens, word).map(|found| (found, None));
        if found.is_none() {
            found = numbers::beginnings(word)
                .find_map(|(count, rest)| Some((exact_anion(tokens, rest)?, Some(count))));
        }
        if found.is_none() {
            found = grouped_anion(tokens);
        }
        let ((ion, usage, taken), count) = found?;
        let (taken, behind) = tokens.split_at_checked(taken)?;
        let span = words::span(taken)?;
        self.note_usage(usage, taken, span, ion.name);
        Some((NamedAnion { ion, count, span }, behind))
    }

    fn cation<'a>(&mut self, tokens: &'a [Token]) -> Result<Option<(Named, &'a [Token])>, Error> {
        let Some((first, behind)) = tokens.split_first() else {
            return Ok(None);
        };
        let Some((which, usage, count)) = first.word().and_then(cation) else {
            return Ok(None);
        };
        let (number, taken, bare) = self.charge_number(behind)?;
        let (said, behind) = behind.split_at_checked(taken).unwrap_or_default();
        let span = Span::new(first.span.start, said.last().unwrap_or(first).span.end);
        let mut named = Named { which, count, span };
        if let Some(number) = number {
            named.which = self.numbered(named, number)?;
        }
        let meaning = named.which.cation().map_or_else(
            || {
                which
                    .metal()
                    .map_or_else(String::new, |(metal, _)| metal.name().into())
            },
            Cation::name,
        );
        self.note_usage(usage, &[], first.span, &meaning);
        if bare {
            let written = self.quoted(span);
            let text = format!("`{written}` is written {meaning}.");
            let note = Note::new("bare_number", text).with("name", written);
            self.notes.push(note.with("read_as", meaning));
        }
        Ok(Some((named, behind)))
    }

    /// The charge behind a cation: its size, how many pieces say it, and whether they lack their
    /// brackets.
    fn charge_number(&self, tokens: &[Token]) -> Result<(Option<u8>, usize, bool), Error> {
        let roman = |token: &Token| token.word().and_then(salt::from_roman);
        match tokens {
            [open, number, close, ..]
                if open.is('(') && close.is(')') && roman(number).is_some() =>
            {
                Ok((roman(number), 3, false))
            }
            [open, digits, plus, close, ..] if open.is('(') && plus.is('+') && close.is(')') => {
                let number = digits.number().and_then(|digits| digits.parse().ok());
                number.map_or_else(
                    || Err(self.no_charge(tokens)),
                    |number| Ok((Some(number), 4, false)),
                )
            }
            [open, ..] if open.is('(') => Err(self.no_charge(tokens)),
            [dash, number, ..] if dash.is('-') && roman(number).is_some() => {
                Ok((roman(number), 2, true))
            }
            [number, ..] if roman(number).is_some() => Ok((roman(number), 1, true)),
            _ => Ok((None, 0, false)),
        }
    }

    #[cold]
    fn no_charge(&self, tokens: &[Token]) -> Error {
        let end = tokens.iter().position(|token| token.is(')'));
        let taken = tokens.get(..=end.unwrap_or(0)).unwrap_or_default();
        let span = words::span(taken).unwrap_or(Span::new(0, 0));
        bad(
            span,
            format!("`{}` is not the charge of one ion", self.quoted(span)),
            "write the charge in Roman digits from I to VIII: `iron(III)`",
        )
    }

    /// A cation with the charge that is said of it, if it can bear that.
    fn numbered(&self, named: Named, number: u8) -> Result<Which, Error> {
        let Some((metal, said)) = named.which.metal() else {
            return Err(bad(
                named.span,
                format!(
                    "`{}` has a number that says nothing",
                    self.quoted(named.span)
                ),
                "write its name alone",
            ));
        };
        if said.is_some_and(|said| said != number) {
            return Err(bad(
                named.span,
                format!("`{}` contradicts itself", self.quoted(named.span)),
                format!("write {}(", metal.name()) + salt::roman(number) + ") alone",
            ));
        }
        if !metal.has(number) {
            let known = ions_of(metal, metal.charges());
            return Err(bad(
                named.span,
                format!(
                    "no ion {}({}) is known here",
                    metal.name(),
                    salt::roman(number)
                ),
                format!("known are: {known}"),
            ));
        }
        Ok(named.which.charged(number))
    }

    fn note_usage(&mut self, usage: Usage, tokens: &[Token], span: Span, meaning: &str) {
        let code = match usage {
            Usage::Old => "old_name",
            Usage::Other => "other_name",
            Usage::Current if tokens.iter().any(|token| token.respelt) => "other_name",
            Usage::Current => return,
        };
        self.note_name(code, span, meaning);
    }

    #[cold]
    fn unknown(&self, tokens: &[Token], rest: &[Token]) -> Error {
        let hydrogen = |token: &Token| token.word().is_some_and(|word| word.ends_with("hydrogen"));
        let unread = match rest {
            // What follows belongs to it: the word alone would mislead.
            [first, second, ..] if hydrogen(first) && second.word().is_some() => rest.get(..2),
            _ => rest.get(..1),
        };
        let span = unread.and_then(words::span).unwrap_or(Span::new(0, 0));
        let before = tokens
            .get(..tokens.len() - rest.len())
            .and_then(words::span);
        let written = self.quoted(span);
        let is_word = unread.is_some_and(|unread| unread.iter().all(|t| t.word().is_some()));
        let mut message = match is_word {
            true => format!("`{written}` is not a word of these names"),
            false => format!("`{written}` has no place here in a name"),
        };
        if let Some(before) = before {
            message += &format!("; `{}` was understood", self.quoted(before));
        }
        if rest.first().and_then(Token::word) == Some("borate") {
            let message = format!("`{written}` is used of BO3^3-, of BO2^- and of B4O7^2-");
            let help = "write orthoborate, metaborate or tetraborate";
            return bad(span, message, help);
        }
        let word: String = unread
            .into_iter()
            .flatten()
            .filter_map(Token::word)
            .collect();
        let help = match likely(&word) {
            Some(likely) => format!("perhaps {likely}"),
            None if is_word => "use names of ions: `cobalt(II) chloride hexahydrate`".into(),
            None => "name an adduct with its proportion: `sodium sulfate—water (1/10)`".into(),
        };
        bad(span, message, help)
    }

    // --- charges -------------------------------------------------------------------------

    fn join(&mut self, here: Span, named: &[Named], anion: &NamedAnion) -> Result<Formula, Error> {
        let mut named: Vec<Named> = named.into();
        deduce(&mut named, anion);
        let mut cations = Vec::new();
        for one in &named {
            cations.push(one.which.cation().ok_or_else(|| self.several(one))?);
        }
        let counted = named.iter().any(|one| one.count.is_some()) || anion.count.is_some();
        let salt = match counted {
            true => self.counted(here, &named, &cations, anion)?,
            false => self.simplest(here, &cations, anion)?,
        };
        if let Some((first, second)) = salt.loosely() {
            return Err(bad(
                here,
                format!("`{}` is used of {first} and of {second}", self.quoted(here)),
                "write the formula instead",
            ));
        }
        if !salt.is_plain() {
            return Err(bad(
                here,
                "of a metal with several charges a peroxide cannot be told from an oxide",
                "write the formula instead",
            ));
        }
        // The text is made of the table's formulas: nothing in it is doubtful.
        Formula::read(&salt.formula()).map(|(formula, _)| formula)
    }

    fn simplest(
        &mut self,
        here: Span,
        cations: &[Cation],
        anion: &NamedAnion,
    ) -> Result<Salt, Error> {
        let salt = Salt::simplest(cations, anion.ion).map_err(|open| match open {
            Open::Tie(first, second) => bad(
                here,
                format!("the name may mean {first} or {second}"),
                "say how many of each: `dipotassium sodium phosphate`",
            ),
            Open::None => bad(
                here,
                "the ratio of so many cations does not follow from a name",
                "write the formula instead",
            ),
        })?;
        if cations.len() > 1 {
            let formula = salt.formula();
            let text = format!(
                "The name does not say the ratio of its cations; the simplest was taken: {formula}."
            );
            self.notes
                .push(Note::new("simplest_ratio", text).with("formula", formula));
        }
        Ok(salt)
    }

    /// A salt whose name says how many there are of some of its ions.
    fn counted(
        &self,
        here: Span,
        named: &[Named],
        cations: &[Cation],
        anion: &NamedAnion,
    ) -> Result<Salt, Error> {
        let unbalanced = || {
            bad(
                here,
                format!("the charges of `{}` do not cancel", self.quoted(here)),
                "check the numbers, or leave them out: `sodium sulfate`",
            )
        };
        if named.len() > 2 {
            return Err(bad(
                here,
                "a name of more than two cations is not read",
                "write the formula instead",
            ));
        }
        let mut counts = Vec::new();
        let mut above = 0;
        for (one, cation) in named.iter().zip(cations) {
            let count = cation
                .units(one.count.unwrap_or(1))
                .ok_or_else(unbalanced)?;
            above += cation.charge() * count;
            counts.push((*cation, count));
        }
        let salt = Salt {
            cations: counts,
            anion: anion.ion,
            anions: anion.count.unwrap_or(above / u32::from(anion.ion.charge)),
        };
        salt.is_neutral().then_some(salt).ok_or_else(unbalanced)
    }

    #[cold]
    fn several(&self, named: &Named) -> Error {
        let Some((metal, _)) = named.which.metal() else {
            return bad(named.span, "a cation without a charge", "write its charge");
        };
        let known = ions_of(metal, metal.common.iter().copied());
        bad(
            named.span,
            format!("`{}` forms several ions: {known}", self.quoted(named.span)),
            format!(
                "write which one is meant: {}",
                known.replace(" and ", " or ")
            ),
        )
    }
}

/// Where all counts but one charge are said, the charge follows.
fn deduce(named: &mut [Named], anion: &NamedAnion) {
    let open = |one: &Named| one.which.cation().is_none();
    let Some(anions) = anion.count else { return };
    if named.iter().filter(|one| open(one)).count() != 1 {
        return;
    }
    let others = named.iter().filter_map(|one| {
        let charge = one.which.cation()?.charge();
        Some(charge * one.count.unwrap_or(1))
    });
    let left = (u32::from(anion.ion.charge) * anions).checked_sub(others.sum());
    let Some(one) = named.iter_mut().find(|one| open(one)) else {
        return;
    };
    let count = one.count.unwrap_or(1);
    let charge = left.filter(|left| left % count == 0);
    let charge = charge.and_then(|left| u8::try_from(left / count).ok());
    let metal = one.which.metal();
    if let (Some(charge), Some((metal, _))) = (charge, metal) {
        if metal.has(charge) {
            one.which = one.which.charged(charge);
        }
    }
}

fn ions_of(metal: &Metal, charges: impl Iterator<Item = u8>) -> String {
    let ions: Vec<String> = charges
        .map(|charge| format!("{}({})", metal.name(), salt::roman(charge)))
        .collect();
    match ions.split_last() {
        Some((last, [])) => last.to_string(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
        None => String::new(),
    }
}

/// The ion whose name begins with this word, and how many pieces the name takes: `hydrogen
/// carbonate` may be written apart, and a complex has its metal's charge in brackets.
fn exact_anion(tokens: &[Token], first: &str) -> Option<(&'static Ion, Usage, usize)> {
    (1..=3).rev().find_map(|words| {
        let more = tokens.get(1..words)?.iter().map(Token::word);
        let mut name = String::from(first);
        for word in more {
            name.push_str(word?);
        }
        if let Some([open, number, close]) = tokens.get(words..words + 3) {
            if let (true, Some(number), true) = (open.is('('), number.word(), close.is(')')) {
                if let Some((ion, usage)) = salt::anion(&format!("{name}({number})")) {
                    return Some((ion, usage, words + 3));
                }
            }
        }
        salt::anion(&name).map(|(ion, usage)| (ion, usage, words))
    })
}

/// `bis(sulfate)`
#[allow(clippy::type_complexity, reason = "as for the anions without brackets")]
fn grouped_anion(tokens: &[Token]) -> Option<((&'static Ion, Usage, usize), Option<u32>)> {
    let count = numbers::multiplied(tokens.first()?.word()?)?;
    let inside = tokens.get(2..)?;
    let (ion, usage, taken) = exact_anion(inside, inside.first()?.word()?)?;
    let bracketed = tokens.get(1)?.is('(') && inside.get(taken)?.is(')');
    bracketed.then_some(((ion, usage, taken + 3), Some(count)))
}

/// The cation that a word names, with how many of it.
fn cation(word: &str) -> Option<(Which, Usage, Option<u32>)> {
    if let Some((which, usage)) = bare_cation(word) {
        return Some((which, usage, None));
    }
    if let Some(metal) = word.strip_prefix("aqua").and_then(metal) {
        return Some((Which::Aqua(metal, None, 1), Usage::Current, None));
    }
    numbers::beginnings(word).find_map(|(count, rest)| {
        if let Some(metal) = rest.strip_prefix("aqua").and_then(metal) {
            return Some((Which::Aqua(metal, None, count), Usage::Current, None));
        }
        bare_cation(rest).map(|(which, usage)| (which, usage, Some(count)))
    })
}

fn metal(name: &str) -> Option<&'static Metal> {
    METALS.iter().find(|metal| metal.name() == name)
}

fn bare_cation(word: &str) -> Option<(Which, Usage)> {
    if let Some(metal) = metal(word) {
        return Some((Which::Metal(metal, None), Usage::Current));
    }
    if let Some(ion) = CATIONS.iter().find(|ion| ion.name == word) {
        return Some((Which::Ion(ion), Usage::Current));
    }
    let (_, symbol, charge, usage) = CALLED.iter().find(|(name, ..)| *name == word)?;
    Some((Which::Metal(Metal::of(symbol)?, *charge), *usage))
}
