//! The answers of one row, judged: what careful work gives, what follows from what was handed in
//! before, and which slip gives the rest.

// Files in order; each uses only those before it:
//   written         a number as it was written, and the value that it stands for
//   admission       how a number agrees with the values that it is compared with
//   starting_value  a value that later answers may start from
//   submission      what one pupil has handed in so far, and what follows from it
//   same_hydrate    whether two formulas are one hydrate
//   loose_formula   formulas as people write them by hand
//   formula         a reported formula, judged
//   slips           the slips that give a reported number
//   figures         remarks on significant figures
//   answers         the answers of a row in their order

mod admission;
mod answers;
mod figures;
mod formula;
mod loose_formula;
mod same_hydrate;
mod slips;
mod starting_value;
mod submission;
mod written;

#[cfg(test)]
mod tests;

pub(super) use answers::Judge;
