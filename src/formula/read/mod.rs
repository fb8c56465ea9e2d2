//! A text becomes a formula.

// Files in order; each uses only those before it:
//   ambiguity    what a text leaves open
//   draft        a formula while its text is read
//   parse        text to words, and to what the text leaves open about a part
//   bare_part    a part without the brackets that say nothing more
//   charge_size  the size of a charge whose sign is on the line
//   resolve      what the text of a part leaves open is decided
//   size         whether a formula is too large
//   notes        the note about what a text leaves open, and the error of the strict reader
//   driver       the parser reads a part, the resolver finishes it

mod ambiguity;
mod bare_part;
mod charge_size;
mod draft;
mod driver;
mod notes;
mod parse;
mod resolve;
mod size;
