//! The paper of a problem set: the sheet for pupils, and the key.

// Files in order; each uses only those before it:
//   note          what a set says as well as its problems
//   prompt        the parts of a prompt
//   sheet         what pupils get
//   solutions     the answers of one set with their steps
//   key           the key of all sets
//   problem_paper the sheet and the key, in each form

mod key;
mod note;
mod problem_paper;
mod prompt;
mod sheet;
mod solutions;
#[cfg(test)]
mod tests;

pub use problem_paper::{PaperFormat, ProblemPaper};
