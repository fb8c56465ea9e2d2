//! Tests of the house as a whole.

#[cfg(all(feature = "serde", feature = "class"))]
mod contract;
