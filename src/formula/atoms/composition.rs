//! The atoms of a formula unit, exactly.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::tally::Tally;
use super::walk::Uncounted;
use crate::element::{Atom, Element};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::repr::{Bracket, Formula, Part, Term};
use crate::number::Ratio;
use crate::text::Detail;

/// The atoms of a formula unit, in order of appearance. Labelled atoms come right after their
/// element.
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
    /// Returns each kind of atom with its count.
    pub fn iter(&self) -> impl Iterator<Item = (Atom, &Ratio)> {
        self.counts.iter().map(|(atom, count)| (*atom, count))
    }

    /// Returns the number of atoms of this kind.
    #[must_use]
    pub fn count(&self, atom: Atom) -> Ratio {
        self.iter()
            .find(|(a, _)| *a == atom)
            .map_or(Ratio::ZERO, |(_, count)| count.clone())
    }

    /// Carbon, then hydrogen, then the rest by symbol. Without carbon all are by symbol.
    pub(in crate::formula) fn hill_order(&self) -> Vec<(Atom, &Ratio)> {
        let carbon = self
            .iter()
            .any(|(atom, _)| atom.element() == Element::CARBON);
        let mut sorted: Vec<(Atom, &Ratio)> = self.iter().collect();
        sorted.sort_unstable_by_key(|(atom, _)| hill_key(*atom, carbon));
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
    /// Returns the atoms of one formula unit.
    ///
    /// # Errors
    /// `unknown_degree` if a count is unknown, as in `CuSO4·xH2O`.
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

    /// Returns the water that is bound inside brackets, as in `[Cu(H2O)4]SO4·H2O`, in moles per mole
    /// of the formula. `None` if there is none.
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
                let Some((close, count)) = part.closing(index) else {
                    continue;
                };
                let inside = part.terms.get(index + 1..close).unwrap_or_default();
                if Term::are_water(inside) {
                    let count = &count.ratio()? * &part.groups_around(close)?;
                    sum = Some(&sum.unwrap_or(Ratio::ZERO) + &count);
                }
            }
        }
        sum
    }
}

impl Part {
    /// The product of the coefficient and of the counts of all groups around a closing bracket.
    fn groups_around(&self, close: usize) -> Option<Ratio> {
        let mut product = self.coefficient.ratio()?;
        let mut depth = 0_usize;
        for term in self.terms.get(close + 1..)? {
            match term {
                Term::Open(_) => depth += 1,
                Term::Close(_, count) if depth == 0 => product = &product * &count.ratio()?,
                Term::Close(..) => depth -= 1,
                Term::Atom(..) => {}
            }
        }
        Some(product)
    }
}

impl Formula {
    /// The error of a formula whose atoms cannot be counted.
    pub(in crate::formula) fn uncounted(&self, why: Uncounted) -> Error {
        let (kind, message, help) = match why {
            Uncounted::UnknownCount => (
                ErrorKind::UnknownDegree,
                "the formula has an unknown count, so it has no molar mass",
                "write the number, or find it with a dehydration",
            ),
            Uncounted::TooMany => (
                ErrorKind::TooLarge,
                "the formula has more atoms than can be counted",
                "check the counts",
            ),
        };
        let span = self.error_spans.unknown_count();
        Error::new(
            kind,
            Detail {
                span,
                ..Detail::new(message).help(help)
            },
        )
    }

    /// The error of an element without a standard atomic weight.
    pub(in crate::formula) fn no_weight(
        &self,
        element: Element,
        error: &crate::element::Error,
    ) -> Error {
        let help = String::from(error.help().unwrap_or("give a weight by hand"));
        let detail = Detail::new(format!("{error}")).help(help);
        let span = self.error_spans.element(element);
        Error::new(ErrorKind::NoStandardWeight, Detail { span, ..detail })
    }
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
