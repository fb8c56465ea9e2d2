#![no_std]
#![forbid(unsafe_code)]
#![deny(missing_docs)]
//! x
extern crate alloc;
#[cfg(any(feature = "std", test))]
extern crate std;
#[cfg(feature = "class")]
pub mod class;
pub mod gravimetry;
pub mod number;
mod text;
pub use number::{Ratio, Reading};
pub use text::{Note, Span};
