//! What a formula is made of: atoms of each kind, exactly.

use alloc::format;
use alloc::vec::Vec;

use super::error::{Error, ErrorKind};
use super::notation::Bracket;
use super::{Count, Formula, Part, Place, Term, is_water};
use crate::element::{Atom, AtomicWeights, Element};
use crate::number::Ratio;
use crate::text::Span;

/// The atoms of a formula unit, in order of appearance; labelled atoms stand right after
/// their element.
///
/// ```
/// use effloresce::Formula;
/// let hydrate: Formula = "CaSO4·0.5H2O".parse()?;
/// let counts: Vec<String> = hydrate
///     .composition()?
///     .iter()
///     .map(|(atom, count)| format!("{atom} {count}"))
///     .collect();
/// assert_eq!(counts, ["Ca 1", "S 1", "O 4.5", "H 1"]);
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Composition {
    counts: Vec<(Atom, Ratio)>,
}

impl Composition {
    /// Each kind of atom with its count.
    pub fn iter(&self) -> impl Iterator<Item = (Atom, &Ratio)> {
        self.counts.iter().map(|(atom, count)| (*atom, count))
    }

    /// How many atoms of this kind there are.
    #[must_use]
    pub fn count(&self, atom: Atom) -> Ratio {
        self.iter()
            .find(|(a, _)| *a == atom)
            .map_or(Ratio::ZERO, |(_, count)| count.clone())
    }

    fn add(&mut self, atom: Atom, count: &Ratio) {
        if let Some((_, sum)) = self.counts.iter_mut().find(|(a, _)| *a == atom) {
            *sum = &*sum + count;
            return;
        }
        let first = self
            .counts
            .iter()
            .position(|(a, _)| a.element() == atom.element());
        let at = first.map_or(self.counts.len(), |first| {
            // Within one element: natural first, then by mass number.
            self.counts
                .iter()
                .enumerate()
                .skip(first)
                .find(|(_, (a, _))| a.element() != atom.element() || *a > atom)
                .map_or(self.counts.len(), |(index, _)| index)
        });
        self.counts.insert(at, (atom, count.clone()));
    }

    /// Carbon, then hydrogen, then by symbol; without carbon all by symbol.
    pub(super) fn hill_order(&self) -> Vec<(Atom, &Ratio)> {
        let carbon = self
            .iter()
            .any(|(atom, _)| atom.element() == Element::CARBON);
        let rank = |atom: Atom| match atom.element() {
            Element::CARBON if carbon => 0,
            Element::HYDROGEN if carbon => 1,
            _ => 2,
        };
        let mut sorted: Vec<(Atom, &Ratio)> = self.iter().collect();
        sorted.sort_by_key(|(atom, _)| (rank(*atom), atom.element().symbol(), *atom));
        sorted
    }
}

impl Part {
    /// Calls `visit` with every atom, how often it stands in the part (the coefficient
    /// included), and its place; stops at a count that is left open and returns its place.
    fn visit(&self, mut visit: impl FnMut(Atom, Ratio, Place)) -> Result<(), Place> {
        let mut factor = self.coefficient.ratio().ok_or(self.place)?;
        let mut outer = Vec::new();
        // From the back, so that a group's count is known before its atoms come.
        for term in self.terms.iter().rev() {
            match term {
                Term::Close(_, count, place) => {
                    let inner = &factor * &count.ratio().ok_or(*place)?;
                    outer.push(core::mem::replace(&mut factor, inner));
                }
                Term::Open(_) => factor = outer.pop().unwrap_or(Ratio::ONE),
                Term::Atom(atom, count, place) => {
                    visit(*atom, &factor * &count.ratio().ok_or(*place)?, *place);
                }
            }
        }
        Ok(())
    }
}

impl Formula {
    /// The atoms of one formula unit.
    ///
    /// # Errors
    /// `unknown_degree` where a count is left open, as in `CuSO4·xH2O`.
    pub fn composition(&self) -> Result<Composition, Error> {
        let mut composition = Composition::default();
        for part in &self.parts {
            let mut atoms = Vec::with_capacity(part.terms.len());
            part.visit(|atom, count, _| atoms.push((atom, count)))
                .map_err(unknown_degree)?;
            for (atom, count) in atoms.iter().rev() {
                composition.add(*atom, count);
            }
        }
        Ok(composition)
    }

    /// The sums of all counts that are known, whatever is left open beside them.
    pub(super) fn known_counts(&self) -> Vec<(Atom, Ratio)> {
        let mut composition = Composition::default();
        for part in &self.parts {
            // An open count ends the part's walk: what it leaves out cannot be too large.
            let _open = part.visit(|atom, count, _| composition.add(atom, &count));
        }
        composition.counts
    }

