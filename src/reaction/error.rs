//! What can be wrong with a reaction and its amounts.

use alloc::format;
use alloc::string::String;

use crate::text::Detail;

crate::text::room_error! {
    /// An equation that does not balance, or amounts that belong to none.
    ///
    /// ```
    /// use effloresce::{Ratio, reaction::Stoichiometry};
    /// let [water, oxygen] = ["H2O", "O2"].map(|text| text.parse().unwrap());
    /// let error = Stoichiometry::new([(Ratio::ONE, water)], [(Ratio::ONE, oxygen)]).unwrap_err();
    /// assert_eq!(error.code(), "no_balance");
    /// assert_eq!(error.to_string(), "H: 2 on the left, 0 on the right; O: 1 on the left, 2 on the right");
    /// ```
    Error, ErrorKind {
        /// Something is not conserved.
        NoBalance => "no_balance",
        /// Amounts that the question does not allow: of no species of the equation, of several
        /// products, of none.
        BadRequest => "bad_request",
        /// Amounts that cannot be.
        ImpossibleMasses => "impossible_masses",
        /// A value outside the range that makes sense for it.
        OutOfRange => "out_of_range",
        /// A species has no molar mass: an element without a weight.
        NoStandardWeight => "no_standard_weight",
        /// A species has no molar mass: a count left open.
        UnknownDegree => "unknown_degree",
    }
}

impl From<crate::formula::Error> for Error {
    /// What keeps a formula from having a molar mass keeps its amounts from being worked out.
    fn from(error: crate::formula::Error) -> Error {
        let kind = match error.kind() {
            crate::formula::ErrorKind::UnknownDegree => ErrorKind::UnknownDegree,
            _ => ErrorKind::NoStandardWeight,
        };
        let mut detail = Detail::new(format!("{error}"));
        detail.span = error.span();
        detail.help = error.help().map(|help| String::from(help).into());
        Error::new(kind, detail)
    }
}
