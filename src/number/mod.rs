//! Numbers as a chemist uses them: a [`Reading`] as it was written, exact fractions ([`Ratio`]),
//! rounding with a named [`TieRule`], and uncertainty as a [`Budget`] over shared inputs.
//!
//! Every number of the crate prints as its format asks. A precision (`{:.2}`) is a number of decimal
//! places: the exact value is rounded to it, ties to even, or gets zeros. Width, fill, alignment, sign
//! (`{:+}`) and zeros in front (`{:08.2}`) are those of the standard library's numbers. A fraction such as
//! `-1/3` gets blanks in place of the zeros. Round with
//! [`Ratio::to_places`] for another tie rule, and with [`Ratio::to_figures`] for significant figures.

// Files in order; each uses only those before it:
//   error                what can be wrong with a number
//   digits               the digits of a whole number
//   terms                sums and products of fractions in lowest terms, for whole numbers of any size
//   ties                 the rules for a value half-way between two printable ones
//   small                fractions of two `i128`
//   ratio                exact fractions of any size
//   operators            sums, differences, products and comparisons with values and whole numbers
//   rounding             rounding to decimal places and significant figures
//   format               numbers as a format asks for them
//   decimal              the nearest `Decimal`
//   reading              a number as it was written
//   reading_from         readings from numbers that are not text
//   scan                 text to a reading
//   ratio_text           fractions as text
//   unit                 units after a number
//   measured             significant figures through a calculation
//   maximum_uncertainty  the maximum uncertainty through a calculation
//   uncertainty          standard uncertainty as a budget over shared inputs
//   traced               a value with its figures and its slope for each input
//   stated               a value written with its uncertainty

mod decimal;
mod digits;
mod error;
mod format;
mod maximum_uncertainty;
mod measured;
mod operators;
mod ratio;
mod ratio_text;
mod reading;
mod reading_from;
mod rounding;
mod scan;
mod small;
mod stated;
mod terms;
mod ties;
mod traced;
mod uncertainty;
mod unit;

pub(crate) use decimal::nearest_decimal;
pub(crate) use digits::neighbours_exchanged;
pub use error::{Error, ErrorKind};
pub(crate) use format::write_number;
pub use maximum_uncertainty::{Bounded, MaximumUncertainty};
pub use measured::Measured;
pub use ratio::Ratio;
pub use reading::{Figures, Reading};
pub use rounding::Rounded;
pub use scan::DecimalMark;
#[cfg(feature = "serde")]
pub(crate) use scan::READING_AS_TEXT;
pub use stated::Stated;
pub use ties::TieRule;
pub(crate) use traced::{Inputs, Traced};
pub(crate) use uncertainty::rectangular;
pub use uncertainty::{Budget, Contribution};
pub use unit::Unit;
