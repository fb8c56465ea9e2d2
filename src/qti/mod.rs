//! Problem sets as packages of QTI 3.0, the standard in which course platforms exchange questions.
//!
//! A package is a ZIP file with a manifest, a test and an item for each problem. What a pupil enters is marked by
//! the response rules of the item.

// Files in order; each uses only those before it:
//   error        what can be wrong with a package
//   xml          writing XML
//   entry        what a pupil enters or chooses, and what counts as right
//   spelling     the spellings of a formula, and the x of a hydrate
//   answer       the answer of a problem as one entry
//   coefficients the coefficients of an equation as entries
//   rule         response rules, and the rules as XML
//   number_text  a number with a decimal comma, read by rules
//   marking      the rules that mark the entries of an item
//   item         an item as XML

mod answer;
mod coefficients;
mod entry;
mod error;
mod item;
mod marking;
mod number_text;
mod rule;
mod spelling;
mod xml;

pub use error::{Error, ErrorKind};
