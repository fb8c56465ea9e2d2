//! Text to words, and to what the text leaves open about a part.

// Files in order; each uses only those before it:
//   lookahead     what a byte of a text may be to a term and its count
//   cursor        a text, and how far it is read
//   diagnostics   what can be wrong with a text, in sentences
//   plain_count   counts in a few plain digits
//   symbol_table  the elements that most formulas are made of
//   scan          plain terms, byte by byte
//   brackets      brackets before or after something rare
//   count         counts and coefficients in any form
//   symbol        rare symbols, labelled atoms
//   charge        charges as they are written
//   rare          terms that few formulas have
//   part          a text is read part by part

mod brackets;
mod charge;
mod count;
mod cursor;
mod diagnostics;
mod lookahead;
mod part;
mod plain_count;
mod rare;
mod scan;
mod symbol;
mod symbol_table;

pub(crate) use charge::{BareCharge, ChargeNotation};
pub(crate) use cursor::Cursor;
pub(crate) use part::PartEnd;
