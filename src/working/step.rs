//! One step of working, and the steps of a calculation.

use alloc::borrow::Cow;
#[cfg(any(feature = "report", feature = "qti"))]
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

/// One line of working.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Step {
    what: Cow<'static, str>,
    symbols: Cow<'static, str>,
    numbers: String,
    result: String,
    unit: Cow<'static, str>,
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
            unit: Cow::Borrowed(unit),
            concluded: false,
        }
    }

    /// Returns the same step with a result that is concluded from the numbers, not calculated.
    pub(crate) fn concluded(mut self) -> Self {
        self.concluded = true;
        self
    }

    /// Returns the same step with other symbols.
    #[cfg(feature = "exercise")]
    pub(crate) fn with_symbols(mut self, symbols: String) -> Self {
        self.symbols = symbols.into();
        self
    }

    /// Rewrites the symbols, numbers and results that people read.
    #[cfg(feature = "exercise")]
    pub(crate) fn rewrite(&mut self, rewrite: impl Fn(&str) -> String) {
        self.symbols = rewrite(&self.symbols).into();
        self.numbers = rewrite(&self.numbers);
        self.result = rewrite(&self.result);
    }

    /// Returns the name of the result: `mass of water`.
    #[must_use]
    pub fn what(&self) -> &str {
        &self.what
    }

    /// Returns the formula in symbols: `m(hydrate) − m(residue)`.
    #[must_use]
    pub fn symbols(&self) -> &str {
        &self.symbols
    }

    /// Returns the formula with numbers.
    #[must_use]
    pub fn numbers(&self) -> &str {
        &self.numbers
    }

    /// Returns what joins the numbers and the result: `=` for a calculation, `so` for a conclusion.
    #[must_use]
    pub fn relation(&self) -> &'static str {
        if self.concluded { "so" } else { "=" }
    }

    /// Returns the result, rounded as it should be written.
    #[must_use]
    pub fn result(&self) -> &str {
        &self.result
    }

    /// Returns the unit of the result; empty if it has none.
    #[must_use]
    pub fn unit(&self) -> &str {
        &self.unit
    }

    /// The numbers put in and the result: `2.666 g − 1.303 g = 1.363 g`.
    #[cfg(any(feature = "report", feature = "qti"))]
    pub(crate) fn equation(&self) -> String {
        let joined = match self.relation() {
            "=" => " =",
            _ => ":",
        };
        let mut text = format!("{}{joined} {}", self.numbers(), self.result());
        if !self.unit().is_empty() {
            text.push(' ');
            text.push_str(self.unit());
        }
        text
    }
}

/// The steps of a calculation, in order.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Working {
    pub(super) steps: Vec<Step>,
}

impl Working {
    pub(crate) fn push(&mut self, step: Step) {
        self.steps.push(step);
    }

    /// Steps that were saved.
    #[cfg(all(feature = "serde", feature = "exercise"))]
    pub(crate) fn of(steps: Vec<Step>) -> Working {
        Working { steps }
    }

    /// Rewrites the symbols, numbers and results that people read.
    #[cfg(feature = "exercise")]
    pub(crate) fn rewritten(mut self, rewrite: impl Fn(&str) -> String) -> Working {
        for step in &mut self.steps {
            step.rewrite(&rewrite);
        }
        self
    }

    /// Writes the last result as the answer is asked for.
    #[cfg(feature = "exercise")]
    pub(crate) fn ending(mut self, result: String) -> Working {
        if let Some(last) = self.steps.last_mut() {
            last.result = result;
        }
        self
    }

    /// Returns the steps.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }
}

#[cfg(feature = "serde")]
crate::text::fields!(Step, step, {
    "what": step.what(),
    "symbols": step.symbols(),
    "numbers": step.numbers(),
    "relation": step.relation(),
    "result": step.result(),
    "unit": Some(step.unit()).filter(|unit| !unit.is_empty()),
});

#[cfg(all(feature = "serde", feature = "exercise"))]
crate::text::given! {
    #[derive(Default)]
    struct StepFields {
        "what" => what: String,
        "symbols" => symbols: String,
        "numbers" => numbers: String,
        "relation" => relation: String,
        "result" => result: String,
        "unit" => unit: String,
    }
}

#[cfg(all(feature = "serde", feature = "exercise"))]
impl<'de> serde::Deserialize<'de> for Step {
    /// Reads a step that was saved. Every field may be left out.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let fields = StepFields::deserialize(deserializer)?;
        Ok(Step {
            what: fields.what.into(),
            symbols: fields.symbols.into(),
            numbers: fields.numbers,
            result: fields.result,
            unit: fields.unit.into(),
            concluded: fields.relation == "so",
        })
    }
}
