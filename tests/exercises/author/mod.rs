//! What an author gives without Rust: salts, atomic weights.

mod salts;
mod weights;
