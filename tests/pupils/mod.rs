//! Pupils at work: benches with their readings, careful work with a calculator, each slip on paper
//! as the table of slips writes it, and the sheet on which it is all handed in.
//!
//! All arithmetic here is its own: binary floating point as in a calculator, atomic weights typed
//! off a wall chart. Nothing is taken from the crate but the names of quantities and slips.

pub(crate) mod bench;
pub(crate) mod planted;
pub(crate) mod sheet;
pub(crate) mod work;
