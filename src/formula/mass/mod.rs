//! The molar mass of a formula.

// Files in order; each uses only those before it:
//   decimal        units of 10⁻¹² g/mol as a ratio and as a decimal
//   molar_mass     the exact molar mass with its uncertainty
//   percent_water  the mass fraction of water
//   molar_inputs   molar masses with their sensitivity to each atomic weight

mod decimal;
mod molar_inputs;
mod molar_mass;
mod percent_water;

pub(crate) use molar_inputs::MolarInputs;
pub use molar_mass::MolarMass;
