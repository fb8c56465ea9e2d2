//! The hydrate that was issued to a bench, and the masses that it should leave.

use alloc::format;
use alloc::vec::Vec;

use super::error::{Error, out_of_range};
use super::given_salt::issued_hydrate;
use super::method::Method;
use super::overheating::heavier_residue;
use super::residual_salt::ResidualSalt;
use super::salts::{known_hydrates, plateau_hydrates};
use super::weighings::ContainerWeighings;
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::Ratio;

/// A lower hydrate at which heating may seem to be finished.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Plateau {
    pub(super) waters: Ratio,
    pub(super) mass: Ratio,
}

impl Plateau {
    /// The degree of the lower hydrate.
    #[must_use]
    pub fn waters(&self) -> &Ratio {
        &self.waters
    }

    /// The mass of the container with this hydrate, in grams.
    #[must_use]
    pub fn mass(&self) -> &Ratio {
        &self.mass
    }
}

/// The hydrate that was issued, and the mass of it that was taken.
pub(super) struct Issued<'a> {
    pub(super) hydrate: &'a Formula,
    pub(super) residual: ResidualSalt,
    /// The waters of the formula, or those that the stock really holds.
    pub(super) waters: Ratio,
    pub(super) salt_mass: Ratio,
    pub(super) water_mass: Ratio,
    pub(super) molar_mass: Ratio,
    pub(super) container: Ratio,
    pub(super) taken: Ratio,
}

impl Issued<'_> {
    pub(super) fn new<'a>(
        hydrate: &'a Formula,
        stock: Option<&Ratio>,
        method: &Method,
        weighings: &ContainerWeighings,
    ) -> Result<Issued<'a>, Error> {
        let (salt, degree) = issued_hydrate(hydrate)?;
        let residual = method.residual_salt(&salt, Some(&degree))?;
        let waters = stock.cloned().unwrap_or(degree);
        if waters <= residual.waters {
            let (waters, residue) = (waters.to_plain(), &residual.formula);
            return Err(out_of_range(
                format!(
                    "a stock with {waters} waters in each formula unit has none to lose until {residue} is left"
                ),
                "give the waters that the stock holds, such as 6.9",
            ));
        }
        let salt_mass = salt.molar_mass(&method.weights)?.exact().clone();
        let water_mass = Formula::water()
            .molar_mass(&method.weights)?
            .exact()
            .clone();
        let container = weighings.container.value();
        Ok(Issued {
            hydrate,
            residual,
            molar_mass: &salt_mass + &waters * &water_mass,
            salt_mass,
            water_mass,
            waters,
            taken: weighings.with_hydrate.value() - &container,
            container,
        })
    }

    /// The mass of the container with the solid when this number of waters is left.
    pub(super) fn mass_with(&self, waters: &Ratio) -> Option<Ratio> {
        Some(&self.container + &self.left_of(&self.taken, waters)?)
    }

    /// The mass of the solid with this number of waters from a mass of the hydrate.
    pub(super) fn left_of(&self, taken: &Ratio, waters: &Ratio) -> Option<Ratio> {
        let part = &self.salt_mass + waters * &self.water_mass;
        self.part_of(taken, &part)
    }

    /// The mass of a solid from a mass of the hydrate. `part` is its mass for each mole of the salt.
    fn part_of(&self, taken: &Ratio, part: &Ratio) -> Option<Ratio> {
        (taken * part).checked_div(&self.molar_mass)
    }

    /// The solid that the salt turns into and gains mass, and how much heavier than the expected residue it
    /// is.
    pub(super) fn heavier_residue(&self, weights: &AtomicWeights) -> Option<(Formula, Ratio)> {
        let salt = &self.residual.salt;
        let (residue, mass) = heavier_residue(salt, weights, &self.salt_mass)?;
        let expected = self.left_of(&self.taken, &self.residual.waters)?;
        Some((residue, self.part_of(&self.taken, &mass)? - expected))
    }

    /// The residue below the one that heating should leave whose mass the container with it has, within this
    /// tolerance.
    pub(super) fn below_target(&self, last: &Ratio, tolerance: &Ratio) -> Option<Formula> {
        let target = &self.residual.waters;
        self.nearest_residue(last, tolerance, |waters| waters < target)
    }

    /// The lower hydrate, not yet what heating should leave, whose mass the container with it has, within this
    /// tolerance.
    pub(super) fn above_target(&self, last: &Ratio, tolerance: &Ratio) -> Option<Formula> {
        let target = &self.residual.waters;
        self.nearest_residue(last, tolerance, |n| target < n && *n < self.waters)
    }

    /// The nearest to this mass of the known hydrates and the anhydrous salt.
    fn nearest_residue(
        &self,
        last: &Ratio,
        tolerance: &Ratio,
        counts: impl Fn(&Ratio) -> bool,
    ) -> Option<Formula> {
        let salt = &self.residual.salt;
        let hydrates = known_hydrates(salt).iter().chain(plateau_hydrates(salt));
        let residues = core::iter::once(&Ratio::ZERO).chain(hydrates);
        let residues = residues.filter(|waters| counts(waters));
        let off = residues.filter_map(|n| Some(((self.mass_with(n)? - last).abs(), n)));
        let (_, waters) = off.filter(|(off, _)| off <= tolerance).min()?;
        salt.with_waters(waters)
    }

    /// The residue that heating should leave and the anhydrous salt, if the container weighs less than with the
    /// one and not less than with the other.
    pub(super) fn between_target_and_salt(
        &self,
        last: &Ratio,
        tolerance: &Ratio,
    ) -> Option<[Formula; 2]> {
        let ResidualSalt {
            salt,
            waters,
            formula,
        } = &self.residual;
        let [target, anhydrous] = [self.mass_with(waters)?, self.mass_with(&Ratio::ZERO)?];
        let is_between = *last < target && *last >= anhydrous - tolerance;
        (!waters.is_zero() && is_between).then(|| [formula.clone(), salt.clone()])
    }

    /// The lower hydrates on the way, from the highest down.
    pub(super) fn plateaus(&self) -> Vec<Plateau> {
        let lower = plateau_hydrates(&self.residual.salt).iter().rev();
        let lower = lower.filter(|n| **n < self.waters && **n > self.residual.waters);
        let plateau = |waters: &Ratio| {
            Some(Plateau {
                waters: waters.clone(),
                mass: self.mass_with(waters)?,
            })
        };
        lower.filter_map(plateau).collect()
    }
}
