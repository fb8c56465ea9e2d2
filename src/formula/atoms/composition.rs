//! The atoms of a formula unit, exactly.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::hash::{Hash, Hasher};

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
///
/// Compositions can be added, subtracted and multiplied, exactly. They are equal if they have the same
/// atoms in any order. A charge is not part of them.
///
/// ```
/// use effloresce::{AtomicWeights, Formula, Ratio};
/// let atoms = |text: &str| text.parse::<Formula>()?.composition();
/// let residue = atoms("MgSO4·7H2O")?.minus(&atoms("H2O")?.times(&Ratio::from(6))?)?;
/// assert_eq!(residue, atoms("MgSO4·H2O")?);
/// assert_eq!(format!("{:.2}", residue.molar_mass(&AtomicWeights::default())?), "138.38");
/// let mut formula = Formula::builder();
/// for (atom, count) in &residue {
///     formula = formula.atom(atom, count);
/// }
/// assert_eq!(formula.build()?.to_string(), "MgSO5H2");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, Default)]
pub struct Composition {
    /// No count is zero or negative, and no atom appears twice.
    counts: Vec<(Atom, Ratio)>,
}

/// Iterates over the atoms of a [`Composition`], each with its count.
#[derive(Debug, Clone)]
pub struct AtomCounts<'a>(core::slice::Iter<'a, (Atom, Ratio)>);

impl<'a> Iterator for AtomCounts<'a> {
    type Item = (Atom, &'a Ratio);

    fn next(&mut self) -> Option<Self::Item> {
        self.0.next().map(|(atom, count)| (*atom, count))
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        self.0.size_hint()
    }
}

impl ExactSizeIterator for AtomCounts<'_> {}

impl<'a> IntoIterator for &'a Composition {
    type Item = (Atom, &'a Ratio);
    type IntoIter = AtomCounts<'a>;

    fn into_iter(self) -> AtomCounts<'a> {
        self.iter()
    }
}

impl Composition {
    /// Takes the atoms whose count is positive. No atom may be there twice.
    pub(crate) fn of_positive(counts: impl IntoIterator<Item = (Atom, Ratio)>) -> Composition {
        let counts = counts.into_iter();
        Composition {
            counts: counts.filter(|(_, count)| count.is_positive()).collect(),
        }
    }

    /// Returns each kind of atom with its count.
    pub fn iter(&self) -> AtomCounts<'_> {
        AtomCounts(self.counts.iter())
    }

    /// Returns the number of atoms of this kind.
    #[must_use]
    pub fn count(&self, atom: Atom) -> Ratio {
        self.iter()
            .find(|(a, _)| *a == atom)
            .map_or(Ratio::ZERO, |(_, count)| count.clone())
    }

    /// Returns the atoms of both.
    #[must_use]
    pub fn plus(&self, other: &Composition) -> Composition {
        let mut sum = self.clone();
        for (atom, count) in other {
            *sum.count_mut(atom) += count;
        }
        sum
    }

