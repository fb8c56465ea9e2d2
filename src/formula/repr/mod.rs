//! How a formula is kept: in words of 16 bits, which come out as tokens, and laid out in parts.

// Files in order; each uses only those before it:
//   count    how many of something
//   bracket  the kinds of brackets
//   state    the label of a state of matter
//   spans    where in its text a formula has something that may be in the way
//   words    the bits of a word
//   water    what is water
//   tokens   the pieces of a formula, as they come out of its words
//   packed   the words of a formula
//   part     a part of a formula, laid out
//   formula  the formula: taken apart and put together
//   hydrate  the water of crystallization of a formula
//   species  a formula as a species of an equation

mod bracket;
mod count;
mod formula;
mod hydrate;
mod packed;
mod part;
mod spans;
mod species;
mod state;
mod tokens;
mod water;
pub(crate) mod words;

pub(crate) use bracket::Bracket;
pub(crate) use count::Count;
pub use formula::Formula;
pub(crate) use packed::{FirstWords, Packed};
pub(crate) use part::{Part, Term};
pub(crate) use spans::ShortSpan;
pub(crate) use state::PackedState;
pub use state::State;
pub(crate) use tokens::{Token, Tokens};
pub(crate) use water::{WaterSpelling, begins_with_group_of_water};
