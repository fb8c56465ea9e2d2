//! The molar mass of a formula: exact, with its uncertainty and the table it came from.

use alloc::boxed::Box;
use core::fmt;

use rust_decimal::Decimal;

use crate::element::{Atom, AtomicWeights, Edition, NO_WEIGHT, UNIT_PLACES, Units, WeightTable};
use crate::formula::atoms::{Composition, Counter, Uncounted, product, walk};
use crate::formula::error::Error;
use crate::formula::repr::{Formula, Head, Packed, Token};
use crate::number::{Ratio, nearest_decimal};

/// A molar mass in grams a mole.
///
/// ```
/// use effloresce::{AtomicWeights, Formula};
/// let salt: Formula = "MgSO4".parse()?;
/// let mass = salt.molar_mass(&AtomicWeights::default())?;
/// assert_eq!(mass.to_string(), "120.361");
/// assert_eq!(mass.edition().year(), "2024");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Clone)]
pub struct MolarMass {
    exact: Exact,
    deviation: Deviation,
    /// The atoms, where the deviation is yet to be worked out of them; else it means nothing.
    atoms: Head,
    edition: Edition,
}

/// The standard uncertainty, or what it is worked out from when it is asked for, as it seldom is.
#[derive(Clone)]
enum Deviation {
    Known(f64),
    /// Of the atoms, which are told in so many words, by a published table.
    Of(u16, &'static WeightTable),
}

/// The exact mass. Nearly always it is a whole number of units; a weight given by hand may have
/// more places.
#[derive(Debug, Clone)]
enum Exact {
    /// In units of 10⁻¹², over a denominator that fractional counts bring.
    Units(u128, u64),
    /// Behind a pointer: then nothing ever needs the address of the mass itself, and its parts may stay
    /// in registers.
    Fraction(Box<Ratio>),
}

impl MolarMass {
    /// The exact sum of the weights used.
    #[must_use]
    pub fn exact(&self) -> Ratio {
        match &self.exact {
            Exact::Units(units, denominator) => ratio(*units, *denominator),
            Exact::Fraction(exact) => exact.as_ref().clone(),
        }
    }

    /// The nearest decimal of 28 digits.
    #[must_use]
    #[inline]
    pub fn value(&self) -> Decimal {
        match &self.exact {
            // Halves and fifths of weights nearly always end within the unit.
            Exact::Units(units, denominator) => match u64::try_from(*units) {
                Ok(units) if *denominator == 1 => shortest(units),
                Ok(units) if units % denominator == 0 => shortest(units / denominator),
                _ => decimal(*units, *denominator),
            },
            Exact::Fraction(exact) => exact.to_decimal().unwrap_or(Decimal::MAX),
        }
    }

    /// The standard uncertainty: each element's weight lies anywhere within its published limit
    /// (rectangular: limit over √3), all its atoms deviate together, and the elements are
    /// independent. Hydrogen and oxygen of salt and water count together, once each.
    ///
    /// Of the 14 elements whose standard atomic weight is an interval, the value used is the
    /// abridged (or conventional) one and the limit is the abridged one's ±, which takes in the
    /// whole interval: nothing is assumed about which natural material the sample came from. A
    /// rounded table adds the distance that each weight moved; a weight given by hand has no limit;
    /// a nuclide's mass has its published standard uncertainty.
    #[must_use]
    pub fn uncertainty(&self) -> f64 {
        match &self.deviation {
            Deviation::Known(uncertainty) => *uncertainty,
            Deviation::Of(words, table) => {
                let of_atom = |atom| table.of_atom(atom);
                uncertainty(&self.atoms.unpacked(*words), of_atom).unwrap_or_default()
            }
        }
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }
}

impl fmt::Display for MolarMass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.exact().to_plain())
    }
}

