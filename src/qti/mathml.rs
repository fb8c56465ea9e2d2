//! Formulas, equations and lines of working as `MathML` 3. Their plain text is there for those without `MathML`, as the
//! alternative text: so nobody hears it twice.

use alloc::string::{String, ToString};
use core::fmt;
use std::io;

use quick_xml::escape::escape;

use super::xml::Xml;
use crate::exercise::as_printed;
use crate::formula::Formula;
use crate::reaction::Equation;
use crate::working::Expression;

/// The namespace of `MathML` (W3C, 1998), the same in every version.
const NAMESPACE: &str = "http://www.w3.org/1998/Math/MathML";

/// Writes a formula.
pub(super) fn write_formula(xml: &mut Xml, formula: &Formula) -> io::Result<()> {
    write_math(xml, &formula.to_string(), |out| {
        formula.write_mathml_row(out)
    })
}

/// Writes an equation with its arrow.
pub(super) fn write_equation(xml: &mut Xml, equation: &Equation) -> io::Result<()> {
    write_math(xml, &as_printed(&equation.to_string()), |out| {
        equation.write_mathml_row(out)
    })
}

/// Writes a line of working that was read as a tree. A quotient has its line.
pub(super) fn write_expression(
    xml: &mut Xml,
    line: &str,
    expression: &Expression,
) -> io::Result<()> {
    write_math(xml, line, |out| {
        out.write_str("<mstyle displaystyle=\"true\">")?;
        expression.write_mathml_row(&|text, out| out.write_str(&escape(text)), out)?;
        out.write_str("</mstyle>")
    })
}

fn write_math(
    xml: &mut Xml,
    plain: &str,
    write_row: impl FnOnce(&mut dyn fmt::Write) -> fmt::Result,
) -> io::Result<()> {
    let mut row = String::new();
    write_row(&mut row).map_err(io::Error::other)?;
    let attributes = [("xmlns", NAMESPACE), ("alttext", plain)];
    xml.element("math", &attributes, |xml| xml.markup(&row))
}
