//! Requests solved by the modules of this crate: one file an operation.

// Files in order; each uses only those before it:
//   solved   a value of a result, found by its JSON Pointer
//   formula  `formula`
//   answer   any request

mod answer;
mod formula;
mod solved;

pub use solved::Solved;
