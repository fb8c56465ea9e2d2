//! Steps of working as data: the name of each result, its formula, its numbers. Other modules make
//! the steps, and `report` writes them.

// Files in order; each uses only those before it:
//   step       one step, and the steps of a calculation
//   empirical  the working of an empirical formula

mod empirical;
mod step;

pub use step::{Step, Working};
