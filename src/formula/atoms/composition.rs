//! What a formula is made of: atoms of each kind, exactly.

use alloc::format;
use alloc::vec::Vec;

use super::tally::Tally;
use super::walk::Uncounted;
use crate::element::{Atom, AtomicWeights, Element};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::repr::{Bracket, Formula, Part, Term};
use crate::number::Ratio;
use crate::text::{Detail, Span};

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

    /// Carbon, then hydrogen, then by symbol; without carbon all by symbol.
    pub(in crate::formula) fn hill_order(&self) -> Vec<(Atom, &Ratio)> {
        let carbon = self
            .iter()
            .any(|(atom, _)| atom.element() == Element::CARBON);
        let mut sorted: Vec<(Atom, &Ratio)> = self.iter().collect();
        sorted.sort_by_key(|(atom, _)| hill_key(*atom, carbon));
        sorted
    }
}

/// The place of an atom in Hill order, with or without carbon.
pub(crate) fn hill_key(atom: Atom, carbon: bool) -> (u8, &'static str, Atom) {
    let rank = match atom.element() {
        Element::CARBON if carbon => 0,
        Element::HYDROGEN if carbon => 1,
        _ => 2,
    };
    (rank, atom.element().symbol(), atom)
}

impl Formula {
    /// The atoms of one formula unit.
    ///
    /// # Errors
    /// `unknown_degree` where a count is left open, as in `CuSO4·xH2O`.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let hydrate: Formula = "MgSO4·7H2O".parse()?;
    /// let oxygen = hydrate.composition()?.count("O".parse::<effloresce::Element>()?.into());
    /// assert_eq!(oxygen.to_string(), "11"); // 4 + 7
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn composition(&self) -> Result<Composition, Error> {
        let tally = self.packed.tally(None).map_err(|why| self.uncounted(why))?;
        Ok(Composition::from(&tally))
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
        for part in &self.parts() {
            for (index, term) in part.terms.iter().enumerate() {
                let Term::Open(Bracket::Round) = term else {
                    continue;
                };
                let rest = part.terms.get(index + 1..).unwrap_or_default();
                let end = rest.iter().position(|t| !matches!(t, Term::Atom(..)));
                let Some(end) = end else { continue };
                let Some((inside, [Term::Close(_, count), ..])) = rest.split_at_checked(end) else {
                    continue;
                };
                if Term::are_water(inside) {
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
    /// assert_eq!(percent.to_decimal_places(2, TieRule::Even).to_string(), "51.17");
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
        let mass = &(&waters * &water.exact()) * &Ratio::from(100);
        Ok(mass.checked_div(&whole.exact()))
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
                Term::Close(_, count) => match depth.checked_sub(1) {
                    Some(inner) => depth = inner,
                    None => factor = &factor * &count.ratio()?,
                },
                Term::Atom(..) => {}
            }
        }
        let own = self.terms.get(index + 1..)?.iter().find_map(|t| match t {
            Term::Close(_, count) => count.ratio(),
            _ => None,
        })?;
        factor.checked_div(&own)
    }
}

impl Formula {
    /// What keeps the atoms from being counted.
    #[cold]
    pub(in crate::formula) fn uncounted(&self, why: Uncounted) -> Error {
        let (kind, message, help) = match why {
            Uncounted::Open => (
                ErrorKind::UnknownDegree,
                "the formula leaves a count open, so it has no molar mass",
                "write the number, or find it with a dehydration",
            ),
            Uncounted::TooMany => (
                ErrorKind::TooLarge,
                "the formula counts more atoms than are weighed",
                "check the counts: no formula needs as much",
            ),
        };
        at(
            kind,
            self.origins.open_count(),
            Detail::new(message).help(help),
        )
    }

    #[cold]
    pub(in crate::formula) fn no_weight(
        &self,
        element: Element,
        error: &crate::element::Error,
    ) -> Error {
        let help = alloc::string::String::from(error.help().unwrap_or("give a weight by hand"));
        let detail = Detail::new(format!("{error}")).help(help);
        at(
            ErrorKind::NoStandardWeight,
            self.origins.element(element),
            detail,
        )
    }
}

fn at(kind: ErrorKind, span: Option<Span>, detail: Detail) -> Error {
    Error::new(
        kind,
        match span {
            Some(span) => detail.at(span),
            None => detail,
        },
    )
}

impl From<&Tally> for Composition {
    fn from(tally: &Tally) -> Composition {
        let exact = |count: u64| Ratio::new(count.into(), tally.denominator.into());
        let counts = tally.counts();
        Composition {
            counts: counts
                .map(|(atom, count)| (atom, exact(count).unwrap_or_default()))
                .collect(),
        }
    }
}
