//! The heat that is given off if an anhydrous salt takes up water.

// Files in order; each uses only those before it:
//   heat_capacity      estimates of heat capacities
//   remark             the assumptions of the estimate, and what is not known
//   heat_of_hydration  the heat of hydration of a salt, and of a sample
//   serde              a heat of hydration in the shape of the JSON-lines contract

mod heat_capacity;
mod heat_of_hydration;
mod remark;
#[cfg(feature = "serde")]
mod serde;
#[cfg(test)]
mod tests;

pub use heat_of_hydration::HeatOfHydration;
