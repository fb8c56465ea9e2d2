//! The molar mass of a formula: exact, with its uncertainty and the edition of the weights.

use alloc::boxed::Box;
use alloc::vec::Vec;
use core::fmt;

use rust_decimal::Decimal;

use super::decimal::{decimal, ratio, shortest};
use crate::element::{Atom, AtomicWeights, Edition, Element, NO_WEIGHT, WeightTable, WholeWeight};
use crate::formula::atoms::{Composition, Counter, Uncounted, product, walk};
use crate::formula::error::Error;
use crate::formula::repr::{FirstWords, Formula, Packed, Token};
use crate::number::{Ratio, Rounded, Stated, TieRule, write_number};

/// A molar mass in grams per mole.
///
/// ```
/// use effloresce::{AtomicWeights, Formula, number::TieRule};
/// let salt: Formula = "MgSO4".parse()?;
/// let mass = salt.molar_mass(&AtomicWeights::default())?;
/// assert_eq!(mass.to_string(), "120.361");
/// assert_eq!(format!("{mass:.1}"), "120.4"); // ties to even
/// assert_eq!(mass.to_figures(5, TieRule::Even).to_string(), "120.36");
/// assert_eq!(mass.stated().to_string(), "120.361 ± 0.012");
/// assert_eq!(mass.edition().year(), "2024");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Clone)]
pub struct MolarMass {
    exact: ExactMass,
    uncertainty: MassUncertainty,
    /// The atoms for [`MassUncertainty::Of`], which nothing else uses. They are not in the enum, so that
    /// every mass copies them whole, in registers.
    atoms: FirstWords,
    edition: Edition,
}

/// The standard uncertainty, or what it is calculated from when a caller asks for it.
#[derive(Clone)]
enum MassUncertainty {
    Known(f64),
    /// To be calculated from the atoms, which have this number of words, by a published table.
    Of(u16, &'static WeightTable),
}

/// The exact mass. It is nearly always a whole number of units, but a weight given by hand may have
/// more decimal places.
#[derive(Debug, Clone)]
enum ExactMass {
    /// A number of units of 10⁻¹² over a denominator, which comes from fractional counts.
    Units(u128, u64),
    /// The box keeps the mass itself without an address, so that its parts can stay in registers.
    Fraction(Box<Ratio>),
}

impl MolarMass {
    /// Returns the exact sum of the weights.
    #[must_use]
    pub fn exact(&self) -> Ratio {
        match &self.exact {
            ExactMass::Units(units, denominator) => ratio(*units, *denominator),
            ExactMass::Fraction(exact) => exact.as_ref().clone(),
        }
    }

    /// Returns the nearest decimal of 28 digits.
    ///
    /// `Decimal`, like other decimal types, cuts digits off when it is formatted with a precision.
    /// Format the molar mass itself (`{:.2}`), or round it with [`to_places`](MolarMass::to_places).
    #[must_use]
    #[inline]
    pub fn value(&self) -> Decimal {
        match &self.exact {
            // Halves and fifths of weights are nearly always whole numbers of units.
            ExactMass::Units(units, denominator) => match u64::try_from(*units) {
                Ok(units) if *denominator == 1 => shortest(units),
                Ok(units) if units % denominator == 0 => shortest(units / denominator),
                _ => decimal(*units, *denominator),
            },
            ExactMass::Fraction(exact) => exact.to_decimal().unwrap_or(Decimal::MAX),
        }
    }

    /// Returns the standard uncertainty.
    ///
    /// Each element's weight lies anywhere within its published limit (rectangular: limit over √3).
    /// All atoms of an element deviate together, and the elements are independent. Hydrogen and
    /// oxygen of salt and water count together, once each.
    ///
    /// For the 14 elements whose standard atomic weight is an interval, the value is the abridged (or
    /// conventional) one. The limit is the ± of the abridged value, which covers the whole interval,
    /// so nothing is assumed about the natural material of the sample. A rounded table adds the
    /// distance by which it moved each weight. A weight given by hand has no limit. A nuclide's mass
    /// has its published standard uncertainty.
    #[must_use]
    pub fn uncertainty(&self) -> f64 {
        match &self.uncertainty {
            MassUncertainty::Known(uncertainty) => *uncertainty,
            MassUncertainty::Of(words, table) => {
                let of_atom = |atom| table.of_atom(atom);
                weight_uncertainty(&self.atoms.packed(*words), of_atom).unwrap_or_default()
            }
        }
    }

