//! Percent yield.

use alloc::format;
use alloc::vec::Vec;

use crate::formula::Formula;
use crate::number::{Budget, Inputs, Measured, Ratio, Reading, Traced};
use crate::reaction::error::{Error, ErrorKind};
use crate::reaction::stoichiometry::wrong;
use crate::text::Note;

/// What was obtained, in per cent of what theory allows.
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
    pub(super) product: Option<Formula>,
    percent: Traced,
    budget: Budget,
    warnings: Vec<Note>,
}

impl PercentYield {
    /// From the mass obtained and the theoretical yield, in the same unit.
    ///
    /// # Errors
    /// `impossible_masses` where one of them is not above nought.
    pub fn new(actual: &Reading, theoretical: &Reading) -> Result<PercentYield, Error> {
        let mut inputs = Inputs::default();
        let theoretical = inputs.reading("theoretical yield", theoretical);
        PercentYield::from_parts(None, actual, &theoretical, &mut inputs)
    }

    pub(super) fn of(
        product: &Formula,
        actual: &Reading,
        theoretical: &Traced,
        inputs: &mut Inputs,
    ) -> Result<PercentYield, Error> {
        PercentYield::from_parts(Some(product), actual, theoretical, inputs)
    }

    fn from_parts(
        product: Option<&Formula>,
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
            product: product.cloned(),
            budget: inputs.budget(&percent),
            percent,
        })
    }

    /// The exact value, in per cent.
    #[must_use]
    pub fn percent(&self) -> &Ratio {
        self.percent.value()
    }

    /// The same with the digits that mean something.
    #[must_use]
    pub fn measured(&self) -> &Measured {
        self.percent.measured()
    }

    /// Where its uncertainty comes from.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// What is doubtful about it.
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
                "A yield of {shown} % is more than theory allows. The usual reasons: the product is still wet, \
                 or impure (with what was left of a reactant, or a second product); the container was not \
                 subtracted, or a weighing was misread; another reactant was limiting."
            ),
        )
        .with("percent", shown)
    })
}

#[cold]
fn impossible(actual: &Reading, theoretical: &Traced) -> Error {
    wrong(
        ErrorKind::ImpossibleMasses,
        format!(
            "a mass obtained of {actual} and a theoretical yield of {} give no percent yield",
            theoretical.measured().to_plain()
        ),
        "give masses above 0",
    )
}
