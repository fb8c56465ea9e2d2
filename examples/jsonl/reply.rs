//! The reply to a request: a result or a failure.

use serde::Serialize;
use serde_json::value::RawValue;

use effloresce::{Note, Span};

/// The reply to a request that failed.
#[derive(Debug, Serialize)]
pub(crate) struct Failure {
    code: &'static str,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    field: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    span: Option<Span>,
    #[serde(skip_serializing_if = "Option::is_none")]
    help: Option<String>,
    #[serde(flatten)]
    unbalanced: Option<Box<Unbalanced>>,
}

/// More about an equation that has no balance or several.
#[derive(Debug, Serialize)]
struct Unbalanced {
    /// The reasons.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    reasons: Vec<Note>,
    /// Independent balances, if it has several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    basis: Vec<Vec<Box<RawValue>>>,
}

impl Failure {
    pub(crate) fn new(code: &'static str, message: impl Into<String>) -> Self {
        Failure {
            code,
            message: message.into(),
            field: None,
            span: None,
            help: None,
            unbalanced: None,
        }
    }

    pub(crate) fn missing(field: &str, message: impl Into<String>) -> Self {
        Failure::new("missing_field", message).within(field)
    }

    pub(crate) fn at(mut self, span: Option<Span>) -> Self {
        self.span = span;
        self
    }

    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds reasons and a basis. If the reply would be longer than `longest`, message and help are
    /// cut to a line, and the last reasons and balances are left out.
    pub(crate) fn with_balances(
        mut self,
        reasons: &[Note],
        basis: Vec<Vec<Box<RawValue>>>,
        longest: usize,
    ) -> Self {
        let most = longest / 4;
        if self.message.len() > most {
            self.message = shorten(&self.message);
        }
        self.help = self.help.map(|help| match help.len() > most {
            true => shorten(&help),
            false => help,
        });
        let mut remaining = longest / 2;
        let mut fits = |length: usize| {
            let rest = remaining.checked_sub(length);
            remaining = rest.unwrap_or(0);
            rest.is_some()
        };
        let reasons = reasons.iter().take_while(|one| fits(length(one)));
        let reasons = reasons.cloned().collect();
        let basis = basis.into_iter().take_while(|one| fits(length(one)));
        let basis = basis.collect();
        self.unbalanced = Some(Box::new(Unbalanced { reasons, basis }));
        self
    }

    /// Puts a field, or an index of a list (`[2]`), in front of the path to the failure.
    pub(crate) fn within(mut self, outer: &str) -> Self {
        self.field = Some(match self.field.take() {
            None => outer.to_owned(),
            Some(inner) if inner.starts_with('[') => format!("{outer}{inner}"),
            Some(inner) => format!("{outer}.{inner}"),
        });
        self
    }

    /// The same, if the failure is about one field.
    pub(crate) fn within_any(self, outer: Option<&str>) -> Self {
        match outer {
            Some(outer) => self.within(outer),
            None => self,
        }
    }
}

/// The errors of all modules have the same four parts.
macro_rules! from_library {
    ($($error:ty),+ $(,)?) => {
        $(impl From<$error> for Failure {
            fn from(error: $error) -> Self {
                let failure = Failure::new(error.code(), error.to_string()).at(error.span());
                match error.help() {
                    Some(help) => failure.help(help),
                    None => failure,
                }
            }
        })+
    };
}

from_library!(
    effloresce::number::Error,
    effloresce::element::Error,
    effloresce::formula::Error,
    effloresce::reaction::Error,
    effloresce::gravimetry::Error,
    effloresce::mistake::Error,
    effloresce::class::Error,
);

/// A result as JSON text.
pub(crate) fn result(value: &impl Serialize) -> Result<Box<RawValue>, Failure> {
    serde_json::value::to_raw_value(value).map_err(|error| {
        Failure::new(
            "out_of_range",
            format!("the result cannot be written as JSON: {error}"),
        )
    })
}

/// The length of a value as JSON text, with a comma.
fn length(value: &impl Serialize) -> usize {
    serde_json::to_string(value).map_or(0, |text| text.len() + 1)
}

/// A name from the request, short enough to be quoted in a message.
pub(crate) fn shorten(name: &str) -> String {
    const MOST: usize = 60;
    match name.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", &name[..end]),
        None => name.to_owned(),
    }
}
