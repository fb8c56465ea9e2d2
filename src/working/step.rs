//! One step of working, and the steps of a calculation.

use alloc::borrow::Cow;
use alloc::string::String;
use alloc::vec::Vec;

/// One line of working.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    what: Cow<'static, str>,
    symbols: Cow<'static, str>,
    numbers: String,
    result: String,
    unit: &'static str,
    concluded: bool,
}

impl Step {
    pub(crate) fn new(
        what: impl Into<Cow<'static, str>>,
        symbols: impl Into<Cow<'static, str>>,
        numbers: String,
        result: String,
        unit: &'static str,
    ) -> Self {
        Step {
            what: what.into(),
            symbols: symbols.into(),
            numbers,
            result,
            unit,
            concluded: false,
        }
    }

    /// The same, where the result is concluded from the numbers rather than calculated.
    pub(crate) fn concluded(mut self) -> Self {
        self.concluded = true;
        self
    }

    /// What is found: `mass of water`.
    #[must_use]
    pub fn what(&self) -> &str {
        &self.what
    }

    /// The equation in symbols: `m(hydrate) − m(residue)`.
    #[must_use]
    pub fn symbols(&self) -> &str {
        &self.symbols
    }

    /// The same with the numbers put in.
    #[must_use]
    pub fn numbers(&self) -> &str {
        &self.numbers
    }

    /// What joins the numbers to the result: `=` for a calculation, `so` for a conclusion.
    #[must_use]
    pub fn relation(&self) -> &'static str {
        if self.concluded { "so" } else { "=" }
    }

    /// The result, rounded as it should be written.
    #[must_use]
    pub fn result(&self) -> &str {
        &self.result
    }

    /// The unit of the result; empty where it has none.
    #[must_use]
    pub fn unit(&self) -> &str {
        self.unit
    }
}

/// The steps of a calculation, in order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Working {
    pub(super) steps: Vec<Step>,
}

impl Working {
    pub(crate) fn push(&mut self, step: Step) {
        self.steps.push(step);
    }

    /// The steps.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }
}