    /// Rounds the exact molar mass to a number of decimal places (negative: tens, hundreds …).
    #[must_use]
    pub fn to_places(&self, decimal_places: i32, ties: TieRule) -> Rounded {
        self.exact().to_places(decimal_places, ties)
    }

    /// Rounds the exact molar mass to a number of significant figures (at least one).
    #[must_use]
    pub fn to_figures(&self, figures: u32, ties: TieRule) -> Rounded {
        self.exact().to_figures(figures, ties)
    }

    /// Returns the nearest binary floating-point number, for statistics and plots only.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        self.exact().to_f64()
    }

    /// Returns the molar mass with its standard uncertainty, which is rounded to two significant
    /// figures. [`Stated::with_digits`] rounds it to one.
    #[must_use]
    pub fn stated(&self) -> Stated {
        let uncertainty = Ratio::from_float(self.uncertainty()).unwrap_or_default();
        Stated::of(&self.exact(), &uncertainty, 2)
    }

    /// Returns the edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }
}

impl fmt::Display for MolarMass {
    /// Writes plain decimal notation with the nearest 28 significant figures and no final zeros. A
    /// precision (`{:.2}`) is a number of decimal places, to which the exact value is rounded, ties to
    /// even.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_number(f, || self.exact(), || self.exact().to_plain())
    }
}

impl Formula {
    /// Returns the molar mass. For an ion it neglects the electrons.
    ///
    /// # Errors
    /// `no_standard_weight` if an element has no standard atomic weight and none was given by hand.
    /// `unknown_degree` if a count is unknown.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Formula};
    /// let water: Formula = "H2O".parse()?;
    /// let mass = water.molar_mass(&AtomicWeights::default())?;
    /// assert_eq!(mass.to_string(), "18.015"); // 2 × 1.0080 + 15.999
    /// let open: Formula = "CuSO4·xH2O".parse()?;
    /// let error = open.molar_mass(&AtomicWeights::default()).unwrap_err();
    /// assert_eq!(error.code(), "unknown_degree");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[doc(alias = "relative formula mass")]
    #[doc(alias = "RFM")]
    #[doc(alias = "formula weight")]
    #[doc(alias = "molecular weight")]
    #[inline]
    pub fn molar_mass(&self, weights: &AtomicWeights) -> Result<MolarMass, Error> {
        if let Some(table) = weights.published_table() {
            if let Some(exact) = WeightSum::of(&self.packed, table, weights) {
                return Ok(MolarMass {
                    exact,
                    uncertainty: match self.packed.fits_first_words() {
                        true => MassUncertainty::Of(self.packed.length(), table),
                        false => MassUncertainty::Known(self.uncertainty_by_table(table)),
                    },
                    atoms: self.packed.first_words(),
                    edition: weights.edition(),
                });
            }
        }
        // This second mass is filled by reference, so that the first one can stay in registers.
        let mut mass = MolarMass {
            exact: ExactMass::Units(0, 1),
            uncertainty: MassUncertainty::Known(0.0),
            atoms: FirstWords::NONE,
            edition: weights.edition(),
        };
        self.fill_rare_mass(weights, &mut mass)?;
        Ok(mass)
    }

    /// Fills in the molar mass by a table of the caller, or of counts that are too large for [`WeightSum`].
    #[cold]
    fn fill_rare_mass(&self, weights: &AtomicWeights, mass: &mut MolarMass) -> Result<(), Error> {
        *mass = match weights.published_table() {
            None => self.mass_by_own_table(weights)?,
            Some(_) => self.mass_by_fractions(weights)?,
        };
        Ok(())
    }

    /// The uncertainty for a long formula, whose atoms the mass cannot hold.
    #[cold]
    fn uncertainty_by_table(&self, table: &WeightTable) -> f64 {
        weight_uncertainty(&self.packed, |atom| table.of_atom(atom)).unwrap_or_default()
    }

