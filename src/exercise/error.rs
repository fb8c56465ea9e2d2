//! The errors of this module.

use alloc::format;
use alloc::string::String;

use crate::text::Detail;
use crate::{class, element, formula, gravimetry, mistake, number, reaction};

crate::text::room_error! {
    /// An error in what is asked of a problem set, in a request, or in a draw that cannot succeed.
    ///
    /// ```
    /// use effloresce::exercise::{Exercises, Kind};
    /// let error = "guess".parse::<Kind>().unwrap_err();
    /// assert_eq!(error.code(), "out_of_range");
    /// let none = Exercises::new(1).salts(["CuSO4".parse()?]).avoid(["CuSO4".parse()?]);
    /// assert!(none.set(1).unwrap_err().to_string().contains("`avoid` (CuSO4)"));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    Error, ErrorKind {
        /// A text that is not a code.
        UnknownCode => "out_of_range",
        /// A level that a kind of problem does not have.
        Level => "out_of_range",
        /// A number of problems that no set has.
        Count => "out_of_range",
        /// A smallest step that no balance has.
        Readability => "out_of_range",
        /// A table of atomic weights that no request can state.
        Weights => "out_of_range",
        /// A salt that neither the pool nor the catalogue has.
        UnknownSalt => "unknown_salt",
        /// Constraints that leave nothing to draw from.
        Exhausted => "out_of_range",
        /// A draw that failed too often.
        NoProblem => "out_of_range",
        /// A request without a field that it needs, or with one that cannot be read.
        BadRequest => "bad_request",
        /// A request that another module refuses.
        Unsolvable => "bad_request",
        /// A file of an author that cannot be read.
        BadFile => "bad_request",
    }
}

/// Keeps the message and the help of the module that refuses a request.
macro_rules! refused_by {
    ($($module:ident),+) => {
        $(impl From<$module::Error> for Error {
            fn from(error: $module::Error) -> Error {
                let mut detail = Detail::new(format!("{error}"));
                detail.help = error.help().map(|help| String::from(help).into());
                Error::new(ErrorKind::Unsolvable, detail)
            }
        })+
    };
}

refused_by!(
    number, element, formula, reaction, gravimetry, mistake, class
);

/// An error with its help.
pub(super) fn wrong(kind: ErrorKind, message: String, help: impl Into<String>) -> Error {
    Error::new(kind, Detail::new(message).help(help.into()))
}
