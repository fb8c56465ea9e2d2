//! Numbers as a chemist uses them: a [`Reading`] as it was written, exact fractions ([`Ratio`]),
//! rounding with a named [`TieRule`], and uncertainty as a [`Budget`] over shared inputs.

mod decimal;
mod linear;
mod measured;
mod ratio;
mod reading;
mod rounding;
mod scan;
mod small;
mod stated;
mod terms;
mod traced;
mod uncertainty;
mod unit;

pub(crate) use decimal::nearest_decimal;
pub use linear::{Bounded, LinearRule};
pub use measured::Measured;
pub use ratio::Ratio;
pub use reading::{DecimalMark, Figures, Reading};
pub use rounding::{Rounded, TieRule};
pub use stated::Stated;
pub(crate) use traced::{Inputs, Traced};
pub(crate) use uncertainty::rectangular;
pub use uncertainty::{Budget, Contribution};
pub use unit::Unit;

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
        /// A unit that the quantity is not given in.
        OtherUnit => "bad_number",
        /// More digits, or a larger power of ten, than a measurement has.
        OutOfRange => "out_of_range",
    }
}
