//! Two notes for the pupil: what is right, and what to look at next.

// Files in order; each uses only those before it:
//   praise     what is right
//   answer     what to do about one answer
//   bench      what the readings of the bench show
//   two_notes  both notes together

mod answer;
mod bench;
mod praise;
#[cfg(test)]
mod tests;
mod two_notes;
