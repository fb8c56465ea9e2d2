//! A formula to its name: each part is taken apart into ions of the table.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use num_integer::Integer;

use super::HydrateName;
use super::ions::{ANIONS, CATIONS, DIMERCURY, Ion, MOLECULES, Metal};
use super::numbers;
use super::salt::{Cation, Salt};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::repr::{Count, Formula, Part, Term};
use crate::formula::write;
use crate::text::Detail;

/// A salt that is named has no more kinds of ions in a row than this.
const MOST_IONS: usize = 4;
/// No ion of the table has more terms, brackets included.
const MOST_TERMS: usize = 7;

#[cold]
fn unnamed(message: impl Into<String>, help: &'static str) -> Error {
    Error::new(ErrorKind::BadName, Detail::new(message.into()).help(help))
}

pub(super) fn name(formula: &Formula) -> Result<HydrateName, Error> {
    let parts = formula.parts();
    let mut names = Vec::new();
    for part in &parts {
        names.push(part_name(part)?);
    }
    let (name, systematic) = match (parts.as_slice(), names.as_slice()) {
        ([salt], [name]) => {
            if !salt.coefficient.is_one() {
                return Err(unnamed(
                    format!("`{formula}` is several formula units"),
                    "name one of them",
                ));
            }
            if is_molecule(salt) {
                return Err(no_salt(salt));
            }
            (name.clone(), name.clone())
        }
        ([salt, water], [name, _]) if water.is_water() && !salt.is_water() => {
            let systematic = adduct(&parts, &names)?;
            let compositional = match salt.coefficient.is_one() {
                true => format!(
                    "{name} {}hydrate",
                    numbers::degree_prefix(water.coefficient)
                ),
                false => systematic.clone(),
            };
            (compositional, systematic)
        }
        _ => {
            let systematic = adduct(&parts, &names)?;
            (systematic.clone(), systematic)
        }
    };
    Ok(HydrateName {
        formula: formula.clone(),
        name,
        systematic,
        notes: Vec::new(),
    })
}

/// Names joined by dashes, and their proportion in whole numbers.
fn adduct(parts: &[Part], names: &[String]) -> Result<String, Error> {
    let mut common = 1_u32;
    for part in parts {
        if let Count::Known(_, below) = part.coefficient {
            common = Some(common.lcm(&below))
                .filter(|common| *common < 1000)
                .ok_or_else(no_proportion)?;
        }
    }
    let mut counts = Vec::new();
    for part in parts {
        counts.push(match part.coefficient {
            Count::Known(above, below) => above
                .checked_mul(common / below)
                .filter(|count| *count < 1_000_000)
                .ok_or_else(no_proportion)?
                .to_string(),
            Count::Unknown(letter) if common == 1 => letter.to_string(),
            Count::Unknown(_) => return Err(no_proportion()),
        });
    }
    Ok(format!("{} ({})", names.join("—"), counts.join("/")))
}

#[cold]
fn no_proportion() -> Error {
    unnamed(
        "the parts stand in no proportion of short whole numbers",
        "write the formula instead",
    )
}

fn is_molecule(part: &Part) -> bool {
    part.charge == 0 && molecule(part).is_some()
}

fn molecule(part: &Part) -> Option<&'static str> {
    if part.is_water() {
        return Some("water");
    }
    let text = write::plain_part(part);
    let mut known = MOLECULES.iter().filter(|(_, formula)| *formula == text);
    known.next().map(|(name, _)| *name)
}

