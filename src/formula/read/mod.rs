//! A text becomes a formula.

// Files in order; each uses only those before it:
//   ambiguity    what a text leaves open
//   draft        a formula while its text is read
//   parse        text to the formula's 16-bit words, and to what the text leaves open about a part
//   bare_part    a part without the brackets that say nothing more
//   charge_size  the size of a charge whose sign is on the line
//   finish_part  a part that was read is brought into its usual form
//   check_size   whether a formula is too large
//   notes        the note about what a text leaves open, and the error of the strict reader
//   driver       `Formula::read`, `FromStr`, and the top of the parser

mod ambiguity;
mod bare_part;
mod charge_size;
mod check_size;
mod draft;
mod driver;
mod finish_part;
mod notes;
mod parse;
