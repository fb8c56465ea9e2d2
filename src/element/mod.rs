//! The elements, their standard atomic weights by edition, a class's own table, and nuclide masses.

// Files in order; each uses only those before it:
//   error          what can be wrong with an element
//   table          the shape of a published table
//   iupac_2021     the table of 2021
//   iupac_2024     the revisions of 2024
//   elements       the 118 elements: symbols, names and atomic numbers
//   edition        the editions, and what each publishes for an element
//   isotopes_data  masses of nuclides
//   isotopes       atoms of an element or of one nuclide
//   weights        the weights that a calculation uses
//   whole_weights  weights as whole numbers of one small unit
//   serde          a table of weights in serialised data

mod edition;
mod elements;
mod error;
mod isotopes;
mod isotopes_data;
mod iupac_2021;
mod iupac_2024;
#[cfg(feature = "serde")]
mod serde;
mod table;
mod weights;
mod whole_weights;

pub use edition::{Edition, StandardWeight};
pub use elements::Element;
pub use error::{Error, ErrorKind};
pub use isotopes::{Atom, nuclide_mass};
#[cfg(all(feature = "serde", feature = "exercise"))]
pub(crate) use serde::StatedWeights;
pub use weights::{AtomicWeight, AtomicWeights, Values};
pub(crate) use whole_weights::{
    ATOMIC_NUMBERS, NO_WEIGHT, WEIGHT_PLACES, WeightTable, WholeWeight,
};
