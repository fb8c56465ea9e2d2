//! One error around those of all modules, so that `?` composes.

use crate::{element, formula, gravimetry, mistake, number, reaction};

/// An error of any module.
///
/// ```
/// fn percent(text: &str) -> Result<String, effloresce::Error> {
///     let formula: effloresce::Formula = text.parse()?;
///     let weights = effloresce::AtomicWeights::default().with("Cl".parse()?, "35.5".parse()?)?;
///     Ok(formula.molar_mass(&weights)?.to_string())
/// }
/// assert_eq!(percent("NaCl").unwrap(), "58.49");
/// assert_eq!(percent("NaCk").unwrap_err().code(), "unknown_element");
/// ```
///
/// A program whose `main` returns it shows what to correct, and the code:
///
/// ```
/// let error: effloresce::Error = "CuS04".parse::<effloresce::Formula>().unwrap_err().into();
/// let shown = "\
/// the count after `S` begins with a zero
/// help: write the letter O for oxygen: `CuSO4`
/// code: bad_formula";
/// assert_eq!(format!("{error:?}"), shown);
/// ```
///
/// [`caret`](Error::caret) also shows where in the text it is.
///
/// An error that comes through serde keeps its message and help only: see
/// [serialised data](crate#serialised-data).
#[derive(Clone, PartialEq, Eq, Hash, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// A number could not be read.
    #[error(transparent)]
    Number(#[from] number::Error),
    /// An element does not exist or has no weight.
    #[error(transparent)]
    Element(#[from] element::Error),
    /// A text is not a formula, or a formula has no molar mass.
    #[error(transparent)]
    Formula(#[from] formula::Error),
    /// A text is not an equation, an equation does not have exactly one balance, or amounts do not
    /// belong to the equation.
    #[error(transparent)]
    Reaction(#[from] reaction::Error),
    /// Readings contradict each other or cannot answer the question.
    #[error(transparent)]
    Gravimetry(#[from] gravimetry::Error),
    /// A bench cannot be simulated, or a fault cannot be shown.
    #[error(transparent)]
    Mistake(#[from] mistake::Error),
    /// A class sheet could not be read at all.
    #[cfg(feature = "class")]
    #[error(transparent)]
    Class(#[from] crate::class::Error),
    /// A problem set cannot be made.
    #[cfg(feature = "exercise")]
    #[error(transparent)]
    Exercise(#[from] crate::exercise::Error),
    /// A package cannot be made or read.
    #[cfg(feature = "qti")]
    #[error(transparent)]
    Qti(#[from] crate::qti::Error),
}

macro_rules! each {
    ($self:ident, $inner:ident => $body:expr) => {
        match $self {
            Error::Number($inner) => $body,
            Error::Element($inner) => $body,
            Error::Formula($inner) => $body,
            Error::Reaction($inner) => $body,
            Error::Gravimetry($inner) => $body,
            Error::Mistake($inner) => $body,
            #[cfg(feature = "class")]
            Error::Class($inner) => $body,
            #[cfg(feature = "exercise")]
            Error::Exercise($inner) => $body,
            #[cfg(feature = "qti")]
            Error::Qti($inner) => $body,
        }
    };
}

impl core::fmt::Debug for Error {
    /// Writes the message, the help and the code, as `main` shows the error that it returns.
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        each!(self, error => core::fmt::Debug::fmt(error, f))
    }
}

impl Error {
    /// Returns the stable code of the kind of error (see the JSON-lines contract).
    #[must_use]
    pub fn code(&self) -> &'static str {
        each!(self, error => error.code())
    }

    /// Returns where in the text the error is, in bytes, if a text was read.
    #[must_use]
    pub fn span(&self) -> Option<crate::Span> {
        each!(self, error => error.span())
    }

    /// Returns how to correct it.
    #[must_use]
    pub fn help(&self) -> Option<&str> {
        each!(self, error => error.help())
    }

    /// Returns the error for people to read: the line of the text, carets under the wrong part, the
    /// message, and the help. `text` is the text that was read.
    ///
    /// Carets are right under wide and combining characters. Invisible characters are written as
    /// escapes. A long line is cut on both sides of the wrong part. If the text has several lines, the
    /// number of the line is shown.
    ///
    /// ```
    /// let text = "CuS04";
    /// let error: effloresce::Error = text.parse::<effloresce::Formula>().unwrap_err().into();
    /// let shown = "\
    /// CuS04
    ///    ^
    /// the count after `S` begins with a zero
    /// help: write the letter O for oxygen: `CuSO4`";
    /// assert_eq!(error.caret(text).to_string(), shown);
    /// ```
    pub fn caret<'a>(&'a self, text: &'a str) -> impl core::fmt::Display + 'a {
        crate::text::Caret {
            text,
            span: self.span(),
            message: self,
            help: self.help(),
        }
    }
}
