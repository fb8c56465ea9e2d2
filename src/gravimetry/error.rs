//! The errors of this module.

use alloc::string::String;

use crate::text::Detail;

crate::text::room_error! {
    /// An error in readings that contradict one another, or in what is asked of them.
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
        /// Impossible masses, such as a residue that is heavier than the hydrate.
        ImpossibleMasses => "impossible_masses",
        /// A salt that is not anhydrous, or an issued formula that is not a hydrate.
        NotASalt => "bad_request",
        /// A residue that complete heating of the salt cannot leave.
        NotAResidue => "bad_request",
        /// An element that is not in both formulas of a gravimetric factor, or a proportion that is not
        /// positive.
        NotALink => "bad_request",
        /// The elements that two formulas share give no single gravimetric factor.
        AmbiguousFactor => "ambiguous_factor",
        /// Two components that lose the same fraction of their mass.
        SameLoss => "bad_request",
        /// A weighing after heating is missing.
        MissingWeighing => "missing_field",
        /// A value outside its possible range.
        OutOfRange => "out_of_range",
        /// A formula with an element that has no standard atomic weight.
        NoStandardWeight => "no_standard_weight",
        /// A formula with an unknown number of waters.
        UnknownDegree => "unknown_degree",
        /// A text that is not a code.
        UnknownCode => "out_of_range",
    }
}

impl From<crate::formula::Error> for Error {
    fn from(error: crate::formula::Error) -> Error {
        let kind = match error.kind() {
            crate::formula::ErrorKind::UnknownDegree => ErrorKind::UnknownDegree,
            _ => ErrorKind::NoStandardWeight,
        };
        Error::new(kind, error.into())
    }
}

#[cfg(feature = "class")]
impl Error {
    /// A weighing that a sheet has and that cannot be read.
    pub(crate) fn unreadable() -> Error {
        Error::new(
            ErrorKind::MissingWeighing,
            Detail::new("a weighing cannot be read")
                .help("correct the cell that the sheet's problems name"),
        )
    }
}

impl Error {
    /// Adds the end of the message, such as what is known of the hazards.
    pub(super) fn ending(mut self, end: &str) -> Error {
        let detail = &mut self.0.1;
        detail.message = alloc::format!("{}{end}", detail.message).into();
        self
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
        "a mass of 0 g cannot be divided by".into(),
        "check the readings: a mass must be positive",
    )
}
