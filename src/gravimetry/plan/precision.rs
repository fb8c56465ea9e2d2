//! How well a mass of hydrate fixes its degree of hydration.

use super::super::error::{Error, no_mass};
use super::super::mass_loss::slopes;
use super::super::method::Method;
use super::super::residual_salt::ResidualSalt;
use crate::formula::Formula;
use crate::number::Ratio;

/// The parts of the uncertainty of x from three weighings (empty, with hydrate, heated once), in the
/// form in which they depend on the mass of hydrate.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Precision {
    /// The uncertainty of x that the weighings of 1 g of hydrate give, if each reading is uncertain by 1 g.
    by_weighing: f64,
    /// The uncertainty of x that no mass of hydrate changes.
    constant: f64,
    /// The grams of residue from 1 g of hydrate.
    pub(super) residue: Ratio,
    /// The grams of water that 1 g of hydrate loses.
    pub(super) water: Ratio,
}

impl Precision {
    pub(super) fn new(
        method: &Method,
        residual: &ResidualSalt,
        waters: &Ratio,
    ) -> Result<Precision, Error> {
        let water = Formula::water();
        let made_of = [residual.formula.composition()?, water.composition()?];
        let left = residual.formula.molar_mass(&method.weights)?.exact();
        let m_water = water.molar_mass(&method.weights)?.exact();
        let lost = (waters - &residual.waters) * &m_water;
        let whole = &left + &lost;
        let over = |a: &Ratio, b: &Ratio| a.checked_div(b).ok_or_else(no_mass);
        let (residue, water) = (over(&left, &whole)?, over(&lost, &whole)?);
        let (mass_ratio, factor) = (over(&lost, &left)?, over(&left, &m_water)?);
        let [by_hydrate, by_residue] = slopes(&mass_ratio, &residue)?;
        let by_container = -(&by_hydrate + &by_residue);
        let slopes = [by_container, by_hydrate, by_residue].map(|by| (by * &factor).to_f64());
        let squares = slopes.iter().fold(0.0, |sum, by| sum + by * by);
        let budget = method.budget(&made_of, &[], &mass_ratio, [&m_water, &factor])?;
        Ok(Precision {
            by_weighing: libm::sqrt(squares),
            constant: budget.standard_uncertainty(),
            residue,
            water,
        })
    }

    /// The standard uncertainty of x from a mass of hydrate, with this uncertainty of one reading.
    pub(super) fn of_ratio(&self, mass: f64, reading: f64) -> f64 {
        libm::hypot(self.by_weighing * reading / mass, self.constant)
    }

    /// The least mass of hydrate for which the standard uncertainty of x is at most `largest`; `None` if no
    /// mass is enough.
    pub(super) fn least_mass(&self, largest: f64, reading: f64) -> Option<f64> {
        least(self.by_weighing * reading, self.constant, largest)
    }

    /// The least mass of hydrate for which the relative standard uncertainty of the mass of water is at
    /// most `largest`. The mass of water is the difference of two readings.
    pub(super) fn least_mass_for_water(
        &self,
        largest: f64,
        reading: f64,
        repeatability: f64,
    ) -> Option<f64> {
        let of_difference = core::f64::consts::SQRT_2 * reading;
        let water = least(of_difference, repeatability, largest)?;
        Some(water / self.water.to_f64())
    }
}

/// The least m for which √((a/m)² + b²) is at most `largest`.
fn least(a: f64, b: f64, largest: f64) -> Option<f64> {
    let left = largest * largest - b * b;
    (left > 0.0).then(|| a / libm::sqrt(left))
}
