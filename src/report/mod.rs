//! What a teacher reads: working, and the key for a class, as plain text.
//!
//! Everything writes into a [`core::fmt::Write`], so a `String` will do.

mod during;
mod key;
mod table;
mod working;

pub use during::write_during;
pub use key::write_key;
pub use working::write_working;

use alloc::string::String;
use core::fmt::{self, Write};

/// Writes a paragraph broken at spaces, each line indented, the first one hanging out by `lead`.
fn paragraph(out: &mut impl Write, lead: &str, text: &str) -> fmt::Result {
    const WIDTH: usize = 96;
    let indent = lead.chars().count();
    let mut line = String::from(lead);
    let mut length = indent;
    for word in text.split_whitespace() {
        let word_length = word.chars().count();
        if length > indent && length + 1 + word_length > WIDTH {
            writeln!(out, "{line}")?;
            line = " ".repeat(indent);
            length = indent;
        }
        if length > indent {
            line.push(' ');
            length += 1;
        }
        line.push_str(word);
        length += word_length;
    }
    writeln!(out, "{}", line.trim_end())
}
