//! What goes wrong: slips (on paper, each with the value that it gives) and faults (at the bench).
//!
//! A slip matches to the digit; a fault at the bench does not. That is the test between them.

mod slip;

pub use slip::Slip;
