#![no_std]
#![forbid(unsafe_code)]
#![deny(missing_docs)]
//! x
extern crate alloc;
#[cfg(any(feature = "std", test))]
extern crate std;
#[cfg(feature = "class")]
pub mod class;
pub mod element;
mod error;
pub mod formula;
pub mod gravimetry;
pub mod number;
#[cfg(feature = "report")]
pub mod report;
mod text;
pub mod working;
pub use element::{AtomicWeights, Element};
pub use error::Error;
pub use formula::{Formula, MolarMass};
pub use number::{Ratio, Reading};
pub use text::{Note, Span};
