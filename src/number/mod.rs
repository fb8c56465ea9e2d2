//! Numbers as a chemist uses them: a [`Reading`] as it was written, exact fractions ([`Ratio`]),
//! rounding with a named [`TieRule`], and uncertainty as a [`Budget`] over shared inputs.

mod ratio;
mod reading;
mod rounding;
mod uncertainty;

pub use ratio::Ratio;
pub use reading::{DecimalMark, Figures, Reading};
pub use rounding::{Rounded, TieRule};
pub(crate) use uncertainty::rectangular;
pub use uncertainty::{Budget, Contribution};

crate::text::room_error! {
    /// A number that could not be read or made.
    ///
    /// ```
    /// let error = "1,234".parse::<effloresce::Reading>().unwrap_err();
    /// assert_eq!(error.code(), "bad_number");
    /// assert!(error.to_string().contains("1.234"));
    /// ```
    Error, ErrorKind {
        /// The text is not a number.
        NotANumber => "bad_number",
        /// A comma that could mark decimals or thousands.
        AmbiguousComma => "bad_number",
        /// More digits, or a larger power of ten, than a measurement has.
        OutOfRange => "out_of_range",
    }
}
