//! Weighings to constant mass and what follows from them.

mod quantity;

pub use quantity::Quantity;
