//! Tests of the house as a whole.

#[cfg(all(feature = "serde", feature = "class"))]
mod contract;
#[cfg(all(feature = "serde", feature = "class"))]
mod envelope;
#[cfg(all(feature = "serde", feature = "class"))]
mod filter;
