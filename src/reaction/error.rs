//! What can be wrong with an equation, and why an equation has no balance or several.

use alloc::borrow::Cow;
use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt;

use crate::formula;
use crate::number::Ratio;
use crate::text::{Caret, Detail, Note, Span};

crate::text::error_kind! {
    ErrorKind {
        /// The text is not in the notation of equations.
        BadEquation => "bad_equation",
        /// A species is not in the notation of formulas.
        BadFormula => "bad_formula",
        /// An element or a nuclide does not exist.
        UnknownElement => "unknown_element",
        /// The text has two possible meanings.
        AmbiguousNotation => "ambiguous_notation",
        /// A bracket has no partner.
        UnbalancedBracket => "unbalanced_bracket",
        /// Brackets are nested too deep.
        TooDeep => "too_deep",
        /// The text, a number or the work is larger than any equation needs.
        TooLarge => "too_large",
        /// A count or a degree of hydration is unknown.
        UnknownDegree => "unknown_degree",
        /// No balance has only positive coefficients; [`Error::reasons`] say why.
        NoBalance => "no_balance",
        /// There are several independent balances; [`Error::basis`] has them.
        ManyBalances => "many_balances",
        /// A named species is not in the equation, or appears several times, or the given amounts do not
        /// go together.
        BadRequest => "bad_request",
        /// The amounts are impossible.
        ImpossibleMasses => "impossible_masses",
        /// A value is outside its possible range.
        OutOfRange => "out_of_range",
        /// A species has no molar mass, because an element has no standard atomic weight.
        NoStandardWeight => "no_standard_weight",
    }
}

/// An error of an equation: its text cannot be read, or it does not have exactly one balance.
///
/// ```
/// use effloresce::reaction::Equation;
/// let text = "Mg + 02 -> MgO";
/// let error = text.parse::<Equation>().unwrap_err();
/// assert_eq!(error.code(), "bad_equation");
/// assert_eq!(&text[error.span().unwrap().start..], "02 -> MgO");
/// ```
///
/// An error that comes through serde keeps its message and help only: see
/// [serialised data](crate#serialised-data).
#[derive(Clone, PartialEq, Eq, Hash, thiserror::Error)]
#[error("{}", self.0.detail.message)]
pub struct Error(Box<Inner>);

#[derive(Clone, PartialEq, Eq, Hash)]
struct Inner {
    kind: ErrorKind,
    detail: Detail,
    reasons: Vec<Note>,
    basis: Vec<Vec<Ratio>>,
}

#[cfg(feature = "serde")]
impl crate::text::Helpful for Error {
    fn what_is_wrong(&self) -> &dyn core::fmt::Display {
        self
    }

    fn to_correct_it(&self) -> Option<&str> {
        self.help()
    }
}

impl fmt::Debug for Error {
    /// Writes the message, the help and the code for people to read.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.detail.debug(self.code(), f)
    }
}

impl Error {
    pub(crate) fn new(kind: ErrorKind, detail: Detail) -> Self {
        Error(Box::new(Inner {
            kind,
            detail,
            reasons: Vec::new(),
            basis: Vec::new(),
        }))
    }

    #[cold]
    pub(super) fn say(
        kind: ErrorKind,
        span: Span,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::new(kind, Detail::new(message).at(span).help(help))
    }

    pub(super) fn bad(
        span: Span,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::say(ErrorKind::BadEquation, span, message, help)
    }

    pub(super) fn too_large(span: Span, message: String) -> Error {
        let help = "check that the text is one equation";
        Error::say(ErrorKind::TooLarge, span, message, help)
    }

    pub(super) fn request(
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::without_span(ErrorKind::BadRequest, message, help)
    }

    pub(super) fn without_span(
        kind: ErrorKind,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::new(kind, Detail::new(message).help(help))
    }

    /// Returns the same error with another span.
    pub(super) fn at(mut self, span: Option<Span>) -> Error {
        self.0.detail.span = span;
        self
    }

    /// Returns the error of a species that begins at `at` in the equation's text.
    #[cold]
    pub(super) fn of_formula(error: &formula::Error, at: usize) -> Error {
        use formula::ErrorKind as Of;
        let kind = match error.kind() {
            // An equation makes no other request of a formula than to read it.
            Of::BadFormula
            | Of::BadName
            | Of::BadAnalysis
            | Of::ImpossibleMasses
            | Of::OutOfRange
            | Of::UnknownCode => ErrorKind::BadFormula,
            Of::NoStandardWeight => ErrorKind::NoStandardWeight,
            Of::UnknownElement => ErrorKind::UnknownElement,
            Of::AmbiguousNotation => ErrorKind::AmbiguousNotation,
            Of::UnbalancedBracket => ErrorKind::UnbalancedBracket,
            Of::TooDeep => ErrorKind::TooDeep,
            Of::TooLarge => ErrorKind::TooLarge,
            Of::UnknownDegree => ErrorKind::UnknownDegree,
        };
        let message = match kind {
            ErrorKind::UnknownDegree => "a count is unknown, so the atoms cannot be counted".into(),
            _ => format!("{error}"),
        };
        let mut detail = Detail::new(message);
        detail.span = error.span().map(|s| Span::new(s.start + at, s.end + at));
        detail.help = error.help().map(|help| String::from(help).into());
        Error::new(kind, detail)
    }

    pub(super) fn because(mut self, reasons: Vec<Note>) -> Error {
        self.0.reasons = reasons;
        self
    }

    pub(super) fn with_basis(mut self, basis: Vec<Vec<Ratio>>) -> Error {
        self.0.basis = basis;
        self
    }

    /// Returns what went wrong, for a program to match on.
    #[must_use]
    pub fn kind(&self) -> ErrorKind {
        self.0.kind
    }

    /// Returns the stable code of the kind (see the JSON-lines contract).
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.0.kind.code()
    }

    /// Returns where in the equation's text the error is, in bytes, if it is about one part of it.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        self.0.detail.span
    }

    /// Returns how to correct it.
    #[must_use]
    pub fn help(&self) -> Option<&str> {
        self.0.detail.help.as_deref()
    }

    /// Returns why there is no balance, or more than one (see [`Equation::balance`](super::Equation::balance)).
    #[must_use]
    pub fn reasons(&self) -> &[Note] {
        &self.0.reasons
    }

    /// Returns the number of independent balances; zero if the error is about something else.
    #[must_use]
    pub fn nullity(&self) -> usize {
        self.0.basis.len()
    }

    /// Returns independent balances in whole numbers, one coefficient for each species in order.
    ///
    /// Every other balance is a sum of multiples of these. A coefficient may be zero or negative.
    #[must_use]
    pub fn basis(&self) -> Vec<Vec<Ratio>> {
        self.0.basis.clone()
    }

    /// Returns the error for people to read: the line of the text, carets under the wrong part, the
    /// message, and the help. `text` is the equation's text.
    pub fn caret<'a>(&'a self, text: &'a str) -> impl core::fmt::Display + 'a {
        Caret {
            text,
            span: self.span(),
            message: &self.0.detail.message,
            help: self.help(),
        }
    }
}
