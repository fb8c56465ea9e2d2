//! The composition of a mixture of two solids from what heating leaves.

// Files in order; each uses only those before it:
//   heated_mixture  two solids in a crucible: the values of careful work and of wrong steps
//   prompt          the wordings
//   kind            how a problem is drawn

mod heated_mixture;
mod kind;
mod prompt;

pub(super) use kind::KIND;
