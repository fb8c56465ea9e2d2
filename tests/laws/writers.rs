//! Writers: every formula that is read is written in every form, and no form loses anything.

use std::fmt;

use effloresce::element::Atom;
use effloresce::formula::{ErrorKind, Times};
use effloresce::{Element, Formula, Ratio};
use proptest::prelude::*;

use crate::building::{Takes, state};
use crate::strategies::{Spelling, open_meaning};
use crate::xml::Node;

// --- back from each form -----------------------------------------------------------------

fn from_html(html: &str) -> String {
    html.replace("<sub>", "_{")
        .replace("<sup>", "^{")
        .replace("</sub>", "}")
        .replace("</sup>", "}")
}

fn inside<'a>(text: &'a str, command: &str) -> &'a str {
    let inside = text.strip_prefix(command).and_then(|t| t.strip_suffix('}'));
    inside.unwrap_or_else(|| panic!("{text} is not {command}…}}"))
}

fn from_latex(latex: &str) -> String {
    inside(latex, "\\mathrm{")
        .replace("{}^{", "^{")
        .replace("\\cdot ", "·")
        .replace('\\', "")
}

fn from_mhchem(mhchem: &str) -> String {
    const LOWERED: &str = "\\mathrm{\\genfrac{}{}{0pt}{1}{}{";
    let mut out = String::new();
    let mut rest = inside(mhchem, "\\ce{");
    while let Some((before, after)) = rest.split_once(LOWERED) {
        let (count, after) = after.split_once("}}").unwrap();
        out.push_str(&format!("{before}_{{{count}}}"));
        rest = after;
    }
    out.push_str(rest);
    out.replace(" * ", "·").replace('\\', "")
}

/// Reads only the words of the spoken form: symbols, numbers, brackets and pauses.
fn from_spoken(spoken: &str) -> String {
    if spoken == "electron" {
        return "e-".into();
    }
    spoken.split(", ").map(from_phrase).collect()
}

fn from_phrase(phrase: &str) -> String {
    match phrase {
        "dot" => return "·".into(),
        "solid" => return "(s)".into(),
        "liquid" => return "(l)".into(),
        "gas" => return "(g)".into(),
        "aqueous" => return "(aq)".into(),
        _ => {}
    }
    let words: Vec<&str> = phrase.split(' ').collect();
    if let [before @ .., sign @ ("plus" | "minus")] = &words[..] {
        let sign = if *sign == "plus" { '+' } else { '-' };
        return format!("^{{{}{sign}}}", before.concat());
    }
    let mut out = String::new();
    let mut words = words.into_iter().peekable();
    while let Some(word) = words.next() {
        match word {
            "sub" => {}
            "open" | "close" => {
                let kind = match words.next().unwrap() {
                    "square" => words.next().map(|_| ['[', ']']).unwrap(),
                    "bracket" => ['(', ')'],
                    "brace" => ['{', '}'],
                    other => panic!("{other} in {phrase}"),
                };
                out.push(kind[usize::from(word == "close")]);
            }
            _ if word.parse::<Element>().is_ok() => out.push_str(word),
            _ if word.contains('-') => {
                let (name, mass) = word.split_once('-').unwrap();
                let element = Element::ALL.into_iter().find(|e| e.name() == name).unwrap();
                out.push_str(&format!("^{{{mass}}}{element}"));
            }
            _ => {
                let mut number = String::from(match word {
                    "one" | "two" | "three" => match (word, words.next().unwrap()) {
                        ("one", "half") => "1/2",
                        ("one", "third") => "1/3",
                        ("two", "thirds") => "2/3",
                        ("one", "quarter") => "1/4",
                        ("three", "quarters") => "3/4",
                        other => panic!("{other:?} in {phrase}"),
                    },
                    digits => digits,
                });
                if words.next_if_eq(&"over").is_some() {
                    number = format!("{number}/{}", words.next().unwrap());
                }
                if out.is_empty() {
                    out = number;
                } else {
                    out.push_str(&format!("_{{{number}}}"));
                }
            }
        }
    }
    out
}

// --- MathML ------------------------------------------------------------------------------