    /// Returns the atoms that are left if those of `other` are taken away.
    ///
    /// # Errors
    /// `out_of_range` if there are fewer atoms of a kind than are taken away.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let atoms = |text: &str| text.parse::<Formula>()?.composition();
    /// let error = atoms("H2O")?.minus(&atoms("CO2")?).unwrap_err();
    /// assert_eq!(error.to_string(), "1 C cannot be subtracted from 0 C");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn minus(&self, other: &Composition) -> Result<Composition, Error> {
        let mut rest = self.clone();
        for (atom, count) in other {
            let left = rest.count_mut(atom);
            if *left < *count {
                return Err(Error::nowhere(
                    ErrorKind::OutOfRange,
                    format!("{count} {atom} cannot be subtracted from {left} {atom}"),
                    "subtract no more atoms than there are",
                ));
            }
            *left -= count;
        }
        rest.counts.retain(|(_, count)| !count.is_zero());
        Ok(rest)
    }

    /// Returns the atoms of a number of formula units, which may be a fraction. None are left of zero
    /// units.
    ///
    /// # Errors
    /// `out_of_range` if the factor is negative.
    ///
    /// ```
    /// use effloresce::{Formula, Ratio};
    /// let water = "H2O".parse::<Formula>()?.composition()?;
    /// assert_eq!(water.times(&Ratio::from(7))?.hill(), "H14O7");
    /// assert!(water.times(&Ratio::from(-1)).is_err());
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn times(&self, factor: &Ratio) -> Result<Composition, Error> {
        if factor.is_negative() {
            return Err(Error::nowhere(
                ErrorKind::OutOfRange,
                format!("the factor {factor} is negative"),
                "give a positive factor, or subtract the atoms",
            ));
        }
        let counts = self.iter().map(|(atom, count)| (atom, count * factor));
        let counts = counts.filter(|(_, count)| !count.is_zero()).collect();
        Ok(Composition { counts })
    }

    /// Returns the count of an atom. A new atom gets the count zero, after the atoms of its element with
    /// smaller mass numbers.
    #[allow(clippy::indexing_slicing, reason = "the index is that of the atom")]
    fn count_mut(&mut self, atom: Atom) -> &mut Ratio {
        let same = |(other, _): &&(Atom, Ratio)| other.element() == atom.element();
        let first = self.counts.iter().take_while(|pair| !same(pair)).count();
        let of_element = self.counts.iter().skip(first).take_while(same);
        let at = first + of_element.take_while(|(other, _)| *other < atom).count();
        if self.counts.get(at).is_none_or(|(other, _)| *other != atom) {
            self.counts.insert(at, (atom, Ratio::ZERO));
        }
        &mut self.counts[at].1
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

impl PartialEq for Composition {
    fn eq(&self, other: &Composition) -> bool {
        self.counts.len() == other.counts.len()
            && self.iter().all(|(atom, count)| other.count(atom) == *count)
    }
}

impl Eq for Composition {}

impl Hash for Composition {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let mut sorted: Vec<&(Atom, Ratio)> = self.counts.iter().collect();
        sorted.sort_unstable_by_key(|(atom, _)| *atom);
        sorted.hash(state);
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
                    let count = count.ratio()? * part.groups_around(close)?;
                    sum = Some(sum.unwrap_or(Ratio::ZERO) + count);
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
                Term::Close(_, count) if depth == 0 => product *= count.ratio()?,
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

#[cfg(test)]
mod tests {
    use alloc::string::ToString;

    use super::*;

    fn atoms(text: &str) -> Composition {
        text.parse::<Formula>().unwrap().composition().unwrap()
    }

    fn order(composition: &Composition) -> String {
        let atoms = composition.into_iter();
        atoms
            .map(|(atom, count)| format!("{atom}{count} "))
            .collect()
    }

    #[test]
    fn sums_differences_and_multiples() {
        let water = atoms("H2O");
        let seven = water.times(&Ratio::from(7)).unwrap();
        let hydrate = atoms("MgSO4").plus(&seven);
        assert_eq!(order(&hydrate), "Mg1 S1 O11 H14 ");
        assert_eq!(hydrate, atoms("MgSO4·7H2O"));
        assert_eq!(hydrate.minus(&seven).unwrap(), atoms("MgSO4"));
        let half = "1/2".parse().unwrap();
        assert_eq!(
            atoms("CaSO4").plus(&water.times(&half).unwrap()),
            atoms("CaSO4·0.5H2O")
        );
        assert_eq!(hydrate.minus(&hydrate).unwrap(), Composition::default());
        assert_eq!(water.times(&Ratio::ZERO).unwrap(), Composition::default());
        assert_eq!(atoms("HHeLi").iter().len(), 3);
    }

    #[test]
    fn equal_in_any_order() {
        assert_eq!(atoms("NaCl"), atoms("ClNa"));
        assert_ne!(atoms("NaCl"), atoms("NaCl2"));
        assert_ne!(atoms("NaCl"), atoms("NaClO"));
        assert_ne!(atoms("NaClO"), atoms("NaCl"));
        assert_ne!(atoms("[13C]"), atoms("C"));
    }

    #[test]
    fn labelled_atoms_follow_their_element() {
        let sum = atoms("[37Cl]NaO").plus(&atoms("Cl[35Cl]F"));
        assert_eq!(order(&sum), "Cl1 [35Cl]1 [37Cl]1 Na1 O1 F1 ");
        let sum = atoms("[13C]H4").plus(&atoms("[14C][2H]C"));
        assert_eq!(order(&sum), "C1 [13C]1 [14C]1 H4 [2H]1 ");
        let sum = atoms("CO").plus(&atoms("[13C]O"));
        assert_eq!(order(&sum), "C1 [13C]1 O2 ");
    }

    #[test]
    fn nothing_is_negative() {
        let error = atoms("NaCl").minus(&atoms("NaCl2")).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert_eq!(error.to_string(), "2 Cl cannot be subtracted from 1 Cl");
        assert_eq!(error.help(), Some("subtract no more atoms than there are"));
        let error = atoms("NaCl").times(&"-1/2".parse().unwrap()).unwrap_err();
        assert_eq!(error.to_string(), "the factor -0.5 is negative");
    }
}