/// The name of one part, its coefficient aside.
fn part_name(part: &Part) -> Result<String, Error> {
    if part.charge != 0 {
        return Err(unnamed(
            format!("`{}` is an ion, not a salt", write::plain_part(part)),
            "name a formula whose charges cancel",
        ));
    }
    if let Some(name) = molecule(part) {
        return Ok(name.into());
    }
    let texts: Option<Vec<String>> = part.terms.iter().map(term_text).collect();
    let Some(texts) = texts else {
        return Err(no_salt(part));
    };
    let mut search = Search {
        terms: &part.terms,
        texts: &texts,
        ions: Vec::new(),
        fewest: MOST_IONS,
        found: BTreeSet::new(),
    };
    search.from(0);
    let names: Vec<String> = search.found.into_iter().collect();
    match names.as_slice() {
        [] => Err(no_salt(part)),
        [name] => Ok(name.clone()),
        [first, second, ..] => Err(unnamed(
            format!(
                "`{}` can be read as {first} or as {second}",
                write::plain_part(part)
            ),
            "only the name that is meant can tell them apart",
        )),
    }
}

#[cold]
fn no_salt(part: &Part) -> Error {
    unnamed(
        format!(
            "`{}` is no salt of ions that are known here",
            write::plain_part(part)
        ),
        "named are salts of one or two common cations with one common anion, and their hydrates",
    )
}

/// A term as plain text; `None` where it is labelled or its count is not whole.
fn term_text(term: &Term) -> Option<String> {
    let whole = |text: String, count: Count| match count {
        Count::Known(1, 1) => Some(text),
        Count::Known(count, 1) => Some(format!("{text}{count}")),
        Count::Known(..) | Count::Unknown(_) => None,
    };
    match term {
        Term::Atom(atom, _) if atom.mass_number().is_some() => None,
        Term::Atom(atom, count) => whole(atom.element().symbol().into(), *count),
        Term::Open(bracket) => Some(bracket.open().into()),
        Term::Close(bracket, count) => whole(bracket.close().into(), *count),
    }
}

