//! What is written for a line: a result or a failure, in the same envelope.

use serde::Serialize;
use serde_json::value::RawValue;

use effloresce::{Note, Span};

/// Everything that a failed request is told.
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

/// What is told beside of an equation without one balance.
#[derive(Debug, Serialize)]
struct Unbalanced {
    /// Why it has none, or several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    reasons: Vec<Note>,
    /// Independent ones, where it has several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    basis: Vec<Vec<Box<RawValue>>>,
}

impl Failure {
    #[cold]
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

    #[cold]
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

    /// Adds reasons and a basis. What would make the reply longer than this is cut: the message and
    /// the help to a line, of the reasons and of the basis the last ones.
    pub(crate) fn because(
        mut self,
        reasons: &[Note],
        basis: Vec<Vec<Box<RawValue>>>,
        longest: usize,
    ) -> Self {
        let most = longest / 4;
        if self.message.len() > most {
            self.message = shown(&self.message);
        }
        self.help = self.help.map(|help| match help.len() > most {
            true => shown(&help),
            false => help,
        });
        let mut room = longest / 2;
        let mut fits = |length: usize| {
            let left = room.checked_sub(length);
            room = left.unwrap_or(0);
            left.is_some()
        };
        let reasons = reasons.iter().take_while(|one| fits(length(one)));
        let reasons = reasons.cloned().collect();
        let basis = basis.into_iter().take_while(|one| fits(length(one)));
        let basis = basis.collect();
        self.unbalanced = Some(Box::new(Unbalanced { reasons, basis }));
        self
    }

    /// Puts a field, or a place in a list (`[2]`), in front of the path to what failed.
    pub(crate) fn within(mut self, outer: &str) -> Self {
        self.field = Some(match self.field.take() {
            None => outer.to_owned(),
            Some(inner) if inner.starts_with('[') => format!("{outer}{inner}"),
            Some(inner) => format!("{outer}.{inner}"),
        });
        self
    }
}

/// Each room's error says the same four things.
macro_rules! from_library {
    ($($error:ty),+ $(,)?) => {
        $(impl From<$error> for Failure {
            #[cold]
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

#[derive(Serialize)]
pub(crate) struct Reply<'a> {
    id: &'a RawValue,
    ok: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    result: Option<Box<RawValue>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<Failure>,
}

impl<'a> Reply<'a> {
    pub(crate) fn new(id: &'a RawValue, outcome: Result<Box<RawValue>, Failure>) -> Self {
        let (result, error) = match outcome {
            Ok(result) => (Some(result), None),
            Err(failure) => (None, Some(failure)),
        };
        Reply {
            id,
            ok: error.is_none(),
            result,
            error,
        }
    }
}

/// A result as JSON text.
pub(crate) fn result(value: &impl Serialize) -> Result<Box<RawValue>, Failure> {
    serde_json::value::to_raw_value(value).map_err(|error| {
        Failure::new(
            "out_of_range",
            format!("the result cannot be written as JSON: {error}"),
        )
    })
}

/// How long something is as JSON text.
fn length(value: &impl Serialize) -> usize {
    serde_json::to_string(value).map_or(0, |text| text.len() + 1)
}

/// A name from the request, short enough to be quoted in a message.
pub(crate) fn shown(name: &str) -> String {
    const MOST: usize = 60;
    match name.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", &name[..end]),
        None => name.to_owned(),
    }
}
