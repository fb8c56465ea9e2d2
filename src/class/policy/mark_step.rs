//! The smallest difference of marks: whole or half marks.

use alloc::format;
use core::fmt;

use crate::class::Marks;
use crate::number::Ratio;
use crate::text::Detail;

/// The smallest difference of marks.
///
/// Nothing is rounded to it: marks that it does not admit are refused where they are given.
///
/// ```
/// use effloresce::class::{MarkStep, Marks, Policy};
/// use effloresce::gravimetry::Quantity;
/// let policy = Policy::new().step(MarkStep::Half)?.marks(Quantity::Ratio, Marks::from_halves(5))?;
/// assert_eq!(policy, Policy::from_toml("step = 0.5\nmarks = { ratio = 2.5 }")?);
/// assert!(Policy::new().marks(Quantity::Ratio, Marks::from_halves(5)).is_err());
/// # Ok::<(), effloresce::class::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum MarkStep {
    /// Whole marks only.
    #[default]
    Whole,
    /// Whole and half marks.
    Half,
}

impl MarkStep {
    /// Returns the step of this size; `None` if it is neither 1 nor 0.5.
    #[must_use]
    pub fn of_size(size: &Ratio) -> Option<MarkStep> {
        let size = Marks::of_value(size)?;
        let mut all = [MarkStep::Whole, MarkStep::Half].into_iter();
        all.find(|step| step.size() == size)
    }

    /// Returns the size of the step.
    #[must_use]
    pub const fn size(self) -> Marks {
        Marks::from_halves(match self {
            MarkStep::Whole => 2,
            MarkStep::Half => 1,
        })
    }

    /// Returns whether marks are a multiple of the step.
    #[must_use]
    pub const fn admits(self, marks: Marks) -> bool {
        marks.halves() % self.size().halves() == 0
    }

    /// Checks that marks are a multiple of the step.
    pub(super) fn check(self, marks: Marks) -> Result<(), Detail> {
        if self.admits(marks) {
            return Ok(());
        }
        let message = format!("{marks} marks are not a multiple of the step of {self}");
        Err(Detail::new(message).help("give whole marks, or allow halves with `step = 0.5`"))
    }
}

impl fmt::Display for MarkStep {
    /// Writes the size of the step.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.size().fmt(f)
    }
}
