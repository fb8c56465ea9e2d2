//! The molar mass of a formula: exact, with its uncertainty and the table it came from.

use core::fmt;

use rust_decimal::Decimal;

use super::composition::no_weight;
use super::error::Error;
use super::{Composition, Formula};
use crate::element::{AtomicWeights, Edition};
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
#[derive(Debug, Clone, PartialEq)]
pub struct MolarMass {
    exact: Ratio,
    uncertainty: f64,
    edition: Edition,
}

impl MolarMass {
    /// The exact sum of the weights used.
    #[must_use]
    pub fn exact(&self) -> &Ratio {
        &self.exact
    }

    /// The nearest decimal of 28 digits.
    #[must_use]
    pub fn value(&self) -> Decimal {
        // A formula's atoms are bounded, so that its mass always fits.
        self.exact.to_decimal().unwrap_or(Decimal::MAX)
    }

    /// The standard uncertainty: each element's weight lies anywhere within its published limit
    /// (rectangular: limit over √3), all its atoms deviate together, and the elements are
    /// independent.
    #[must_use]
    pub fn uncertainty(&self) -> f64 {
        self.uncertainty
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }
}

impl fmt::Display for MolarMass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.exact.to_plain())
    }
}

impl Formula {
    /// The molar mass; that of an ion neglects its electrons.
    ///
    /// # Errors
    /// `no_standard_weight` where an element has none and none was given by hand;
    /// `unknown_degree` where a count is left open.
    #[doc(alias = "relative formula mass")]
    #[doc(alias = "molecular weight")]
    pub fn molar_mass(&self, weights: &AtomicWeights) -> Result<MolarMass, Error> {
        self.molar_mass_by(&self.composition()?, weights)
    }

    /// The same, where the composition is already at hand.
    pub(crate) fn molar_mass_by(
        &self,
        composition: &Composition,
        weights: &AtomicWeights,
    ) -> Result<MolarMass, Error> {
        let mut exact = Ratio::ZERO;
        let mut variance = 0.0;
        for (atom, count) in composition.iter() {
            let weight = weights
                .atom(atom)
                .map_err(|error| no_weight(self, atom.element(), &error))?;
            exact = &exact + &(count * weight.value());
            let part = count.to_f64() * weight.standard_uncertainty();
            variance += part * part;
        }
        Ok(MolarMass {
            exact,
            uncertainty: libm::sqrt(variance),
            edition: weights.edition(),
        })
    }
}