/// How many children each element has (`MathML` 3, chapter 3); of rows any number but none.
fn check_element(node: &Node) -> Result<(), TestCaseError> {
    let children = node.children.len();
    let lawful = match node.name.as_str() {
        "mi" | "mn" | "mo" | "mtext" => children == 0 && !node.text.is_empty(),
        "none" | "mprescripts" => children == 0 && node.text.is_empty(),
        "msub" | "msup" | "mfrac" => children == 2,
        "msubsup" => children == 3,
        // The base, perhaps two scripts after it, the mark, two scripts before it.
        "mmultiscripts" => {
            let mark = node.children.iter().position(|c| c.name == "mprescripts");
            matches!((mark, children), (Some(1), 4) | (Some(3), 6))
        }
        "mrow" | "math" => children > 0,
        _ => false,
    };
    prop_assert!(lawful, "{:?}", node);
    prop_assert!(children == 0 || node.text.is_empty(), "{:?}", node);
    node.children.iter().try_for_each(check_element)
}

/// A base with its scripts.
struct Scripted<'n> {
    base: &'n Node,
    count: Times,
    charge: i32,
    mass_number: Option<u16>,
}

impl<'n> Scripted<'n> {
    fn of(node: &'n Node) -> Scripted<'n> {
        let (base, count, charge, mass) = match (node.name.as_str(), &node.children[..]) {
            ("msub", [base, count]) => (base, Some(count), None, None),
            ("msup", [base, charge]) => (base, None, Some(charge), None),
            ("msubsup", [base, count, charge]) => (base, Some(count), Some(charge), None),
            ("mmultiscripts", [base, _, _, mass]) => (base, None, None, Some(mass)),
            ("mmultiscripts", [base, count, charge, _, _, mass]) => {
                (base, Some(count), Some(charge), Some(mass))
            }
            _ => (node, None, None, None),
        };
        let there = |script: Option<&'n Node>| script.filter(|script| script.name != "none");
        Scripted {
            base,
            count: there(count).map_or(Times::from(1), times),
            charge: there(charge).map_or(0, charge_of),
            mass_number: mass.map(|mass| mass.text.parse().unwrap()),
        }
    }
}

fn times(node: &Node) -> Times {
    match (node.name.as_str(), node.text.as_str(), &node.children[..]) {
        ("mn", digits, _) => digits.parse::<Ratio>().unwrap().into(),
        ("mi", "x", _) => Times::X,
        ("mi", "n", _) => Times::N,
        ("mfrac", _, [numerator, denominator]) => {
            let fraction = format!("{}/{}", numerator.text, denominator.text);
            fraction.parse::<Ratio>().unwrap().into()
        }
        _ => panic!("{node:?} is no number"),
    }
}

fn charge_of(node: &Node) -> i32 {
    let (size, sign) = match &node.children[..] {
        [] => (1, node),
        [size, sign] => (size.text.parse().unwrap(), sign),
        _ => panic!("{node:?} is no charge"),
    };
    match sign.text.as_str() {
        "+" => size,
        "\u{2212}" => -size,
        other => panic!("{other} is no sign"),
    }
}

fn is_symbol(node: &Node) -> bool {
    node.name == "mi" && node.attribute("mathvariant") == Some("normal")
}

fn add<B: Takes>(builder: B, nodes: &[Node]) -> B {
    nodes.iter().fold(builder, |builder, node| {
        let scripted = Scripted::of(node);
        if is_symbol(scripted.base) {
            let element: Element = scripted.base.text.parse().unwrap();
            let atom = match scripted.mass_number {
                None => Atom::natural(element),
                Some(mass) => Atom::labelled(element, mass).unwrap(),
            };
            return builder.add_atom(atom, scripted.count);
        }
        let [open, inside @ .., close] = &scripted.base.children[..] else {
            panic!("{node:?} is neither an atom nor a group");
        };
        let kind = open.text.chars().next().unwrap();
        let partner = ["()", "[]", "{}"].map(|pair| pair == format!("{kind}{}", close.text));
        assert!(partner.contains(&true), "{node:?}");
        builder.add_group(kind, |group| add(group, inside), scripted.count)
    })
}

/// The formula that a `MathML` text shows, built again.
fn from_mathml(math: &Node) -> Formula {
    let mut builder = Formula::builder();
    let mut dotted = true;
    for node in &math.children {
        match (node.name.as_str(), node.text.as_str()) {
            ("mo", "·") => dotted = true,
            ("mtext", label) => builder = builder.state(state(label)),
            _ => {
                assert!(
                    std::mem::take(&mut dotted),
                    "{node:?} without a dot before it"
                );
                let (coefficient, terms) = match &node.children[..] {
                    [first, terms @ ..] if matches!(first.name.as_str(), "mn" | "mfrac") => {
                        (times(first), terms)
                    }
                    [first, terms @ ..] if first.name == "mi" && !is_symbol(first) => {
                        (times(first), terms)
                    }
                    terms => (Times::from(1), terms),
                };
                let last = Scripted::of(terms.last().unwrap());
                if last.base.text == "e" {
                    assert_eq!((terms.len(), last.charge), (1, -1));
                    return Formula::electron();
                }
                builder = add(builder.part(coefficient), terms).charge(last.charge);
            }
        }
    }
    builder.build().unwrap()
}

// --- laws --------------------------------------------------------------------------------

/// No form of a formula loses anything.
pub(crate) fn says_the_same(formula: &Formula) -> Result<(), TestCaseError> {
    let forms = [
        (formula.to_html(), from_html as fn(&str) -> String),
        (formula.to_latex(), from_latex),
        (formula.to_mhchem(), from_mhchem),
        (formula.to_spoken(), from_spoken),
    ];
    for (written, back) in forms {
        let text = back(&written);
        match Formula::read(&text) {
            Ok((again, _)) => prop_assert_eq!(&again, formula, "{} → {}", written, text),
            // The way back may be longer than any text that is read.
            Err(error) => prop_assert_eq!(
                (error.kind(), text.len() > 2048),
                (ErrorKind::TooLarge, true),
                "{} → {}: {}",
                written,
                text,
                error
            ),
        }
    }
    let mathml = formula.to_mathml();
    let math = Node::read(&mathml).map_err(|e| TestCaseError::fail(format!("{mathml}: {e}")))?;
    check_element(&math)?;
    let namespace = math.attribute("xmlns");
    prop_assert_eq!(namespace, Some("http://www.w3.org/1998/Math/MathML"));
    prop_assert_eq!(math.attribute("alttext"), Some(&*formula.to_spoken()));
    prop_assert_eq!(&from_mathml(&math), formula, "{}", mathml);
    Ok(())
}

/// A page with space for a number of bytes.
struct Page(usize);

impl fmt::Write for Page {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0 = self.0.checked_sub(text.len()).ok_or(fmt::Error)?;
        Ok(())
    }
}

