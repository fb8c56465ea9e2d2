//! An equation as text: each notation joins what the formula's writer of that notation writes.

use alloc::format;
use alloc::string::String;
use core::fmt::{self, Write};

use super::equation::{Arrow, Equation, Species};
use crate::formula::Formula;
use crate::number::Ratio;

const NAMESPACE: &str = "http://www.w3.org/1998/Math/MathML";

/// How one notation writes the pieces of an equation.
struct EquationNotation {
    plus: &'static str,
    forward: &'static str,
    equals: &'static str,
    both_ways: &'static str,
    number: fn(&Ratio) -> String,
    formula: fn(&Formula) -> String,
    /// Between a coefficient and its formula.
    apart: &'static str,
    /// Between a coefficient and a formula that begins with a number of its own.
    apart_from_number: &'static str,
}

const PLAIN: EquationNotation = EquationNotation {
    plus: " + ",
    forward: " -> ",
    equals: " = ",
    both_ways: " <=> ",
    number: plain_number,
    formula: |formula| format!("{formula}"),
    apart: "",
    apart_from_number: " ",
};

const UNICODE: EquationNotation = EquationNotation {
    forward: " → ",
    both_ways: " ⇌ ",
    number: vulgar_number,
    formula: Formula::to_unicode,
    ..PLAIN
};

const HTML: EquationNotation = EquationNotation {
    formula: Formula::to_html,
    ..UNICODE
};

const LATEX: EquationNotation = EquationNotation {
    forward: " \\rightarrow ",
    both_ways: " \\rightleftharpoons ",
    number: tex_number,
    formula: Formula::to_latex,
    apart: "\\,",
    apart_from_number: "\\,",
    ..PLAIN
};

const MHCHEM: EquationNotation = EquationNotation {
    formula: |formula| inside(&formula.to_mhchem(), "\\ce{", "}"),
    apart: " ",
    ..PLAIN
};

const MATHML: EquationNotation = EquationNotation {
    plus: "<mo>+</mo>",
    forward: "<mo>→</mo>",
    equals: "<mo>=</mo>",
    both_ways: "<mo>⇌</mo>",
    number: mathml_number,
    formula: |formula| written(|out| formula.write_mathml_row(out)),
    apart: "",
    // A space between elements is not drawn.
    apart_from_number: "<mspace width=\"0.25em\"/>",
};

const SPOKEN: EquationNotation = EquationNotation {
    plus: ", plus ",
    forward: ", gives ",
    equals: ", equals ",
    both_ways: ", in equilibrium with ",
    number: spoken_number,
    formula: Formula::to_spoken,
    apart: " ",
    apart_from_number: " ",
};

impl EquationNotation {
    fn equation(&self, out: &mut dyn Write, equation: &Equation) -> fmt::Result {
        self.side(out, equation.reactants())?;
        out.write_str(match equation.arrow {
            Arrow::Forward => self.forward,
            Arrow::Equals => self.equals,
            Arrow::BothWays => self.both_ways,
        })?;
        self.side(out, equation.products())
    }

    fn side(&self, out: &mut dyn Write, species: &[Species]) -> fmt::Result {
        for (index, one) in species.iter().enumerate() {
            if index > 0 {
                out.write_str(self.plus)?;
            }
            self.species(out, one)?;
        }
        Ok(())
    }

    fn species(&self, out: &mut dyn Write, species: &Species) -> fmt::Result {
        let unit = species.formula.as_one_unit();
        let formula = (self.formula)(unit.as_ref().unwrap_or(&species.formula));
        // A formula that begins with a number of its own always needs its coefficient.
        let own = unit.is_none() && species.formula.begins_with_number();
        let count = species.count();
        if own || count != Ratio::ONE {
            out.write_str(&(self.number)(&count))?;
            out.write_str(match own {
                true => self.apart_from_number,
                false => self.apart,
            })?;
        }
        out.write_str(&formula)
    }
}

fn inside(text: &str, head: &str, tail: &str) -> String {
    let text = text.strip_prefix(head).unwrap_or(text);
    text.strip_suffix(tail).unwrap_or(text).into()
}

/// Writes no more digits than are read back: a long decimal becomes a fraction.
fn plain_number(number: &Ratio) -> String {
    let text = format!("{number}");
    match number.to_parts() {
        Some((above, below)) if text.len() > 10 && below > 1 => format!("{above}/{below}"),
        _ => text,
    }
}

fn vulgar_number(number: &Ratio) -> String {
    let sign = match number.to_parts() {
        Some((1, 2)) => "½",
        Some((1, 3)) => "⅓",
        Some((2, 3)) => "⅔",
        Some((1, 4)) => "¼",
        Some((3, 4)) => "¾",
        _ => return plain_number(number),
    };
    sign.into()
}

fn tex_number(number: &Ratio) -> String {
    match number.to_parts() {
        Some((above, below)) if below > 1 => format!("\\tfrac{{{above}}}{{{below}}}"),
        _ => plain_number(number),
    }
}

fn mathml_number(number: &Ratio) -> String {
    match number.to_parts() {
        Some((above, below)) if below > 1 => {
            format!("<mfrac><mn>{above}</mn><mn>{below}</mn></mfrac>")
        }
        _ => format!("<mn>{}</mn>", plain_number(number)),
    }
}

