//! What goes wrong: slips (on paper, each with the value that it gives) and faults (at the bench).
//!
//! A slip matches to the digit; a fault at the bench does not. That is the test between them.
//!
#![doc = include_str!("confusion.md")]

mod arithmetic;
mod paper;
mod rounding;
mod slip;

#[cfg_attr(
    not(feature = "class"),
    allow(unused_imports, reason = "used by the marker")
)]
pub(crate) use paper::{MistakenMasses, Paper};
pub use slip::Slip;