/// The text that a writer gives if the page has space for all of it, and for all but one byte.
type Written = (String, fmt::Result, fmt::Result);

macro_rules! written {
    ($formula:expr, $text:ident, $write:ident) => {{
        let text = $formula.$text();
        let room = Page(text.len());
        let less = Page(text.len() - 1);
        let on = |mut page: Page| $formula.$write(&mut page);
        let written: Written = (text, on(room), on(less));
        written
    }};
}

proptest! {
    #[test]
    fn every_form_says_the_same(meaning in open_meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        if let Ok((formula, _)) = Formula::read(&text) {
            says_the_same(&formula)?;
        }
    }

    #[test]
    fn only_the_page_can_refuse(meaning in open_meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        let Ok((formula, _)) = Formula::read(&text) else {
            return Ok(());
        };
        for (text, room, less) in [
            written!(formula, to_unicode, write_unicode),
            written!(formula, to_html, write_html),
            written!(formula, to_latex, write_latex),
            written!(formula, to_mhchem, write_mhchem),
            written!(formula, to_mathml, write_mathml),
            written!(formula, to_spoken, write_spoken),
        ] {
            prop_assert_eq!((room, less), (Ok(()), Err(fmt::Error)), "{}", text);
        }
    }

    /// What Markdown would take for emphasis: an underscore, or an asterisk at a word.
    #[test]
    fn markdown_leaves_mhchem_alone(meaning in open_meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        if let Ok((formula, _)) = Formula::read(&text) {
            let mhchem = formula.to_mhchem();
            prop_assert!(!mhchem.contains('_'), "{}", mhchem);
            prop_assert!(!mhchem.replace(" * ", "").contains('*'), "{}", mhchem);
        }
    }

    /// Words, digits and pauses: nothing that a voice would spell or that a mark-up would take.
    #[test]
    fn what_is_spoken_is_words(meaning in open_meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        if let Ok((formula, _)) = Formula::read(&text) {
            let spoken = formula.to_spoken();
            let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, ' ' | ',' | '-' | '.');
            prop_assert!(spoken.chars().all(plain), "{}", spoken);
        }
    }
}

#[test]
fn the_electron_is_written_in_every_form() {
    says_the_same(&Formula::electron()).unwrap();
}