    /// The molar mass by weights that are not those of a published table.
    fn mass_by_own_table(&self, weights: &AtomicWeights) -> Result<MolarMass, Error> {
        let elements = self.packed.tokens().filter_map(|token| match token {
            Token::Atom(atom, _) if atom.mass_number().is_none() => Some(atom.element()),
            _ => None,
        });
        let table = weights.table_of(elements);
        let of_atom = |atom: Atom| match atom.mass_number() {
            None => table.of_atom(atom),
            Some(_) => weights.whole_weight(atom),
        };
        let uncertainty = weight_uncertainty(&self.packed, of_atom);
        match WeightSum::of(&self.packed, &table, weights).zip(uncertainty) {
            Some((exact, uncertainty)) => Ok(MolarMass {
                exact,
                uncertainty: MassUncertainty::Known(uncertainty),
                atoms: FirstWords::NONE,
                edition: weights.edition(),
            }),
            None => self.mass_by_fractions(weights),
        }
    }

    /// The molar mass if a weight is missing or not a whole number of units, or if the numbers are
    /// too large for [`WeightSum`].
    fn mass_by_fractions(&self, weights: &AtomicWeights) -> Result<MolarMass, Error> {
        let tally = self.packed.tally(None).map_err(|why| self.uncounted(why))?;
        let mass = Composition::from(&tally).sum_of_weights(weights);
        mass.map_err(|(element, error)| self.no_weight(element, &error))
    }
}

impl Composition {
    /// Returns the molar mass of these atoms.
    ///
    /// # Errors
    /// `no_standard_weight` if an element has no standard atomic weight and none was given by hand.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Formula};
    /// let atoms = |text: &str| text.parse::<Formula>()?.composition();
    /// let both = atoms("MgSO4")?.plus(&atoms("H2O")?);
    /// assert_eq!(both.molar_mass(&AtomicWeights::default())?.to_string(), "138.376");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn molar_mass(&self, weights: &AtomicWeights) -> Result<MolarMass, Error> {
        let mass = self.sum_of_weights(weights);
        mass.map_err(|(_, error)| error.into())
    }

    /// Returns each kind of atom with its share of the mass, in per cent and exact.
    ///
    /// # Errors
    /// As [`molar_mass`](Composition::molar_mass).
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Formula, number::TieRule};
    /// let water = "H2O".parse::<Formula>()?.composition()?;
    /// let shares = water.mass_percentages(&AtomicWeights::default())?;
    /// let (oxygen, percent) = &shares[1];
    /// assert_eq!(format!("{oxygen} {percent:.2} %"), "O 88.81 %");
    /// assert_eq!(percent.to_figures(3, TieRule::Even).to_string(), "88.8");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn mass_percentages(&self, weights: &AtomicWeights) -> Result<Vec<(Atom, Ratio)>, Error> {
        self.shares(weights, &self.molar_mass(weights)?.exact())
    }

    /// Returns each kind of atom with its share of a mass that is known, in per cent.
    pub(in crate::formula) fn shares(
        &self,
        weights: &AtomicWeights,
        whole: &Ratio,
    ) -> Result<Vec<(Atom, Ratio)>, Error> {
        let share = |(atom, count): (Atom, &Ratio)| {
            let mass = count * weights.atom(atom)?.value() * 100;
            Ok((atom, mass.checked_div(whole).unwrap_or_default()))
        };
        self.iter().map(share).collect()
    }

    /// Sums the weights of all atoms. An error names the element without a weight.
    fn sum_of_weights(
        &self,
        weights: &AtomicWeights,
    ) -> Result<MolarMass, (Element, crate::element::Error)> {
        let mut exact = Ratio::ZERO;
        let mut variance = 0.0;
        for (atom, count) in self {
            let weight = weights.atom(atom);
            let weight = weight.map_err(|error| (atom.element(), error))?;
            exact += count * weight.value();
            let part = count.to_f64() * weight.standard_uncertainty();
            variance += part * part;
        }
        Ok(MolarMass {
            exact: ExactMass::Fraction(Box::new(exact)),
            uncertainty: MassUncertainty::Known(libm::sqrt(variance)),
            atoms: FirstWords::NONE,
            edition: weights.edition(),
        })
    }
}

/// The sum of the weights while atoms are counted.
struct WeightSum<'w> {
    table: &'w WeightTable,
    weights: &'w AtomicWeights,
    units: u128,
    /// The bits of all weights together. They include [`NO_WEIGHT`] if one is missing.
    bits: u64,
    denominator: u64,
}

