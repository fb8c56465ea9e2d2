//! Whether the numbers can be trusted: the uncertainty against draws from the same model, the
//! interval against simulated benches, rounding against digits worked by hand.
//!
//! `cargo test --test trust -- --nocapture` prints the tables. Every draw comes from a fixed seed.

mod coverage;
mod draws;
mod monte_carlo;
mod rounding;
mod simulated;
