//! Text to the formula's 16-bit words, and to what the text leaves open about a part.
//!
//! # Advice for changing the hot loop
//! `plain_terms` in `scan.rs` reads what nearly every formula has: symbols, brackets, whole counts. It stops
//! where it does not know the next byte, and the rare functions go on from the same offset. Both are one
//! parser.
//!
//! - Run `benches/parse.rs` before and after every change, also when you only move a function to another
//!   file: that changes how the compiler cuts its units. Read the ratios to the baseline, not nanoseconds.
//! - Call nothing in the loop. A call, even one that is never made, leaves only the registers that a call
//!   keeps. What does not fit or is not plain ends the loop.
//! - Keep what the loop needs in values: [`ScanState`](scan::ScanState) is passed by value. One call by
//!   reference on a value keeps all of it in memory, also where the call is never made.
//! - Keep a byte as wide as a register. Two bytes side by side were packed into one word and taken apart.
//! - Avoid loads of 16 bytes and more from what was just stored in smaller pieces, such as a struct that is
//!   returned by value and copied where it is unwrapped. `repr/state.rs` and `mass/molar_mass.rs` say what
//!   was done about it.
//! - Prefer arithmetic to a branch that depends on the text. `atoms/walk.rs` has an example.
//! - Time the lines of the bench one by one, too. They are drawn at random, so that one text that takes a
//!   microsecond costs as much as a slow loop over all.
//! - The annotations `inline` and `cold` that are left are worth 7 % of the time of parsing, apart from those
//!   of the loop. Others were taken out without any effect.
//! - In November 2026, on two shared cores, parsing took 1.25 times the baseline, and 1.55 times with the
//!   molar mass. Where other work shares the cores both are up to a fifth larger.

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
