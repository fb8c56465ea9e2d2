//! The catalogue of salts, one fact a row, each with its source. It has the degrees of hydration that
//! exist, those at which heating may stop, the residues of overheating, and hazards.

// Files in order; each uses only those before it:
//   source     the publications
//   known      degrees of hydration that exist
//   plateaus   lower hydrates at which the mass stands still
//   products   the residues of salts that are heated too far
//   catalogue  the facts of a salt, found by its composition
//   cautions   the cautions for heating a salt

mod catalogue;
mod cautions;
mod known;
mod plateaus;
mod products;
mod source;
#[cfg(test)]
mod tests;

pub(crate) use catalogue::other_salts;
#[cfg(feature = "class")]
pub(crate) use catalogue::written_salts;
pub use catalogue::{
    Decomposition, decomposition, decompositions, known_hydrates, plateau_hydrates,
};
pub use cautions::cautions;
#[cfg(feature = "report")]
pub(crate) use cautions::cautions_for;