impl Formula {
    /// The molar mass; that of an ion neglects its electrons.
    ///
    /// # Errors
    /// `no_standard_weight` where an element has none and none was given by hand;
    /// `unknown_degree` where a count is left open.
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
        if let Some(table) = weights.published() {
            if let Some(exact) = Sum::of(&self.packed, table, weights) {
                return Ok(MolarMass {
                    exact,
                    deviation: match self.packed.is_short() {
                        true => Deviation::Of(self.packed.length(), table),
                        false => Deviation::Known(self.uncertainty(table)),
                    },
                    atoms: self.packed.head(),
                    edition: weights.edition(),
                });
            }
        }
        // A mass of its own, which is filled by reference, so that the one above needs no place.
        let mut mass = MolarMass {
            exact: Exact::Units(0, 1),
            deviation: Deviation::Known(0.0),
            atoms: Head::NONE,
            edition: weights.edition(),
        };
        self.weigh_otherwise(weights, &mut mass)?;
        Ok(mass)
    }

    /// The molar mass by weights that are not those of a published table, or of atoms that are not
    /// counted so simply.
    #[cold]
    fn weigh_otherwise(&self, weights: &AtomicWeights, mass: &mut MolarMass) -> Result<(), Error> {
        *mass = match weights.published() {
            None => self.weigh_by_own(weights)?,
            Some(_) => self.weigh_by_fractions(weights)?,
        };
        Ok(())
    }

    /// That of a long formula is worked out at once, so that the mass need not hold its atoms.
    #[cold]
    fn uncertainty(&self, table: &WeightTable) -> f64 {
        uncertainty(&self.packed, |atom| table.of_atom(atom)).unwrap_or_default()
    }

    /// The molar mass by weights that are not those of a published table.
    #[cold]
    fn weigh_by_own(&self, weights: &AtomicWeights) -> Result<MolarMass, Error> {
        let elements = self.packed.tokens().filter_map(|token| match token {
            Token::Atom(atom, _) if atom.mass_number().is_none() => Some(atom.element()),
            _ => None,
        });
        let table = weights.table_of(elements);
        let of_atom = |atom: Atom| match atom.mass_number() {
            None => table.of_atom(atom),
            Some(_) => weights.units(atom),
        };
        let uncertainty = || uncertainty(&self.packed, of_atom);
        match Sum::of(&self.packed, &table, weights).zip(uncertainty()) {
            Some((exact, uncertainty)) => Ok(MolarMass {
                exact,
                deviation: Deviation::Known(uncertainty),
                atoms: Head::NONE,
                edition: weights.edition(),
            }),
            None => self.weigh_by_fractions(weights),
        }
    }

    /// The molar mass where a weight is no whole number of units, or there is none, or where atoms
    /// are not counted so simply.
    #[cold]
    fn weigh_by_fractions(&self, weights: &AtomicWeights) -> Result<MolarMass, Error> {
        let tally = self.packed.tally(None).map_err(|why| self.uncounted(why))?;
        let mut exact = Ratio::ZERO;
        let mut variance = 0.0;
        for (atom, count) in Composition::from(&tally).iter() {
            let weight = weights
                .atom(atom)
                .map_err(|error| self.no_weight(atom.element(), &error))?;
            exact = &exact + &(count * weight.value());
            let part = count.to_f64() * weight.standard_uncertainty();
            variance += part * part;
        }
        Ok(MolarMass {
            exact: Exact::Fraction(Box::new(exact)),
            deviation: Deviation::Known(libm::sqrt(variance)),
            atoms: Head::NONE,
            edition: weights.edition(),
        })
    }
}

/// A sum of weights while atoms are counted.
struct Sum<'w> {
    table: &'w WeightTable,
    weights: &'w AtomicWeights,
    units: u128,
    /// Every bit that a weight had.
    bits: u64,
    denominator: u64,
}

impl Sum<'_> {
    /// The sum of the weights of all atoms; `None` where there is no such weight, or where the atoms
    /// are not counted so simply.
    #[inline]
    fn of(packed: &Packed, table: &WeightTable, weights: &AtomicWeights) -> Option<Exact> {
        let sum = Sum {
            table,
            weights,
            units: 0,
            bits: 0,
            denominator: 1,
        };
        let sum = walk(packed.tokens(), None, sum).ok()?;
        (sum.bits & NO_WEIGHT == 0).then_some(Exact::Units(sum.units, sum.denominator))
    }

    #[inline(always)]
    fn add(&mut self, weight: u64, number: u64) {
        self.units += u128::from(number) * u128::from(weight);
        self.bits |= weight;
    }
}

impl Counter for Sum<'_> {
    #[inline(always)]
    fn plain(&mut self, z: u8, number: u64) -> Result<(), Uncounted> {
        self.add(self.table.weight(z), number);
        Ok(())
    }

    fn other(&mut self, atom: Atom, number: u64) -> Result<(), Uncounted> {
        let weight = match atom.mass_number() {
            None => self.table.weight(atom.element().number()),
            Some(_) => {
                let units = self.weights.units(atom);
                units.map_or(NO_WEIGHT, |units| units.weight)
            }
        };
        self.add(weight, number);
        Ok(())
    }

    fn refine(&mut self, finer: u64) -> Result<(), Uncounted> {
        let units = self.units.checked_mul(finer.into());
        // What is added later does not double it.
        let units = units.filter(|units| *units <= u128::MAX / 4);
        self.units = units.ok_or(Uncounted::TooMany)?;
        self.denominator = product(self.denominator, finer)?;
        Ok(())
    }
}

