//! Requests solved by the modules of this crate: one file an operation.

// Files in order; each uses only those before it:
//   solved       a value of a result, found by its JSON Pointer
//   readings     the readings of a bench and the rules of its method
//   balance      `balance`
//   class        `class`
//   empirical    `empirical`
//   factor       `factor`
//   formula      `formula`
//   limiting     `limiting`
//   stages       `stages`
//   mixture      `mixture`
//   heat         `heat`
//   dehydration  `dehydration`
//   answer       any request

mod answer;
mod balance;
mod class;
pub(super) mod dehydration;
mod empirical;
mod factor;
mod formula;
mod heat;
mod limiting;
mod mixture;
mod readings;
mod solved;
mod stages;

pub(super) use class::marked as marked_class;
pub use solved::Solved;
