//! Marks given by hand: read from a small file, and given to the answers that are open.

// Files in order; each uses only those before it:
//   hand_mark  the marks of one answer, and a list of them
//   read       a list read from CSV
//   give       the marks given to the answers of a class

mod give;
mod hand_mark;
mod read;
#[cfg(test)]
mod tests;

pub use hand_mark::{HandMark, HandMarks};
