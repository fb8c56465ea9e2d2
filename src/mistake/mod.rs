//! What goes wrong: slips (on paper, each with the value that it gives) and faults (at the bench).
//!
//! A slip matches to the digit; a fault at the bench does not. That is the test between them.
//!
#![doc = include_str!("confusion.md")]

mod arithmetic;
mod balance;
mod course;
mod draws;
mod error;
mod fault;
mod misread;
mod paper;
mod rounding;
mod simulate;
mod simulated;
mod slip;

pub use error::{Error, ErrorKind};
pub use fault::{Direction, Fault};
#[cfg_attr(
    not(feature = "class"),
    allow(unused_imports, reason = "used by the marker")
)]
pub(crate) use paper::{MistakenMasses, Paper};
pub use simulate::Simulator;
pub use simulated::Simulated;
pub use slip::Slip;
