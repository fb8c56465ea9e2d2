//! Text to words, and to what the text leaves open about a part.

// Files in order; each uses only those before it:
//   notation  a part as it was written
//   scan      plain terms, byte by byte
//   brackets  brackets as they open and close
//   count     counts and coefficients in any form
//   symbol    symbols of elements, and labelled atoms
//   cursor    a text is read part by part

pub(crate) mod brackets;
pub(crate) mod count;
pub(crate) mod cursor;
pub(crate) mod notation;
pub(crate) mod scan;
pub(crate) mod symbol;
