//! A working as entries: each is right in itself, or because it follows from what was entered before.

// Files in order; each uses only those before it:
//   printed       a number as a line of working prints it
//   carried       a value by earlier entries, worked out
//   freedom       what careful work may do to a value
//   source        where a printed value comes from
//   line          a line of working as a calculation from earlier entries
//   builder       the entries of a problem while they are made
//   calculated    entries for steps that are calculated
//   formulas      entries for formulas that a step concludes
//   concluded     entries for the other steps that are concluded
//   named_errors  the errors of a problem at its last entries
//   entries       the entries of a problem

mod builder;
mod calculated;
mod carried;
mod concluded;
mod entries;
mod formulas;
mod freedom;
mod line;
mod named_errors;
mod printed;
mod source;
#[cfg(test)]
mod tests;

pub(super) use entries::entries;
