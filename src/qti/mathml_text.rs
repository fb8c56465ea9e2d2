//! `MathML` as plain text, for the tests: what is drawn must be what the alternative text says.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use quick_xml::escape::escape;

use super::xml_tree::XmlNode;

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
