//! Every way to take a part of a formula apart into the ions of a salt.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::salt::{Cation, CationKind, Salt};
use crate::formula::ions::{ANIONS, CATIONS, Ion, Metal};
use crate::formula::repr::{Count, Part, Term};

/// The largest number of groups of ions in a salt that is named.
const MOST_IONS: usize = 4;
/// The largest number of terms in an ion of the table, brackets included.
const MOST_TERMS: usize = 7;

/// An ion that a formula may contain.
#[derive(Clone, Copy)]
enum IonMatch {
    Cation(CationKind),
    Anion(&'static Ion),
}

/// Takes the terms of a part apart in every way that makes a salt, and keeps those of the fewest
/// ions.
struct IonSearch<'p> {
    part: &'p Part,
    texts: &'p [String],
    ions: Vec<(IonMatch, u32)>,
    fewest: usize,
    names: BTreeSet<String>,
}

/// The names of all salts that this part may be, in alphabetical order.
pub(super) fn salt_names(part: &Part) -> BTreeSet<String> {
    let texts: Option<Vec<String>> = part.terms.iter().map(term_text).collect();
    let Some(texts) = texts else {
        return BTreeSet::new();
    };
    let mut search = IonSearch {
        part,
        texts: &texts,
        ions: Vec::new(),
        fewest: MOST_IONS,
        names: BTreeSet::new(),
    };
    search.from(0);
    search.names
}

/// A term as plain text. `None` if it is labelled or its count is not whole.
fn term_text(term: &Term) -> Option<String> {
    let (text, count) = match term {
        Term::Atom(atom, _) if atom.mass_number().is_some() => return None,
        Term::Atom(atom, count) => (String::from(atom.element().symbol()), *count),
        Term::Open(bracket) => return Some(bracket.open().into()),
        Term::Close(bracket, count) => (bracket.close().into(), *count),
    };
    match count {
        Count::Known(1, 1) => Some(text),
        Count::Known(count, 1) => Some(format!("{text}{count}")),
        Count::Known(..) | Count::Unknown(_) => None,
    }
}

impl IonSearch<'_> {
    fn from(&mut self, start: usize) {
        if start == self.part.terms.len() {
            self.keep_salts();
            return;
        }
        if self.ions.len() >= self.fewest {
            return;
        }
        for (ion, count, next) in self.ions_at(start) {
            self.ions.push((ion, count));
            self.from(next);
            self.ions.pop();
        }
    }

    /// Every ion that begins here, with its count and the index of the term after it.
    fn ions_at(&self, start: usize) -> Vec<(IonMatch, u32, usize)> {
        let mut ions = Vec::new();
        match self.part.terms.get(start) {
            Some(Term::Atom(atom, Count::Known(count, 1))) => {
                let symbol = atom.element().symbol();
                let metal = Metal::of(symbol).map(|metal| CationKind::Metal(metal, 0));
                let anions = ANIONS.iter().filter(|ion| ion.formula == symbol);
                let matches = metal.into_iter().map(IonMatch::Cation);
                let matches = matches.chain(anions.map(IonMatch::Anion));
                ions.extend(matches.map(|ion| (ion, *count, start + 1)));
            }
            Some(Term::Open(_)) => {
                if let Some((close, Count::Known(count, 1))) = self.part.closing(start) {
                    let text = self.text(start + 1, close);
                    let inside = ions_of(&text).chain(self.aqua(start + 1, close));
                    ions.extend(inside.map(|ion| (ion, count, close + 1)));
                }
            }
            _ => {}
        }
        for end in start + 1..=(start + MOST_TERMS).min(self.part.terms.len()) {
            let text = self.text(start, end);
            // The match above covers a single atom without a count.
            if end > start + 1 || text.ends_with(|c: char| c.is_ascii_digit()) {
                ions.extend(ions_of(&text).map(|ion| (ion, 1, end)));
            }
        }
        ions
    }

    fn text(&self, start: usize, end: usize) -> String {
        self.texts.get(start..end).unwrap_or_default().concat()
    }

    /// A metal with waters in brackets, and nothing else.
    fn aqua(&self, start: usize, end: usize) -> Option<IonMatch> {
        let [
            Term::Atom(metal, Count::ONE),
            Term::Open(_),
            ..,
            Term::Close(_, Count::Known(waters @ 1..=12, 1)),
        ] = self.part.terms.get(start..end)?
        else {
            return None;
        };
        let metal = Metal::of(metal.element().symbol())?;
        let inside = self.part.terms.get(start + 2..end - 1)?;
        Term::are_water(inside).then_some(IonMatch::Cation(CationKind::Metal(metal, *waters)))
    }

    /// Keeps the names of the salts that these ions form.
    fn keep_salts(&mut self) {
        let mut anion: Option<(&'static Ion, u32)> = None;
        let mut cations: Vec<(CationKind, u32)> = Vec::new();
        for (ion, count) in &self.ions {
            match ion {
                IonMatch::Anion(_) if anion.is_some() => return,
                IonMatch::Anion(ion) => anion = Some((ion, *count)),
                IonMatch::Cation(kind) => cations.push((*kind, *count)),
            }
        }
        let Some((anion, anions)) = anion else { return };
        let mut keep = |cations: Vec<(Cation, u32)>| {
            self.keep(&Salt {
                cations,
                anion,
                anions,
            });
        };
        match cations.as_slice() {
            [(one, count)] => {
                for cation in one.cations() {
                    keep([(cation, *count)].into());
                }
            }
            [(one, count), (other, other_count)] => {
                for cation in one.cations() {
                    for other in other.cations() {
                        keep([(cation, *count), (other, *other_count)].into());
                    }
                }
            }
            _ => {}
        }
    }

    fn keep(&mut self, salt: &Salt) {
        let is_unclear = salt.may_be_oxide() || salt.repeats_cation();
        if !salt.is_neutral() || is_unclear || salt.salts_of_this_name().is_some() {
            return;
        }
        let Some(name) = salt.name() else { return };
        if self.ions.len() < self.fewest {
            self.names.clear();
            self.fewest = self.ions.len();
        }
        self.names.insert(name);
    }
}

/// The ions of the table that have this formula.
fn ions_of(text: &str) -> impl Iterator<Item = IonMatch> {
    let cations = CATIONS.iter().filter(move |ion| ion.is_written(text));
    let cations = cations.map(|ion| IonMatch::Cation(CationKind::Ion(ion)));
    let anions = ANIONS.iter().filter(move |ion| ion.is_written(text));
    cations.chain(anions.map(IonMatch::Anion))
}
