//! The advice to a bench, joined with its diagnosis.

use super::fault_hypothesis::FaultHypothesis;
use super::priors::Priors;
use super::verdict::Diagnosis;
use crate::formula::Formula;
use crate::gravimetry::{self, Check, Method, Weighings};
use crate::text::Note;

/// The advice to a bench, joined with the faults that may explain its readings.
///
/// ```
/// use effloresce::gravimetry::{Advice, Method, Weighings};
/// use effloresce::mistake::{DiagnosedCheck, Fault, Priors};
///
/// let issued = "MgSO4·7H2O".parse()?;
/// let heated = ["22.601".parse()?, "22.600".parse()?];
/// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, heated);
/// let checked = DiagnosedCheck::new(&issued, &Method::new(), &Priors::new(), &bench)?;
/// assert_eq!(checked.check().advice(), Advice::Ask);
/// assert_eq!(checked.faults()[0].fault(), Fault::SolidLost);
///
/// // Before the first heating there is nothing to diagnose.
/// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, []);
/// let checked = DiagnosedCheck::new(&issued, &Method::new(), &Priors::new(), &bench)?;
/// assert_eq!(checked.check().advice(), Advice::Heat);
/// assert!(checked.diagnosis().is_none() && checked.faults().is_empty());
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct DiagnosedCheck {
    check: Check,
    diagnosis: Option<Diagnosis>,
}

impl DiagnosedCheck {
    /// Returns the advice to a bench that was given this hydrate, with the diagnosis of its readings so far.
    ///
    /// # Errors
    /// Returns the errors of [`Method::check`].
    pub fn new(
        issued: &Formula,
        method: &Method,
        priors: &Priors,
        weighings: &Weighings,
    ) -> Result<DiagnosedCheck, gravimetry::Error> {
        let check = method.check(issued, weighings)?;
        let diagnosis = Diagnosis::new(issued, method, priors, weighings).ok();
        Ok(DiagnosedCheck {
            // None of the faults is heating beyond the residue, and the advice says it.
            diagnosis: diagnosis.filter(|_| !check.is_beyond_residue()),
            check,
        })
    }

    /// Adds notes to the reasons of the advice.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.check = self.check.with_notes(notes);
        self
    }

    /// Returns the advice.
    #[must_use]
    pub fn check(&self) -> &Check {
        &self.check
    }

    /// Returns the diagnosis; `None` if nothing was weighed after heating, or if heating went
    /// [beyond the residue](Check::is_beyond_residue).
    #[must_use]
    pub fn diagnosis(&self) -> Option<&Diagnosis> {
        self.diagnosis.as_ref()
    }

    /// Returns the faults that are more probable than no fault, the most probable first.
    #[must_use]
    pub fn faults(&self) -> &[FaultHypothesis] {
        self.diagnosis.as_ref().map_or(&[], Diagnosis::likely)
    }
}

#[cfg(feature = "serde")]
crate::text::fields!(DiagnosedCheck, it, {
    ..it.check,
    "faults": it.faults(),
});
