//! What can be wrong with readings, and with what is asked of them.

use alloc::string::String;

use crate::text::Detail;

crate::text::room_error! {
    /// Readings that contradict one another, or a question that they cannot answer.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// let swapped = Weighings::new("24.018".parse()?, "21.352".parse()?, ["22.656".parse()?]);
    /// let error = Method::new().dehydration(&"MgSO4".parse()?, &swapped).unwrap_err();
    /// assert_eq!(error.code(), "impossible_masses");
    /// assert_eq!(
    ///     error.to_string(),
    ///     "the container with the hydrate (21.352 g) is not heavier than the empty container (24.018 g)"
    /// );
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    Error, ErrorKind {
        /// Masses that cannot be: a residue heavier than the hydrate, nothing left, and the like.
        ImpossibleMasses => "impossible_masses",
        /// A salt that is not anhydrous, or a hydrate that is none.
        NotASalt => "bad_request",
        /// No weighing after heating is given.
        MissingWeighing => "missing_field",
        /// A value outside the range that makes sense for it.
        OutOfRange => "out_of_range",
        /// The salt's formula has no molar mass: an element without a weight.
        NoStandardWeight => "no_standard_weight",
        /// The salt's formula has no molar mass: a count left open.
        UnknownDegree => "unknown_degree",
    }
}

impl From<crate::formula::Error> for Error {
    /// What keeps a formula from having a molar mass keeps its hydrate from being worked out.
    fn from(error: crate::formula::Error) -> Error {
        let kind = match error.kind() {
            crate::formula::ErrorKind::UnknownDegree => ErrorKind::UnknownDegree,
            _ => ErrorKind::NoStandardWeight,
        };
        let mut detail = Detail::new(alloc::format!("{error}"));
        detail.span = error.span();
        detail.help = error.help().map(|help| String::from(help).into());
        Error::new(kind, detail)
    }
}

pub(super) fn impossible(message: String, help: &'static str) -> Error {
    Error::new(ErrorKind::ImpossibleMasses, Detail::new(message).help(help))
}

pub(super) fn out_of_range(message: String, help: &'static str) -> Error {
    Error::new(ErrorKind::OutOfRange, Detail::new(message).help(help))
}

pub(super) fn no_mass() -> Error {
    impossible(
        "a mass of nothing was divided by".into(),
        "check the readings",
    )
}
