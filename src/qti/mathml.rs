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

#[cfg(test)]
mod tests {
    use alloc::vec::Vec;

    use super::super::mathml_text::{DrawnMath, drawn_maths};
    use super::*;
    use crate::exercise::{EQUATIONS, Exercises, REACTIONS, SALTS};

    fn written(write: impl FnOnce(&mut Xml) -> io::Result<()>) -> String {
        let mut xml = Xml::document().unwrap();
        xml.element("p", &[], write).unwrap();
        String::from_utf8(xml.finish()).unwrap()
    }

    #[track_caller]
    fn draws_what_it_says(markup: &str, says: &str) {
        let (maths, text) = drawn_maths(markup);
        let expected = DrawnMath {
            says: says.into(),
            draws: says.into(),
        };
        assert_eq!(maths, [expected], "{markup}");
        assert_eq!(text.trim(), says, "{markup}");
    }

    #[test]
    fn a_hydrate_has_upright_letters_subscripts_and_a_dot() {
        let formula: Formula = "CuSO4·5H2O".parse().unwrap();
        let markup = written(|xml| write_formula(xml, &formula));
        assert_eq!(
            markup.lines().last().unwrap(),
            "<p><math xmlns=\"http://www.w3.org/1998/Math/MathML\" alttext=\"CuSO4·5H2O\"><mrow>\
             <mi mathvariant=\"normal\">Cu</mi><mi mathvariant=\"normal\">S</mi>\
             <msub><mi mathvariant=\"normal\">O</mi><mn>4</mn></msub></mrow><mo>·</mo><mrow><mn>5</mn>\
             <msub><mi mathvariant=\"normal\">H</mi><mn>2</mn></msub>\
             <mi mathvariant=\"normal\">O</mi></mrow></math></p>"
        );
    }

    #[test]
    fn a_formula_draws_what_its_text_says() {
        let ions = [
            "SO4^2-",
            "Na^+",
            "NH4^+",
            "[Fe(CN)6]^4-",
            "[Cu(H2O)6]^2+",
            "e^-",
            "CuSO4·xH2O",
            "CaSO4·0.5H2O",
            "3CdSO4·8H2O",
            "CdSO4·8/3H2O",
            "(NH4)2Fe(SO4)2·6H2O",
            "2HCl",
            "[2H]2O",
            "[35Cl]^-",
            "CuSO4(s)",
            "Fe0.95O",
        ];
        let salts = SALTS.iter().map(|row| row.hydrate);
        for text in salts.chain(ions) {
            let formula: Formula = text.parse().unwrap();
            let markup = written(|xml| write_formula(xml, &formula));
            draws_what_it_says(&markup, &formula.to_string());
        }
    }

    #[test]
    fn an_equation_draws_what_its_text_says() {
        let pool = EQUATIONS.iter().map(|row| row.equation);
        let reactions = REACTIONS.iter().map(|row| row.equation);
        let own = [
            "Ag^+ + Cl^- -> AgCl",
            "N2 + 3H2 <=> 2NH3",
            "0.5O2 + H2 -> H2O",
            "8/3H2O + CdSO4 -> CdSO4·8/3H2O",
            "2CN^- + Ag^+ -> [Ag(CN)2]^-",
            "2H2 + O2 = 2H2O",
        ];
        for text in pool.chain(reactions).chain(own) {
            let (equation, _) = Equation::read(text).unwrap();
            let markup = written(|xml| write_equation(xml, &equation));
            draws_what_it_says(&markup, &as_printed(&equation.to_string()));
        }
    }

    #[test]
    fn a_line_of_working_draws_what_its_text_says() {
        let steps = |set: u64| {
            let set = Exercises::new(set).set(60).unwrap();
            let problems = set.problems().iter();
            problems
                .flat_map(|problem| problem.working().steps().to_vec())
                .collect::<Vec<_>>()
        };
        let mut drawn = 0;
        for step in (1..=5).flat_map(steps) {
            if let Some(expression) = Expression::of_step(&step) {
                let line = step.equation();
                let markup = written(|xml| write_expression(xml, &line, &expression));
                draws_what_it_says(&markup, &line.replace('\u{a0}', " "));
                drawn += 1;
            }
        }
        assert!(drawn > 500, "{drawn}");
    }

    #[test]
    fn nothing_in_a_line_of_working_is_markup() {
        let line = "a<b> & \"c\" / m(<i>) = 1 '</math>'";
        let expression = Expression::read(line).unwrap();
        let markup = written(|xml| write_expression(xml, line, &expression));
        draws_what_it_says(&markup, line);
    }
}
