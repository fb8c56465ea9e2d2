//! Counting the atoms of a formula.

// Files in order; each uses only those before it:
//   walk         one way through a formula, which tells how often each atom counts
//   tally        the atoms in whole numbers over one denominator
//   composition  the atoms of a formula unit, exactly
//   column       atoms and charge in an equation's matrix

mod column;
mod composition;
mod tally;
mod walk;

pub(crate) use column::Column;
pub(crate) use composition::hill_key;
pub use composition::{AtomCounts, Composition};
pub(crate) use walk::{Counter, Uncounted, product, walk};