impl WeightSum<'_> {
    /// The sum of the weights of all atoms. `None` if a weight is missing, or if the numbers are too
    /// large.
    #[inline]
    fn of(packed: &Packed, table: &WeightTable, weights: &AtomicWeights) -> Option<ExactMass> {
        let sum = WeightSum {
            table,
            weights,
            units: 0,
            bits: 0,
            denominator: 1,
        };
        let sum = walk(packed.tokens(), None, sum).ok()?;
        (sum.bits & NO_WEIGHT == 0).then_some(ExactMass::Units(sum.units, sum.denominator))
    }

    #[inline(always)]
    fn add(&mut self, weight: u64, number: u64) {
        self.units += u128::from(number) * u128::from(weight);
        self.bits |= weight;
    }
}

impl Counter for WeightSum<'_> {
    #[inline(always)]
    fn add_natural(&mut self, z: u8, number: u64) -> Result<(), Uncounted> {
        self.add(self.table.weight(z), number);
        Ok(())
    }

    fn add_atom(&mut self, atom: Atom, number: u64) -> Result<(), Uncounted> {
        let weight = match atom.mass_number() {
            None => self.table.weight(atom.element().number()),
            Some(_) => {
                let whole = self.weights.whole_weight(atom);
                whole.map_or(NO_WEIGHT, |whole| whole.weight)
            }
        };
        self.add(weight, number);
        Ok(())
    }

    fn multiply_all(&mut self, factor: u64) -> Result<(), Uncounted> {
        let units = self.units.checked_mul(factor.into());
        // The weights that are added later cannot double the sum.
        let units = units.filter(|units| *units <= u128::MAX / 4);
        self.units = units.ok_or(Uncounted::TooMany)?;
        self.denominator = product(self.denominator, factor)?;
        Ok(())
    }
}

/// The standard uncertainty of a sum of weights. `None` if a weight is missing.
fn weight_uncertainty(
    packed: &Packed,
    weight_of: impl Fn(Atom) -> Option<WholeWeight>,
) -> Option<f64> {
    let tally = packed.tally(None).ok()?;
    let (mut limits, mut standard) = (0.0, 0.0);
    for (atom, count) in tally.counts() {
        let weight = weight_of(atom)?;
        let part = count as f64 * weight.limit as f64;
        if weight.rectangular {
            limits += part * part;
        } else {
            standard += part * part;
        }
    }
    Some(libm::sqrt(limits / 3.0 + standard) * (1e-12 / tally.denominator as f64))
}

impl fmt::Debug for MolarMass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("MolarMass")
            .field("exact", &self.exact())
            .field("uncertainty", &self.uncertainty())
            .field("edition", &self.edition)
            .finish()
    }
}

impl PartialEq for MolarMass {
    fn eq(&self, other: &MolarMass) -> bool {
        (self.exact(), self.uncertainty(), self.edition)
            == (other.exact(), other.uncertainty(), other.edition)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The uncertainty of few words that are kept, and of many at once, equals that of the composition.
    #[test]
    fn the_uncertainty_is_that_of_the_composition() {
        let weights = AtomicWeights::default();
        let long = "CHNOPSKMgCaFeNaCl".repeat(3);
        let (mut kept, mut known) = (0, 0);
        for text in [
            "H2O",
            "MgSO4·7H2O",
            "Al2(SO4)3·18H2O",
            "CaSO4·0.5H2O",
            // Fractions whose words contain zeros.
            "187.554W",
            "C_{65536/65537}O",
            "[13C]2O[18O]",
            "D2O",
            // As many words as are kept, and one more.
            "CHNOPS(CHNOPSKMgCaFeNaCl)2CHNOPSKMgCaFeNaCl",
            "CHNOPSK(CHNOPSKMgCaFeNaCl)2CHNOPSKMgCaFeNaCl",
            &long,
        ] {
            let formula: Formula = text.parse().unwrap();
            let mass = formula.molar_mass(&weights).unwrap();
            match mass.uncertainty {
                MassUncertainty::Known(_) => known += 1,
                MassUncertainty::Of(..) => kept += 1,
            }
            let composition = formula.composition().unwrap();
            let parts = composition.iter().map(|(atom, count)| {
                let weight = weights.atom(atom).unwrap();
                count.to_f64() * weight.standard_uncertainty()
            });
            let expected = libm::sqrt(parts.map(|part| part * part).sum());
            let difference = (mass.uncertainty() - expected).abs();
            assert!(
                difference <= 1e-12 * expected,
                "{text}: {mass:?} {expected}"
            );
        }
        assert_eq!((kept, known), (9, 2));
    }
}
