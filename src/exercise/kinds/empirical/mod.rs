//! The empirical or molecular formula of a compound.

// Files in order; each uses only those before it:
//   counts   the numbers of atoms in a formula, and those that wrong steps give
//   sample   a compound with what an analysis finds
//   wrong    the wrong steps on the way to a formula
//   problem  the problem about it

mod counts;
mod problem;
mod sample;
mod wrong;

pub(super) use problem::KIND;
