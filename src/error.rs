//! One error around the rooms' own, so that `?` composes.

use crate::{element, formula, gravimetry, mistake, number, reaction};

/// An error of any room.
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
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// A number could not be read.
    #[error(transparent)]
    Number(#[from] number::Error),
    /// An element does not exist or has no weight.
    #[error(transparent)]
    Element(#[from] element::Error),
    /// A text is no formula, or a formula has no molar mass.
    #[error(transparent)]
    Formula(#[from] formula::Error),
    /// A text is no equation, an equation has no balance or several, or amounts belong to none.
    #[error(transparent)]
    Reaction(#[from] reaction::Error),
    /// Readings contradict one another or cannot answer the question.
    #[error(transparent)]
    Gravimetry(#[from] gravimetry::Error),
    /// A bench cannot be simulated, or a fault cannot be shown.
    #[error(transparent)]
    Mistake(#[from] mistake::Error),
    /// A class sheet could not be read at all.
    #[cfg(feature = "class")]
    #[error(transparent)]
    Class(#[from] crate::class::Error),
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
        }
    };
}

impl Error {
    /// The stable code of the kind of error (see the JSON-lines contract).
    #[must_use]
    pub fn code(&self) -> &'static str {
        each!(self, error => error.code())
    }

    /// Where in the text that was read, in bytes, if there was a text.
    #[must_use]
    pub fn span(&self) -> Option<crate::Span> {
        each!(self, error => error.span())
    }

    /// What to do about it.
    #[must_use]
    pub fn help(&self) -> Option<&str> {
        each!(self, error => error.help())
    }

    /// The error for people to read: the line of the text that was read, carets under the place,
    /// the sentence, and the help. `text` is the text that was given to the reader.
    ///
    /// Carets stand right under wide and combining characters; what cannot be seen is written as
    /// an escape; a long line is cut about the place; of a text of several lines the number of the
    /// line is told.
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
