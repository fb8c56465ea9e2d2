//! The partial derivatives of the ratio.

use crate::number::Ratio;

/// The partial derivatives of the ratio with respect to each reading, exact. Those of masses are in
/// moles of water per mole of salt and gram.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Sensitivity {
    pub(super) container: Option<Ratio>,
    pub(super) with_hydrate: Option<Ratio>,
    pub(super) heated: Option<Ratio>,
    pub(super) hydrate_mass: Option<Ratio>,
    pub(super) residue_mass: Option<Ratio>,
    pub(super) percent_water: Option<Ratio>,
}

impl Sensitivity {
    /// The derivative with respect to the empty container.
    #[must_use]
    pub fn container(&self) -> Option<&Ratio> {
        self.container.as_ref()
    }

    /// The derivative with respect to the container with the hydrate.
    #[must_use]
    pub fn with_hydrate(&self) -> Option<&Ratio> {
        self.with_hydrate.as_ref()
    }

    /// The derivative with respect to the weighing after heating that counts. This weighing is in the
    /// water and in the residue, so it changes the ratio most.
    #[must_use]
    pub fn heated(&self) -> Option<&Ratio> {
        self.heated.as_ref()
    }

    /// The derivative with respect to a net mass of hydrate.
    #[must_use]
    pub fn hydrate_mass(&self) -> Option<&Ratio> {
        self.hydrate_mass.as_ref()
    }

    /// The derivative with respect to a net mass of residue.
    #[must_use]
    pub fn residue_mass(&self) -> Option<&Ratio> {
        self.residue_mass.as_ref()
    }

    /// The derivative with respect to the percentage of water.
    #[must_use]
    pub fn percent_water(&self) -> Option<&Ratio> {
        self.percent_water.as_ref()
    }

    pub(super) fn times(&self, factor: &Ratio) -> Sensitivity {
        let times = |part: &Option<Ratio>| part.as_ref().map(|p| p * factor);
        Sensitivity {
            container: times(&self.container),
            with_hydrate: times(&self.with_hydrate),
            heated: times(&self.heated),
            hydrate_mass: times(&self.hydrate_mass),
            residue_mass: times(&self.residue_mass),
            percent_water: times(&self.percent_water),
        }
    }
}