fn spoken_number(number: &Ratio) -> String {
    match number.to_parts() {
        Some((1, 2)) => "one half".into(),
        Some((above, below)) if below > 1 => format!("{above} over {below}"),
        _ => plain_number(number),
    }
}

/// Returns a species in canonical plain text, without its coefficient.
pub(super) fn plain_formula(formula: &Formula) -> String {
    let unit = formula.as_one_unit();
    (PLAIN.formula)(unit.as_ref().unwrap_or(formula))
}

/// Returns what a writer writes into a string, which refuses nothing.
fn written(write: impl FnOnce(&mut String) -> fmt::Result) -> String {
    let mut out = String::with_capacity(64);
    let done = write(&mut out);
    debug_assert!(done.is_ok(), "a text refused what was written to it");
    out
}

impl Species {
    /// Returns the formula in canonical plain text, as one unit.
    ///
    /// Two CN are `(CN)2` in an equation, because a number in front would be a coefficient.
    #[must_use]
    pub fn name(&self) -> String {
        plain_formula(&self.formula)
    }
}

impl Equation {
    pub(super) fn to_plain(&self) -> String {
        written(|out| PLAIN.equation(out, self))
    }

    /// Returns the equation in subscripts and superscripts, with a real arrow: `2H₂ + O₂ → 2H₂O`.
    /// [`Equation::read`] reads it back.
    #[must_use]
    pub fn to_unicode(&self) -> String {
        written(|out| self.write_unicode(out))
    }

    /// Writes what [`Equation::to_unicode`] returns.
    ///
    /// # Errors
    /// If `out` refuses.
    pub fn write_unicode(&self, out: &mut impl Write) -> fmt::Result {
        UNICODE.equation(out, self)
    }

    /// Returns the equation as a fragment of HTML.
    ///
    /// ```
    /// let water: effloresce::reaction::Equation = "2H2 + O2 -> 2H2O".parse()?;
    /// assert_eq!(
    ///     water.to_html(),
    ///     "2H<sub>2</sub> + O<sub>2</sub> → 2H<sub>2</sub>O"
    /// );
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn to_html(&self) -> String {
        written(|out| self.write_html(out))
    }

    /// Writes what [`Equation::to_html`] returns.
    ///
    /// # Errors
    /// If `out` refuses.
    pub fn write_html(&self, out: &mut impl Write) -> fmt::Result {
        HTML.equation(out, self)
    }

    /// Returns the equation for the maths mode of LaTeX. A coefficient that is a fraction needs the
    /// package `amsmath`.
    #[must_use]
    pub fn to_latex(&self) -> String {
        written(|out| self.write_latex(out))
    }

    /// Writes what [`Equation::to_latex`] returns.
    ///
    /// # Errors
    /// If `out` refuses.
    pub fn write_latex(&self, out: &mut impl Write) -> fmt::Result {
        LATEX.equation(out, self)
    }

    /// Returns the equation for the LaTeX package mhchem: `\ce{2 H2 + O2 -> 2 H2O}`.
    #[must_use]
    pub fn to_mhchem(&self) -> String {
        written(|out| self.write_mhchem(out))
    }

    /// Writes what [`Equation::to_mhchem`] returns.
    ///
    /// # Errors
    /// If `out` refuses.
    pub fn write_mhchem(&self, out: &mut impl Write) -> fmt::Result {
        out.write_str("\\ce{")?;
        MHCHEM.equation(out, self)?;
        out.write_char('}')
    }

    /// Returns the equation as presentation `MathML`, with the spoken form as its alternative text.
    #[must_use]
    pub fn to_mathml(&self) -> String {
        written(|out| self.write_mathml(out))
    }

    /// Writes what [`Equation::to_mathml`] returns.
    ///
    /// # Errors
    /// If `out` refuses.
    pub fn write_mathml(&self, out: &mut impl Write) -> fmt::Result {
        write!(out, "<math xmlns=\"{NAMESPACE}\" alttext=\"")?;
        self.write_spoken(out)?;
        out.write_str("\">")?;
        self.write_mathml_row(out)?;
        out.write_str("</math>")
    }

    /// Writes the equation as a part of a larger one.
    pub(crate) fn write_mathml_row(&self, out: &mut dyn Write) -> fmt::Result {
        MATHML.equation(out, self)
    }

    /// Returns the equation in words, for a screen reader.
    #[must_use]
    #[doc(alias = "accessibility")]
    pub fn to_spoken(&self) -> String {
        written(|out| self.write_spoken(out))
    }

    /// Writes what [`Equation::to_spoken`] returns.
    ///
    /// # Errors
    /// If `out` refuses.
    pub fn write_spoken(&self, out: &mut impl Write) -> fmt::Result {
        SPOKEN.equation(out, self)
    }
}

impl fmt::Display for Equation {
    /// Writes the canonical plain text; [`FromStr`](core::str::FromStr) reads it back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.to_plain())
    }
}

impl fmt::Debug for Equation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Equation({self})")
    }
}

impl fmt::Display for Species {
    /// Writes the canonical plain text, including the coefficient.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&written(|out| PLAIN.species(out, self)))
    }
}

impl fmt::Debug for Species {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Species({self})")
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Equation {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.to_plain())
    }
}
