//! Steps of working as data: what is found, how, with which numbers. Other modules make them,
//! `report` draws them.

// Files in order; each uses only those before it:
//   step       one step, and the steps of a calculation
//   empirical  the working of an empirical formula

mod empirical;
mod step;

pub use step::{Step, Working};
