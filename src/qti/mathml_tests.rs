//! What `MathML` draws must be what its alternative text says.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io;

use quick_xml::escape::escape;

use super::mathml::{write_equation, write_expression, write_formula};
use super::xml::Xml;
use super::xml_tree::XmlNode;
use crate::exercise::{EQUATIONS, Exercises, REACTIONS, SALTS, as_printed};
use crate::formula::Formula;
use crate::reaction::Equation;
use crate::working::Expression;

/// A formula in a document: its alternative text, and what it draws.
#[derive(Debug, PartialEq)]
pub(super) struct DrawnMath {
    pub(super) says: String,
    pub(super) draws: String,
}

/// Returns the formulas of a document, and all that a reader sees of it.
pub(super) fn drawn_maths(markup: &str) -> (Vec<DrawnMath>, String) {
    let mut maths = Vec::new();
    let mut parts = markup.split("<math ");
    let mut document = String::from(parts.next().unwrap());
    for part in parts {
        let (math, after) = part.split_once("</math>").unwrap();
        let math = format!("<math {math}</math>");
        let node = XmlNode::read(math.as_bytes()).unwrap();
        let draws = linear(&node);
        document.push_str(&escape(&*draws));
        document.push_str(after);
        let says = node.attribute("alttext").into();
        maths.push(DrawnMath { says, draws });
    }
    (maths, seen(&XmlNode::read(document.as_bytes()).unwrap()))
}

fn seen(node: &XmlNode) -> String {
    node.children
        .iter()
        .fold(node.text.clone(), |text, child| text + &seen(child))
}

fn linear(node: &XmlNode) -> String {
    let part = |index: usize| node.children.get(index).map(linear).unwrap_or_default();
    match node.name.as_str() {
        "math" | "mrow" | "mstyle" => node.children.iter().map(linear).collect(),
        "mi" | "mn" | "mtext" => node.text.clone(),
        "mspace" => " ".into(),
        "none" => String::new(),
        "mo" => match node.text.as_str() {
            sign @ ("+" | "−" | "×" | "=" | "→" | "⇌") => format!(" {sign} "),
            sign => sign.into(),
        },
        "msub" => part(0) + &part(1),
        "msup" => part(0) + &charge(&part(1)),
        "msubsup" => part(0) + &part(1) + &charge(&part(2)),
        "mmultiscripts" => {
            let names: Vec<&str> = node.children.iter().map(|node| &*node.name).collect();
            match names[1..] {
                ["mprescripts", "none", _] => format!("[{}{}]", part(3), part(0)),
                [_, _, "mprescripts", "none", _] => {
                    let after = part(1) + &charge(&part(2));
                    format!("[{}{}]{after}", part(5), part(0))
                }
                _ => panic!("scripts {names:?}"),
            }
        }
        "mfrac" => match (node.children[0].name.as_str(), part(1).parse::<u32>()) {
            ("mn", Ok(below @ (2 | 4))) => {
                let above: u32 = part(0).parse().unwrap();
                (f64::from(above) / f64::from(below)).to_string()
            }
            ("mn", _) => part(0) + "/" + &part(1),
            _ => {
                let above = bracketed(&node.children[0], &["+", "−"]);
                above + " / " + &bracketed(&node.children[1], &["+", "−", "×"])
            }
        },
        name => panic!("the element {name}"),
    }
}

fn charge(text: &str) -> String {
    let text = text.replace(' ', "").replace('−', "-");
    match text.as_str() {
        "" => text,
        _ => format!("^{text}"),
    }
}

/// A part of a quotient, in brackets if one of these signs is in it.
fn bracketed(row: &XmlNode, signs: &[&str]) -> String {
    let mut parts = row.children.iter();
    let is_sign = |node: &XmlNode| node.name == "mo" && signs.contains(&linear(node).trim());
    match parts.any(is_sign) {
        true => format!("({})", linear(row)),
        false => linear(row),
    }
}

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
        "2(3CdSO4·8H2O) -> 6CdSO4 + 16H2O",
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