    /// Where an element stands in the text that was read, if it was.
    pub(super) fn place_of(&self, element: Element) -> Option<Span> {
        self.parts
            .iter()
            .flat_map(|part| &part.terms)
            .find_map(|term| match term {
                Term::Atom(atom, _, place) if atom.element() == element => place.0,
                _ => None,
            })
    }

    /// The water bound inside brackets, as in `[Cu(H2O)4]SO4·H2O`, in moles for each mole of the
    /// formula; `None` where there is none.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let vitriol: Formula = "[Cu(H2O)4]SO4·H2O".parse()?;
    /// assert_eq!(vitriol.waters_coordinated().unwrap().to_string(), "4");
    /// assert_eq!(vitriol.waters().unwrap().to_string(), "1");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn waters_coordinated(&self) -> Option<Ratio> {
        let mut sum: Option<Ratio> = None;
        for part in &self.parts {
            for (index, term) in part.terms.iter().enumerate() {
                let Term::Open(Bracket::Round) = term else {
                    continue;
                };
                let rest = part.terms.get(index + 1..).unwrap_or_default();
                let end = rest.iter().position(|t| !matches!(t, Term::Atom(..)));
                let Some(end) = end else { continue };
                let (inside, Some(Term::Close(_, count, _))) = (&rest[..end], rest.get(end)) else {
                    continue;
                };
                if is_water(inside) {
                    let count = &count.ratio()? * &part.factor_around(index)?;
                    sum = Some(&sum.unwrap_or(Ratio::ZERO) + &count);
                }
            }
        }
        sum
    }

    /// The mass fraction of water, of crystallization and bound in brackets, in per cent; `None`
    /// where the formula has neither.
    ///
    /// # Errors
    /// Where the formula has no molar mass.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Formula, number::TieRule};
    /// let hydrate: Formula = "MgSO4·7H2O".parse()?;
    /// let percent = hydrate.percent_water(&AtomicWeights::default())?.unwrap();
    /// assert_eq!(percent.to_places(2, TieRule::Even).to_string(), "51.17");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[doc(alias = "theoretical percent water")]
    pub fn percent_water(&self, weights: &AtomicWeights) -> Result<Option<Ratio>, Error> {
        let whole = self.molar_mass(weights)?;
        let waters = match (self.waters(), self.waters_coordinated()) {
            (None, None) => return Ok(None),
            (a, b) => &a.unwrap_or_default() + &b.unwrap_or_default(),
        };
        let water = Formula::water().molar_mass(weights)?;
        let mass = &(&waters * water.exact()) * &Ratio::from(100);
        Ok(mass.checked_div(whole.exact()))
    }
}

impl Part {
    /// The product of the coefficient and of the counts of all groups around the term at `index`.
    fn factor_around(&self, index: usize) -> Option<Ratio> {
        let mut factor = self.coefficient.ratio()?;
        let mut depth = 0_usize;
        for term in self.terms.get(index + 1..)? {
            match term {
                Term::Open(_) => depth += 1,
                // The first bracket closed at depth 0 is the group's own.
                Term::Close(_, count, _) => match depth.checked_sub(1) {
                    Some(inner) => depth = inner,
                    None => factor = &factor * &count.ratio()?,
                },
                Term::Atom(..) => {}
            }
        }
        let own = self.terms.get(index + 1..)?.iter().find_map(|t| match t {
            Term::Close(_, count, _) => count.ratio(),
            _ => None,
        })?;
        factor.checked_div(&own)
    }
}

#[cold]
pub(super) fn unknown_degree(place: Place) -> Error {
    let message = "the formula leaves a count open, so it has no molar mass";
    let help = "write the number, or find it with a dehydration";
    match place.0 {
        Some(span) => Error::say(ErrorKind::UnknownDegree, span, message, help),
        None => Error::new(
            ErrorKind::UnknownDegree,
            crate::text::Detail::new(message).help(help),
        ),
    }
}

#[cold]
pub(super) fn no_weight(
    formula: &Formula,
    element: Element,
    error: &crate::element::Error,
) -> Error {
    let message = format!("{error}");
    let help = alloc::string::String::from(error.help().unwrap_or("give a weight by hand"));
    match formula.place_of(element) {
        Some(span) => Error::say(ErrorKind::NoStandardWeight, span, message, help),
        None => Error::new(
            ErrorKind::NoStandardWeight,
            crate::text::Detail::new(message).help(help),
        ),
    }
}

impl Count {
    pub(super) const fn is_one(self) -> bool {
        matches!(self, Count::Known(1, 1))
    }
}