/// The standard uncertainty of a sum of weights; `None` where there is none.
fn uncertainty(packed: &Packed, units: impl Fn(Atom) -> Option<Units>) -> Option<f64> {
    let tally = packed.tally(None).ok()?;
    let (mut limits, mut standard) = (0.0, 0.0);
    for (atom, count) in tally.counts() {
        let units = units(atom)?;
        let part = count as f64 * units.limit as f64;
        if units.rectangular {
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

/// So many units over a denominator.
fn ratio(units: u128, denominator: u64) -> Ratio {
    let unit = i128::from(denominator).checked_mul(10_i128.pow(UNIT_PLACES));
    let exact = i128::try_from(units).ok().zip(unit);
    exact
        .and_then(|(n, d)| Ratio::new(n, d))
        .unwrap_or_default()
}

/// So many units over a denominator, as the nearest decimal of 28 figures.
#[cold]
fn decimal(units: u128, denominator: u64) -> Decimal {
    let below = u128::from(denominator) * 10_u128.pow(UNIT_PLACES);
    // 128 bits of units are fewer than 10²⁷ g/mol, and the denominator leaves room for long division.
    nearest_decimal(units, below).unwrap_or(Decimal::MAX)
}

/// A whole number of units as the decimal with the fewest places.
#[inline]
fn shortest(mut units: u64) -> Decimal {
    let mut places = UNIT_PLACES;
    // Weights of natural elements seldom have more places than the four that are left.
    if let Some(quotient) = EIGHT_PLACES.divide(units) {
        (units, places) = (quotient, places - EIGHT_PLACES.exponent);
    }
    while let Some(quotient) = ONE_PLACE.divide(units).filter(|_| places > 0) {
        (units, places) = (quotient, places - 1);
    }
    Decimal::from_parts(units as u32, (units >> 32) as u32, 0, false, places)
}

/// A power of ten.
struct Power {
    exponent: u32,
    /// Of five to the same power, modulo 2⁶⁴.
    inverse: u64,
    /// The largest quotient by it.
    most: u64,
}

const EIGHT_PLACES: Power = power(8);
const ONE_PLACE: Power = power(1);

impl Power {
    /// The quotient of a number that it divides.
    ///
    /// The product with the inverse of a power of five, turned right by as many bits, is the quotient
    /// by the power of ten where that divides the number; where not, it is larger than any quotient.
    #[inline(always)]
    const fn divide(&self, number: u64) -> Option<u64> {
        let quotient = number
            .wrapping_mul(self.inverse)
            .rotate_right(self.exponent);
        if quotient <= self.most {
            Some(quotient)
        } else {
            None
        }
    }
}

const fn power(exponent: u32) -> Power {
    let five = 5_u64.pow(exponent);
    let mut inverse = five;
    // An odd number is its own inverse in the last three bits; each step doubles what is right.
    let mut right = 3;
    while right < u64::BITS {
        inverse = inverse.wrapping_mul(2_u64.wrapping_sub(five.wrapping_mul(inverse)));
        right *= 2;
    }
    Power {
        exponent,
        inverse,
        most: u64::MAX / 10_u64.pow(exponent),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_decimal_is_the_nearest() {
        let unit = Ratio::power_of_ten(-(UNIT_PLACES as i32));
        let (mut exact, mut compared) = (0, 0);
        let mut units = 1_u128;
        for step in 0..400_u128 {
            units = units * 3 / 2 + 1 + step % 7;
            if units > 1 << 100 {
                units = 1_000_000 + step;
            }
            for denominator in [1, 2, 3, 7, 10, 64, 625, 999, 65_536, 999_999_999] {
                let below = Ratio::from(denominator);
                let above = Ratio::new(i128::try_from(units).unwrap(), 1).unwrap();
                let value = (&above * &unit).checked_div(&below).unwrap();
                assert_eq!(ratio(units, denominator), value);
                let expected = value.decimal_of_digits().unwrap();
                let nearest = decimal(units, denominator);
                assert_eq!(nearest, expected, "{units} over {denominator}");
                assert_eq!(nearest.scale(), expected.scale());
                compared += 1;
                if let (Ok(units), true) =
                    (u64::try_from(units), units % u128::from(denominator) == 0)
                {
                    let shortest = shortest(units / denominator);
                    assert_eq!(shortest, expected, "{units} over {denominator}");
                    assert_eq!(shortest.scale(), expected.scale());
                    exact += 1;
                }
            }
        }
        assert!(compared > 2000 && exact > 300, "{compared} {exact}");
    }

    /// Worked out of few words that are kept, of many at once: both are what the composition gives.
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
            // Fractions whose words have noughts among them.
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
            match mass.deviation {
                Deviation::Known(_) => known += 1,
                Deviation::Of(..) => kept += 1,
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

    /// Every number of trailing noughts, and numbers that no power of ten divides.
    #[test]
    fn as_few_places_as_it_takes() {
        for power in 0..=12 {
            for odd in [1_u64, 3, 7, 24_305, 999_999] {
                let Some(units) = odd.checked_mul(10_u64.pow(power)) else {
                    continue;
                };
                let decimal = shortest(units);
                assert_eq!(decimal.scale(), UNIT_PLACES - power, "{units}");
                let expected = Decimal::from_i128_with_scale(units.into(), UNIT_PLACES);
                assert_eq!(decimal, expected);
            }
        }
        assert_eq!(
            alloc::format!("{}", shortest(u64::MAX)),
            "18446744.073709551615"
        );
        assert_eq!(
            alloc::format!("{}", shortest(18_000_000 * 10_u64.pow(12))),
            "18000000"
        );
    }
}
