//! When the mass of a container counts as constant.

use alloc::format;

use super::error::{Error, out_of_range};
use crate::number::{Ratio, Reading};

/// When two successive weighings count as the same.
///
/// Houses differ: 0.2 mg to 0.5 mg in analytical methods, 0.5 mg for each gram taken, 0.1 %,
/// and 0.01 g to 0.1 g in schools.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ConstantMass {
    /// So many divisions of the balance; two is the default.
    Divisions(u32),
    /// A difference of so many grams.
    Absolute(Reading),
    /// So many grams for each gram of hydrate taken.
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
    /// The criterion, refused where no weighings could ever meet it.
    pub(super) fn checked(self) -> Result<ConstantMass, Error> {
        match self {
            ConstantMass::Absolute(limit)
            | ConstantMass::PerGram(limit)
            | ConstantMass::Relative(limit)
                if limit.value().is_negative() =>
            {
                Err(out_of_range(
                    format!("{limit} is no criterion for constant mass"),
                    "give a difference that is not negative, such as 0.002 g",
                ))
            }
            criterion => Ok(criterion),
        }
    }
}

/// Whether the mass had become constant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Constancy {
    pub(super) reached: Option<bool>,
    pub(super) last_change: Option<Reading>,
    pub(super) criterion: Ratio,
}

impl Constancy {
    /// Whether the last two weighings agree within the criterion; `None` where there are not two.
    #[must_use]
    pub fn reached(&self) -> Option<bool> {
        self.reached
    }

    /// The last weighing less the one before it, in grams (negative: still falling).
    #[must_use]
    pub fn last_change(&self) -> Option<&Reading> {
        self.last_change.as_ref()
    }

    /// The criterion in grams.
    #[must_use]
    pub fn criterion(&self) -> &Ratio {
        &self.criterion
    }

    pub(super) fn unknown(criterion: Ratio) -> Self {
        Constancy {
            reached: None,
            last_change: None,
            criterion,
        }
    }
}
