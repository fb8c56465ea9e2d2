//! Tests of whether the numbers can be trusted: the uncertainty against draws from the same model,
//! the interval against simulated benches, rounding against digits worked by hand, slips against
//! simulated pupils, and the tests of a class against their stated rate of false alarms.
//!
//! `cargo test --test trust -- --nocapture` prints the tables. Every draw comes from a fixed seed.

mod calibration;
#[cfg(feature = "class")]
mod confusion;
mod coverage;
mod draws;
#[cfg(feature = "class")]
mod intervals;
mod monte_carlo;
#[cfg(feature = "class")]
mod outliers;
#[cfg(feature = "class")]
#[path = "../pupils/mod.rs"]
mod pupils;
mod rounding;
#[cfg(feature = "class")]
mod scatter;
mod simulated;
