//! The criterion for constant mass, and whether weighings reach it.

use alloc::format;

use super::error::{Error, out_of_range};
use crate::number::{Ratio, Reading};

/// The criterion for constant mass: the largest difference between two successive weighings that
/// agree.
///
/// Laboratories differ. Analytical methods use 0.2 mg to 0.5 mg, 0.5 mg for each gram taken, or 0.1 %.
/// Schools use 0.01 g to 0.1 g.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ConstantMass {
    /// A number of divisions of the balance; two is the default.
    Divisions(u32),
    /// A difference in grams.
    Absolute(Reading),
    /// A difference in grams for each gram of hydrate taken.
    PerGram(Reading),
    /// A fraction of the mass of the residue (0.001 for 0.1 %).
    Relative(Reading),
}

impl Default for ConstantMass {
    fn default() -> Self {
        ConstantMass::Divisions(2)
    }
}

impl ConstantMass {
    /// Refuses a criterion that no weighings can reach.
    pub(super) fn checked(self) -> Result<ConstantMass, Error> {
        match self {
            ConstantMass::Absolute(limit)
            | ConstantMass::PerGram(limit)
            | ConstantMass::Relative(limit)
                if limit.value().is_negative() =>
            {
                Err(out_of_range(
                    format!("{limit} is not a criterion for constant mass"),
                    "give a difference of 0 or more, such as 0.002 g",
                ))
            }
            criterion => Ok(criterion),
        }
    }
}

/// The comparison of the last two weighings with the criterion for constant mass.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Constancy {
    pub(super) reached: Option<bool>,
    pub(super) last_change: Option<Reading>,
    pub(super) criterion: Ratio,
}

impl Constancy {
    /// Returns whether the last two weighings agree within the criterion; `None` if there are fewer
    /// than two.
    #[must_use]
    pub fn reached(&self) -> Option<bool> {
        self.reached
    }

    /// The last weighing minus the one before it, in grams; negative if the mass is still falling.
    #[must_use]
    pub fn last_change(&self) -> Option<&Reading> {
        self.last_change.as_ref()
    }

    /// The criterion in grams.
    #[must_use]
    pub fn criterion(&self) -> &Ratio {
        &self.criterion
    }
}
