//! The paper of a problem set: the sheet for pupils, and the key.

// Files in order; each uses only those before it:
//   weights_used  the atomic weights that a set uses
//   prompt        the parts of a prompt
//   sheet         what pupils get
//   solutions     the answers of one set with their steps
//   key           the key of all sets
//   problem_paper the sheet and the key, in each form

mod key;
mod problem_paper;
mod prompt;
mod sheet;
mod solutions;
#[cfg(test)]
mod tests;
mod weights_used;

pub use problem_paper::{PaperFormat, ProblemPaper};