/// An ion found in the formula.
#[derive(Debug, Clone, Copy)]
enum Found {
    Metal(&'static Metal),
    Cation(&'static Ion),
    Aqua(&'static Metal, u32),
    Anion(&'static Ion),
}

/// Takes the terms of a part apart in every way that makes a salt; those of the fewest ions stay.
struct Search<'p> {
    terms: &'p [Term],
    texts: &'p [String],
    ions: Vec<(Found, u32)>,
    fewest: usize,
    found: BTreeSet<String>,
}

impl Search<'_> {
    fn from(&mut self, at: usize) {
        if at == self.terms.len() {
            self.settle();
            return;
        }
        if self.ions.len() >= self.fewest {
            return;
        }
        for (found, count, next) in self.ions_at(at) {
            self.ions.push((found, count));
            self.from(next);
            self.ions.pop();
        }
    }

    /// Every ion that begins here, with its count and where the rest begins.
    fn ions_at(&self, at: usize) -> Vec<(Found, u32, usize)> {
        let mut ions = Vec::new();
        match self.terms.get(at) {
            Some(Term::Atom(atom, Count::Known(count, 1))) => {
                let symbol = atom.element().symbol();
                if let Some(metal) = Metal::of(symbol) {
                    ions.push((Found::Metal(metal), *count, at + 1));
                }
                let of_one = ANIONS.iter().filter(|ion| ion.formula == symbol);
                ions.extend(of_one.map(|ion| (Found::Anion(ion), *count, at + 1)));
            }
            Some(Term::Open(_)) => {
                if let Some((close, count)) = self.closing(at) {
                    let inside = self.text(at + 1, close);
                    let inside = named(&inside).chain(self.aqua(at + 1, close));
                    ions.extend(inside.map(|found| (found, count, close + 1)));
                }
            }
            _ => {}
        }
        for end in at + 1..=(at + MOST_TERMS).min(self.terms.len()) {
            let text = self.text(at, end);
            // A single atom without a count was met above.
            let several = end > at + 1 || text.ends_with(|c: char| c.is_ascii_digit());
            ions.extend(
                named(&text)
                    .filter(|_| several)
                    .map(|found| (found, 1, end)),
            );
        }
        ions
    }

    fn text(&self, from: usize, to: usize) -> String {
        self.texts.get(from..to).unwrap_or_default().concat()
    }

    /// Where the bracket that opens here is closed, and its count.
    fn closing(&self, open: usize) -> Option<(usize, u32)> {
        let mut depth = 0_usize;
        for (index, term) in self.terms.iter().enumerate().skip(open) {
            match term {
                Term::Open(_) => depth += 1,
                Term::Close(_, Count::Known(count, 1)) if depth == 1 => {
                    return Some((index, *count));
                }
                Term::Close(..) => depth = depth.saturating_sub(1),
                Term::Atom(..) => {}
            }
        }
        None
    }

    /// A metal with waters in brackets, and nothing else.
    fn aqua(&self, from: usize, to: usize) -> Option<Found> {
        let [
            Term::Atom(metal, Count::ONE),
            Term::Open(_),
            ..,
            Term::Close(_, count),
        ] = self.terms.get(from..to)?
        else {
            return None;
        };
        let metal = Metal::of(metal.element().symbol())?;
        let inside = self.text(from + 2, to - 1);
        let is_water = matches!(inside.as_str(), "H2O" | "OH2");
        match count {
            Count::Known(waters @ 1..=12, 1) if is_water => Some(Found::Aqua(metal, *waters)),
            _ => None,
        }
    }

    /// Keeps what was found, if it is a salt.
    fn settle(&mut self) {
        let mut anion: Option<(&'static Ion, u32)> = None;
        let mut cations: Vec<(Found, u32)> = Vec::new();
        for (found, count) in &self.ions {
            match found {
                Found::Anion(ion) if anion.is_none() => anion = Some((ion, *count)),
                Found::Anion(_) => return,
                _ => cations.push((*found, *count)),
            }
        }
        let Some((anion, anions)) = anion else { return };
        let choices: Vec<Vec<Cation>> = cations.iter().map(|(found, _)| found.cations()).collect();
        let combined: Vec<Vec<Cation>> = match choices.as_slice() {
            [one] => one.iter().map(|cation| [*cation].into()).collect(),
            [one, other] => one
                .iter()
                .flat_map(|a| other.iter().map(|b| [*a, *b].into()))
                .collect(),
            _ => return,
        };
        for chosen in combined {
            let counts = cations.iter().map(|(_, count)| *count);
            let salt = Salt {
                cations: chosen.into_iter().zip(counts).collect(),
                anion,
                anions,
            };
            self.keep(&salt);
        }
    }

    fn keep(&mut self, salt: &Salt) {
        if !salt.is_neutral() || !salt.is_plain() || salt.repeats() || salt.loosely().is_some() {
            return;
        }
        let Some(name) = salt.name() else { return };
        if self.ions.len() < self.fewest {
            self.found.clear();
            self.fewest = self.ions.len();
        }
        self.found.insert(name);
    }
}

/// The ions of the table that are written so.
fn named(text: &str) -> impl Iterator<Item = Found> {
    let cations = CATIONS.iter().filter(move |ion| ion.is_written(text));
    let anions = ANIONS.iter().filter(move |ion| ion.is_written(text));
    cations.map(Found::Cation).chain(anions.map(Found::Anion))
}

impl Found {
    /// The cation, in each of its charges.
    fn cations(self) -> Vec<Cation> {
        match self {
            // A pair of mercury atoms is an ion of its own.
            Found::Metal(metal) => metal
                .charges()
                .map(|charge| Cation::metal(metal, charge))
                .filter(|cation| !matches!(cation, Cation::Ion(ion) if ion.formula == DIMERCURY))
                .collect(),
            Found::Cation(ion) => [Cation::Ion(ion)].into(),
            Found::Aqua(metal, waters) => metal
                .charges()
                .map(|charge| Cation::Aqua(metal, charge, waters))
                .collect(),
            Found::Anion(_) => Vec::new(),
        }
    }
}
