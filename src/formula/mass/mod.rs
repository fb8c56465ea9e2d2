//! The molar mass of a formula.

// Files in order; each uses only those before it:
//   molar_mass    exact, with its uncertainty
//   molar_inputs  with its sensitivity to each atomic weight

mod molar_inputs;
mod molar_mass;

pub(crate) use molar_inputs::MolarInputs;
pub use molar_mass::MolarMass;
