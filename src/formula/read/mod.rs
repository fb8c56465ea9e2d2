//! A text becomes a formula.

// Files in order; each uses only those before it:
//   size         how large a formula may be
//   charge       charges whose sign stands on the line
//   notes        what is doubtful about a reading
//   parse        text to words
//   resolve      what the text leaves open is settled
//   diagnostics  what can be wrong with a text, in sentences
//   driver       part by part

mod charge;
mod diagnostics;
mod driver;
mod notes;
mod parse;
mod resolve;
mod size;
