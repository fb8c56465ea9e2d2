//! Steps of working as data: the name of each result, its formula, its numbers. Other modules make
//! the steps, and `report` writes them.

// Files in order; each uses only those before it:
//   step       one step, and the steps of a calculation
//   empirical  the working of an empirical formula
//   expression  a line of working as a tree
//   mathml     a line of working as presentation MathML

mod empirical;
#[cfg(any(feature = "report", feature = "qti"))]
mod expression;
#[cfg(any(feature = "report", feature = "qti"))]
mod mathml;
mod step;

#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use expression::Expression;
#[cfg(feature = "report")]
pub(crate) use expression::{ValuePart, pieces};
pub use step::{Step, Working};
