//! Mixtures of two components from the mass that they lose on heating.

// Files in order; each uses only those before it:
//   component    a component and what is left of it
//   two_parts    the fractions of two components
//   working      the steps from the masses to the fractions
//   serde        a mixture in the shape of the JSON-lines contract

mod component;
#[cfg(feature = "serde")]
mod serde;
#[cfg(test)]
mod tests;
mod two_parts;
mod working;

pub use component::Component;
pub use two_parts::Mixture;
