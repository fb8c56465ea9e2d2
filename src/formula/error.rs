//! What can be wrong with a formula.

use alloc::borrow::Cow;
use alloc::format;

use crate::text::{Detail, Span};

crate::text::room_error! {
    /// A text that is not a formula, a formula that has no molar mass, or an analysis that gives none.
    ///
    /// ```
    /// use effloresce::{Formula, Span};
    /// let error = "CuS04".parse::<Formula>().unwrap_err();
    /// assert_eq!(error.to_string(), "the count after `S` begins with a zero");
    /// assert_eq!(error.span(), Some(Span::new(3, 4)));
    /// assert_eq!(error.help(), Some("write the letter O for oxygen: `CuSO4`"));
    /// ```
    Error, ErrorKind {
        /// The text is not in the notation.
        BadFormula => "bad_formula",
        /// A symbol or a nuclide that does not exist, or whose mass is not in the table.
        UnknownElement => "unknown_element",
        /// The text has two possible meanings.
        AmbiguousNotation => "ambiguous_notation",
        /// A bracket without its partner.
        UnbalancedBracket => "unbalanced_bracket",
        /// Brackets are nested too deep.
        TooDeep => "too_deep",
        /// The text, a count or the whole formula is too large.
        TooLarge => "too_large",
        /// An element has no standard atomic weight.
        NoStandardWeight => "no_standard_weight",
        /// A count or a degree of hydration is unknown.
        UnknownDegree => "unknown_degree",
        /// A name that is not read, or a formula that has none.
        BadName => "bad_name",
        /// An analysis that does not say what is needed, or says it twice.
        BadAnalysis => "bad_request",
        /// Figures of an analysis that contradict one another.
        ImpossibleMasses => "impossible_masses",
        /// A factor or a count that is out of range.
        OutOfRange => "out_of_range",
        /// A text is not a code.
        UnknownCode => "out_of_range",
    }
}

impl Error {
    /// An error with its span and its help, which every error about a formula's text has.
    #[cold]
    pub(crate) fn say(
        kind: ErrorKind,
        span: Span,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::new(kind, Detail::new(message).at(span).help(help))
    }

    /// An error about a formula that was not read from a text.
    pub(super) fn nowhere(
        kind: ErrorKind,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::new(kind, Detail::new(message).help(help))
    }

    #[cold]
    pub(super) fn bad(
        span: Span,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        Error::say(ErrorKind::BadFormula, span, message, help)
    }

    #[cold]
    pub(super) fn too_large(span: Span, what: &str, limit: impl core::fmt::Display) -> Error {
        Error::say(
            ErrorKind::TooLarge,
            span,
            format!("{what} exceeds {limit}"),
            "check the text. No formula needs as much",
        )
    }
}

impl From<crate::element::Error> for Error {
    fn from(error: crate::element::Error) -> Error {
        let mut detail = Detail::new(format!("{error}"));
        detail.help = error
            .help()
            .map(|help| alloc::string::String::from(help).into());
        Error::new(ErrorKind::NoStandardWeight, detail)
    }
}

impl From<Error> for Detail {
    /// Keeps the message, the span and the help.
    fn from(error: Error) -> Detail {
        let mut detail = Detail::new(format!("{error}"));
        detail.span = error.span();
        detail.help = error
            .help()
            .map(|help| alloc::string::String::from(help).into());
        detail
    }
}
