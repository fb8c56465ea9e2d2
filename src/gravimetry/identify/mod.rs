//! Identification of an unknown hydrate from its percentage of water.

// Files in order; each uses only those before it:
//   share_of_water  the percentage of water that is observed, and that a hydrate has
//   hydrate_match   a hydrate with the probability that it is the unknown
//   remark          what the ranking does not decide
//   identification  the ranking
//   serde           an identification in the shape of the JSON-lines contract

mod hydrate_match;
mod identification;
mod remark;
#[cfg(feature = "serde")]
mod serde;
mod share_of_water;
#[cfg(test)]
mod tests;

pub use hydrate_match::HydrateMatch;
pub use identification::Identification;
