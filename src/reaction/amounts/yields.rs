//! Percent yield.

use alloc::format;
use alloc::vec::Vec;

use crate::number::{Budget, Inputs, Measured, Ratio, Reading, Traced};
use crate::reaction::error::{Error, ErrorKind};
use crate::text::Note;

/// A percent yield: the obtained mass as a percentage of the theoretical yield.
///
/// Above 100 % there is a warning, `yield_above_100`, with the usual reasons (common practice, no
/// source).
///
/// ```
/// use effloresce::reaction::PercentYield;
/// let percent = PercentYield::new(&"25".parse()?, &"81".parse()?)?;
/// assert_eq!(percent.measured().written(Default::default()).to_string(), "31");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct PercentYield {
    pub(super) actual: Reading,
    pub(super) theoretical: Measured,
    percent: Traced,
    budget: Budget,
    warnings: Vec<Note>,
}

impl PercentYield {
    /// Calculates the percent yield from the obtained mass and the theoretical yield, in the same unit.
    ///
    /// # Errors
    /// `impossible_masses` if one of them is not positive.
    pub fn new(actual: &Reading, theoretical: &Reading) -> Result<PercentYield, Error> {
        let mut inputs = Inputs::default();
        let theoretical = inputs.reading("theoretical yield", theoretical);
        PercentYield::of(actual, &theoretical, &mut inputs)
    }

    pub(super) fn of(
        actual: &Reading,
        theoretical: &Traced,
        inputs: &mut Inputs,
    ) -> Result<PercentYield, Error> {
        let obtained = inputs.reading("mass obtained", actual);
        let percent = obtained
            .times_exact(&Ratio::from(100))
            .over(theoretical)
            .filter(|percent| percent.value().is_positive())
            .ok_or_else(|| impossible(actual, theoretical))?;
        Ok(PercentYield {
            warnings: above(&percent).into_iter().collect(),
            actual: *actual,
            theoretical: theoretical.measured().clone(),
            budget: inputs.budget(&percent),
            percent,
        })
    }

    /// Returns the exact value, in per cent.
    #[must_use]
    pub fn percent(&self) -> &Ratio {
        self.percent.value()
    }

    /// Returns the value with its significant figures.
    #[must_use]
    pub fn measured(&self) -> &Measured {
        self.percent.measured()
    }

    /// Returns the uncertainty budget.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// Returns the warnings.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }
}

fn above(percent: &Traced) -> Option<Note> {
    (*percent.value() > Ratio::from(100)).then(|| {
        let shown = percent.measured().with_guard_digit();
        Note::new(
            "yield_above_100",
            format!(
                "A yield of {shown} % is more than theory allows. The product may be still wet, or impure \
                 (with a reactant that was left, or a second product). Check that the container was \
                 subtracted, that each weighing is right, and that no other reactant was limiting."
            ),
        )
        .with("percent", shown)
    })
}

fn impossible(actual: &Reading, theoretical: &Traced) -> Error {
    let theoretical = theoretical.measured().to_plain();
    Error::without_span(
        ErrorKind::ImpossibleMasses,
        format!(
            "an obtained mass of {actual} and a theoretical yield of {theoretical} are not both positive"
        ),
        "give positive masses",
    )
}
