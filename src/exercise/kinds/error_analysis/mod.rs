//! A class sheet with a fault at one bench and a slip on paper at another.

// Files in order; each uses only those before it:
//   rules     what may be planted at a level
//   benches   the readings of the benches, one with a fault
//   answers   what the benches report, one with a slip
//   key       what the class says of the fault and of the slip
//   choices   what may be chosen for each part of an answer
//   wording   the prompt
//   steps     the working
//   question  what is asked of a class, and the problem

mod answers;
mod benches;
mod choices;
mod key;
mod question;
mod rules;
mod steps;
mod wording;

pub(super) use question::KIND;
