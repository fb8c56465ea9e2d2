//! The notes for the pupil: what is right, what to look at next, and a fault at the bench.

// Files in order; each uses only those before it:
//   praise     what is right
//   answer     what to do about one answer
//   bench      what the readings of the bench show
//   notes      all notes together

mod answer;
mod bench;
mod notes;
mod praise;
#[cfg(test)]
mod tests;
