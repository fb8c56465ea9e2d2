//! Formulas: a text is read as a [`Formula`], as it is meant, with notes about what it could mean
//! otherwise. A formula has a composition, a molar mass, a charge, and several written forms.

// Files in order; each uses only those before it:
//   error      what can be wrong with a formula
//   limits     how large a formula may be
//   repr       how a formula is kept
//   ions       the tables of metals, ions, molecules and common names
//   ion_content  the ions that a formula may hold
//   lex        what a piece of text is: digits, charges, labels, solvates, typing errors
//   atoms      counting atoms: tally, composition, a column of an equation's matrix
//   mass       the molar mass
//   write      a formula as text
//   read       a text becomes a formula
//   serde      a formula in serialised data
//   misread    a formula with a subscript overlooked
//   builder    formulas made in code
//   name       names of hydrates
//   empirical  formulas from analyses
//   describe   everything that can be said of a formula
//   in_text    which words of a text are formulas

// Texts are cut by `get` and similar functions, which cannot fail.
#![cfg_attr(not(test), warn(clippy::indexing_slicing, clippy::string_slice))]

mod atoms;
mod builder;
mod describe;
mod empirical;
mod error;
#[cfg(any(feature = "report", feature = "qti"))]
mod in_text;
mod ion_content;
mod ions;
mod lex;
mod limits;
mod mass;
mod misread;
mod name;
mod read;
mod repr;
#[cfg(feature = "serde")]
mod serde;
#[cfg(test)]
mod tests;
mod write;

pub(crate) use atoms::Column;
pub use atoms::{AtomCounts, Composition};
pub use builder::{FormulaBuilder, GroupBuilder, Times};
pub use describe::{Description, PartDescription};
pub use empirical::{Analysis, Constituent, Empirical, Fit, Trial};
pub(crate) use empirical::{CombustionProduct, Origin};
pub use error::{Error, ErrorKind};
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use in_text::{FormulaWord, formula_in};
pub(crate) use ion_content::IonContent;
pub(crate) use lex::{inside_brackets, vulgar_fraction};
pub(crate) use mass::MolarInputs;
pub use mass::MolarMass;
pub use name::HydrateName;
pub use repr::{Formula, State};
