//! Amounts in a reaction: what forms, what is left, what to weigh out, the percent yield.

// Files in order; each uses only those before it:
//   species        a reaction, and the reactions of the pool
//   supply         how much is given of a species
//   route          from one species to another, along right and wrong ways
//   problem        a problem about amounts
//   draw           the numbers of a problem
//   limiting       what forms, what is left, which reactant limits
//   percent_yield  the percent yield
//   sample_mass    the mass to weigh out

mod draw;
mod limiting;
mod percent_yield;
mod problem;
mod route;
mod sample_mass;
mod species;
mod supply;

pub(super) use limiting::KIND as LIMITING;
pub(super) use percent_yield::KIND as YIELD;
pub(super) use sample_mass::KIND as SAMPLE_MASS;
