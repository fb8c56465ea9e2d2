//! The molar mass of a formula: exact, with its uncertainty and the table it came from.

use core::fmt;

use rust_decimal::Decimal;

use super::Formula;
use super::error::Error;
use super::tally::Tally;
use crate::element::{AtomicWeights, Edition, UNIT_PLACES, Units};
use crate::number::Ratio;

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
#[derive(Debug, Clone)]
pub struct MolarMass {
    exact: Exact,
    variance: Variance,
    edition: Edition,
}

/// The square of the uncertainty, before it is asked for: sums of squares of rectangular limits and
/// of standard uncertainties, in units of 10⁻¹² where the mass is.
#[derive(Debug, Clone, Copy, Default)]
struct Variance {
    limits: f64,
    standard: f64,
}

/// The exact mass. Nearly always it is a whole number of units; a weight given by hand may have
/// more places.
#[derive(Debug, Clone)]
enum Exact {
    /// In units of 10⁻¹², over a denominator that fractional counts bring.
    Units(u128, u64),
    Fraction(Ratio),
}

impl MolarMass {
    /// The exact sum of the weights used.
    #[must_use]
    pub fn exact(&self) -> Ratio {
        match &self.exact {
            Exact::Units(units, denominator) => {
                let unit = i128::from(*denominator).checked_mul(10_i128.pow(UNIT_PLACES));
                let exact = i128::try_from(*units).ok().zip(unit);
                exact
                    .and_then(|(n, d)| Ratio::new(n, d))
                    .unwrap_or_default()
            }
            Exact::Fraction(exact) => exact.clone(),
        }
    }

    /// The nearest decimal of 28 digits.
    #[must_use]
    #[inline]
    pub fn value(&self) -> Decimal {
        if let Exact::Units(units, denominator) = self.exact {
            // Halves and fifths of weights nearly always end within the unit.
            match u64::try_from(units) {
                Ok(units) if denominator == 1 => return shortest(units),
                Ok(units) if units % denominator == 0 => return shortest(units / denominator),
                _ => {}
            }
        }
        // A formula's atoms are bounded, so that its mass always fits.
        self.exact().to_decimal().unwrap_or(Decimal::MAX)
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
        let Variance { limits, standard } = self.variance;
        let units = libm::sqrt(limits / 3.0 + standard);
        match self.exact {
            Exact::Units(_, denominator) => units * (1e-12 / denominator as f64),
            Exact::Fraction(_) => units,
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
        let mut tally = Tally::new();
        self.tally_into(&mut tally, None)
            .map_err(|why| self.uncounted(why))?;
        let mut sum = 0_u128;
        let mut variance = Variance::default();
        let mut add = |count: u64, units: Units| {
            sum += u128::from(count) * u128::from(units.weight);
            // No count has more than 60 bits.
            let part = count as i64 as f64 * units.limit as i64 as f64;
            if units.rectangular {
                variance.limits += part * part;
            } else {
                variance.standard += part * part;
            }
        };
        let published = weights.published();
        for (element, count) in tally.rows() {
            let units = match published {
                Some(table) => table.of(element),
                None => weights.units(element.into()),
            };
            match units {
                Some(units) => add(count, units),
                None if count == 0 => {}
                None => return self.weigh_by_fractions(&tally, weights),
            }
        }
        for (atom, count) in tally.others() {
            let Some(units) = weights.units(atom) else {
                return self.weigh_by_fractions(&tally, weights);
            };
            add(count, units);
        }
        Ok(MolarMass {
            exact: Exact::Units(sum, tally.denominator),
            variance,
            edition: weights.edition(),
        })
    }

    /// The molar mass where a weight is no whole number of units, or there is none.
    #[cold]
    fn weigh_by_fractions(
        &self,
        tally: &Tally,
        weights: &AtomicWeights,
    ) -> Result<MolarMass, Error> {
        let mut exact = Ratio::ZERO;
        let mut standard = 0.0;
        for (atom, count) in super::Composition::from(tally).iter() {
            let weight = weights
                .atom(atom)
                .map_err(|error| self.no_weight(atom.element(), &error))?;
            exact = &exact + &(count * weight.value());
            let part = count.to_f64() * weight.standard_uncertainty();
            standard += part * part;
        }
        Ok(MolarMass {
            exact: Exact::Fraction(exact),
            variance: Variance {
                standard,
                ..Variance::default()
            },
            edition: weights.edition(),
        })
    }
}

impl PartialEq for MolarMass {
    fn eq(&self, other: &MolarMass) -> bool {
        (self.exact(), self.uncertainty(), self.edition)
            == (other.exact(), other.uncertainty(), other.edition)
    }
}

/// A whole number of units as the decimal with the fewest places.
fn shortest(mut units: u64) -> Decimal {
    let mut places = UNIT_PLACES;
    for step in [8, 4, 2, 1] {
        let power = 10_u64.pow(step);
        if places >= step && units % power == 0 {
            units /= power;
            places -= step;
        }
    }
    Decimal::from_parts(units as u32, (units >> 32) as u32, 0, false, places)
}
