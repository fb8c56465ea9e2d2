//! A line of working as presentation `MathML` 3.

use core::fmt::{self, Write};

use super::expression::{Expression, ValuePart, pieces};
use crate::text::visible_line;

/// Writes a text so that nothing in it is markup.
type Escape<'a> = &'a dyn Fn(&str, &mut dyn Write) -> fmt::Result;

impl Expression {
    /// Writes the line as a part of a larger one. Its texts are written by `escape`.
    pub(crate) fn write_mathml_row(&self, escape: Escape<'_>, out: &mut dyn Write) -> fmt::Result {
        match self {
            Expression::Value(value) => write_value(value, escape, out),
            Expression::Joined(before, sign, after) => {
                before.write_mathml_row(escape, out)?;
                write!(out, "<mo>{sign}</mo>")?;
                after.write_mathml_row(escape, out)
            }
            Expression::Quotient(above, below) => {
                out.write_str("<mfrac><mrow>")?;
                above.without_brackets().write_mathml_row(escape, out)?;
                out.write_str("</mrow><mrow>")?;
                below.without_brackets().write_mathml_row(escape, out)?;
                out.write_str("</mrow></mfrac>")
            }
            Expression::Bracket(inner) => {
                // Only a quotient is taller than a line.
                let stretchy = inner.has_quotient();
                write!(out, "<mrow><mo stretchy=\"{stretchy}\">(</mo>")?;
                inner.write_mathml_row(escape, out)?;
                write!(out, "<mo stretchy=\"{stretchy}\">)</mo></mrow>")
            }
        }
    }
}

fn write_value(value: &str, escape: Escape<'_>, out: &mut dyn Write) -> fmt::Result {
    let value = visible_line(value);
    let text = |out: &mut dyn Write, name: &str, text: &str| {
        write!(out, "<{name}>")?;
        escape(text, out)?;
        write!(out, "</{name}>")
    };
    for piece in pieces(&value) {
        match piece {
            ValuePart::Space => out.write_str("<mspace width=\"0.25em\"></mspace>")?,
            ValuePart::Symbol(symbol) => text(out, "mi", symbol)?,
            ValuePart::Number(number) => text(out, "mn", number)?,
            ValuePart::Text(words) => text(out, "mtext", words)?,
            ValuePart::Formula(found) => {
                text(out, "mtext", found.before)?;
                found.formula.write_mathml_row(out)?;
                text(out, "mtext", found.after)?;
            }
        }
    }
    Ok(())
}
