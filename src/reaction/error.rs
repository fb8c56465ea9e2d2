//! What can be wrong with an equation, and what an equation without one balance has to say.

use alloc::borrow::Cow;
use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::formula;
use crate::number::Ratio;
use crate::text::{Caret, Detail, Note, Span};

/// What went wrong, without the particulars.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ErrorKind {
    /// The text is not in the notation of equations.
    BadEquation,
    /// A species is not in the notation of formulas.
    BadFormula,
    /// A symbol or a nuclide that does not exist.
    UnknownElement,
    /// The text has two honest readings.
    AmbiguousNotation,
    /// A bracket without its partner.
    UnbalancedBracket,
    /// Brackets nested too deep.
    TooDeep,
    /// The text, a number or the work would be larger than any equation needs.
    TooLarge,
    /// A count or a degree of hydration is left open.
    UnknownDegree,
    /// No balance has every coefficient above nought; [`Error::reasons`] say why.
    NoBalance,
    /// There are several independent balances; [`Error::basis`] has them.
    ManyBalances,
    /// A species was named that the equation does not have, or not once, or amounts are given that do
    /// not go together.
    BadRequest,
    /// Amounts that cannot be.
    ImpossibleMasses,
    /// A value outside the range that makes sense for it.
    OutOfRange,
    /// A species has no molar mass: an element without a weight.
    NoStandardWeight,
}

impl ErrorKind {
    /// The stable name of the kind, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            ErrorKind::BadEquation => "bad_equation",
            ErrorKind::BadFormula => "bad_formula",
            ErrorKind::UnknownElement => "unknown_element",
            ErrorKind::AmbiguousNotation => "ambiguous_notation",
            ErrorKind::UnbalancedBracket => "unbalanced_bracket",
            ErrorKind::TooDeep => "too_deep",
            ErrorKind::TooLarge => "too_large",
            ErrorKind::UnknownDegree => "unknown_degree",
            ErrorKind::NoBalance => "no_balance",
            ErrorKind::ManyBalances => "many_balances",
            ErrorKind::BadRequest => "bad_request",
            ErrorKind::ImpossibleMasses => "impossible_masses",
            ErrorKind::OutOfRange => "out_of_range",
            ErrorKind::NoStandardWeight => "no_standard_weight",
        }
    }
}

/// A text that is no equation, or an equation without one balance.
///
/// ```
/// use effloresce::reaction::Equation;
/// let text = "Mg + 02 -> MgO";
/// let error = text.parse::<Equation>().unwrap_err();
/// assert_eq!(error.code(), "bad_equation");
/// assert_eq!(&text[error.span().unwrap().start..], "02 -> MgO");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", self.0.detail.message)]
pub struct Error(Box<Inner>);

#[derive(Debug, Clone, PartialEq, Eq)]
struct Inner {
    kind: ErrorKind,
    detail: Detail,
    reasons: Vec<Note>,
    basis: Vec<Sparse>,
    species: usize,
}

/// One balance of a basis: only the coefficients that are not nought, with their places.
pub(super) type Sparse = Vec<(usize, Ratio)>;

impl Error {
    #[cold]
    pub(crate) fn new(kind: ErrorKind, detail: Detail) -> Self {
        Error(Box::new(Inner {
            kind,
            detail,
            reasons: Vec::new(),
            basis: Vec::new(),
            species: 0,
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

    #[cold]
    pub(super) fn bad(
        span: Span,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::say(ErrorKind::BadEquation, span, message, help)
    }

    #[cold]
    pub(super) fn too_large(span: Span, what: &str, limit: impl core::fmt::Display) -> Error {
        Error::say(
            ErrorKind::TooLarge,
            span,
            format!("{what} goes beyond {limit}"),
            "check the text: no equation needs as much",
        )
    }

    /// An error of a species that begins at `at` in the equation's text.
    #[cold]
    pub(super) fn of_formula(error: &formula::Error, at: usize) -> Error {
        use formula::ErrorKind as Of;
        let kind = match error.kind() {
            // Only of a formula's text is an error of a species.
            Of::BadFormula
            | Of::BadName
            | Of::BadAnalysis
            | Of::ImpossibleMasses
            | Of::OutOfRange => ErrorKind::BadFormula,
            Of::NoStandardWeight => ErrorKind::NoStandardWeight,
            Of::UnknownElement => ErrorKind::UnknownElement,
            Of::AmbiguousNotation => ErrorKind::AmbiguousNotation,
            Of::UnbalancedBracket => ErrorKind::UnbalancedBracket,
            Of::TooDeep => ErrorKind::TooDeep,
            Of::TooLarge => ErrorKind::TooLarge,
            Of::UnknownDegree => ErrorKind::UnknownDegree,
        };
        let message = match kind {
            ErrorKind::UnknownDegree => {
                "a count is left open, so its atoms cannot be counted".into()
            }
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

    pub(super) fn with_basis(mut self, basis: Vec<Sparse>, species: usize) -> Error {
        self.0.basis = basis;
        self.0.species = species;
        self
    }

    /// What went wrong, for a program to match on.
    #[must_use]
    pub fn kind(&self) -> ErrorKind {
        self.0.kind
    }

    /// The stable code of the kind (see the JSON-lines contract).
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.0.kind.code()
    }

    /// Where in the equation's text, in bytes, if it is about one place.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        self.0.detail.span
    }

    /// What to do about it.
    #[must_use]
    pub fn help(&self) -> Option<&str> {
        self.0.detail.help.as_deref()
    }

    /// Why there is no balance, or more than one (see [`Equation::balance`](super::Equation::balance)).
    #[must_use]
    pub fn reasons(&self) -> &[Note] {
        &self.0.reasons
    }

    /// How many independent balances there are; nought where that is not what is wrong.
    #[must_use]
    pub fn nullity(&self) -> usize {
        self.0.basis.len()
    }

    /// Independent balances in whole numbers, one coefficient for each species in order, of which
    /// every other balance is a sum of multiples. A coefficient may be nought or below.
    #[must_use]
    pub fn basis(&self) -> Vec<Vec<Ratio>> {
        let mut all = Vec::with_capacity(self.0.basis.len());
        for sparse in &self.0.basis {
            let mut one = alloc::vec![Ratio::ZERO; self.0.species];
            for (place, value) in sparse {
                if let Some(slot) = one.get_mut(*place) {
                    *slot = value.clone();
                }
            }
            all.push(one);
        }
        all
    }

    /// The error for people to read: the line of the text that was read, carets under the place,
    /// the sentence, and the help. `text` is the equation's text.
    pub fn caret<'a>(&'a self, text: &'a str) -> impl core::fmt::Display + 'a {
        Caret {
            text,
            span: self.span(),
            message: &self.0.detail.message,
            help: self.help(),
        }
    }
}
