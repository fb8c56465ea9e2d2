//! A line of working, read as people read it: numbers with units, four operations and brackets.

use effloresce::working::Step;

use super::carry::{ChoiceOption, Own};
use super::value::number;

#[derive(Debug)]
pub(crate) struct Line {
    pub(crate) what: String,
    pub(crate) symbols: String,
    pub(crate) numbers: String,
    pub(crate) result: String,
    pub(crate) unit: String,
    pub(crate) concluded: bool,
    /// One for each result; none for a line that is concluded or says its numbers in words.
    pub(crate) trees: Vec<Tree>,
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Tree {
    Literal { text: String, unit: String },
    Operation(char, Box<Tree>, Box<Tree>),
}

impl Line {
    pub(crate) fn of(step: &Step) -> Line {
        let plain = |text: &str| text.replace('\u{a0}', " ");
        let numbers = plain(step.numbers());
        let concluded = step.relation() == "so";
        let trees = numbers.split("; ").map(tree).collect::<Option<Vec<_>>>();
        Line {
            what: step.what().into(),
            symbols: plain(step.symbols()),
            result: plain(step.result()),
            unit: plain(step.unit()),
            trees: trees.filter(|_| !concluded).unwrap_or_default(),
            numbers,
            concluded,
        }
    }

    pub(crate) fn printed(&self) -> Own {
        match number(&self.result).or(self.waters()) {
            Some(value) => Own::Number(value),
            None => Own::Text(self.result.clone()),
        }
    }

    /// The number of waters, if the line finds the formula of a hydrate.
    pub(crate) fn waters(&self) -> Option<f64> {
        if self.what != "formula of the hydrate" {
            return None;
        }
        let (_, water) = self.result.rsplit_once('·')?;
        match water.strip_suffix("H2O")? {
            "" => Some(1.0),
            count => number(count),
        }
    }

    /// What the line is about as the symbols of other lines have it, such as `n(NaCl)`.
    pub(crate) fn quantity(&self) -> String {
        let last = self.what.rsplit_once(' ').map_or("", |(_, last)| last);
        match (self.what.split_once(" of "), last.contains('(')) {
            (Some(("amount", "water")), _) => "n(H2O)".into(),
            (Some(("amount", name)), _) => format!("n({name})"),
            (Some(("mass", name)), _) => format!("m({name})"),
            (None, true) => last.into(),
            _ => String::new(),
        }
    }

    /// The symbols without what they are the symbols for.
    pub(crate) fn right_side(&self) -> &str {
        self.symbols
            .split_once(" = ")
            .map_or(&*self.symbols, |(_, right)| right)
    }

    pub(crate) fn literals(&self) -> Vec<(&str, &str)> {
        let mut found = Vec::new();
        for tree in &self.trees {
            tree.literals(&mut found);
        }
        found
    }

    /// A value to as many figures as the line has, but at least three, or to its decimals if it is a sum.
    pub(crate) fn rounded(&self, value: f64) -> f64 {
        let decimals = |text: &str| {
            text.split_once(['.', ','])
                .map_or(0, |(_, after)| after.len())
        };
        let sum = matches!(self.trees.first(), Some(Tree::Operation('+' | '−', ..)));
        let digits = self.result.chars().filter(char::is_ascii_digit);
        let figures = digits.skip_while(|digit| *digit == '0').count().max(3);
        let text = match sum {
            true => format!("{value:.*}", decimals(&self.result)),
            false => format!("{value:.*e}", figures - 1),
        };
        text.parse().expect("a number that was written")
    }

    /// The substances of which one is used up first.
    pub(crate) fn options(&self) -> Vec<ChoiceOption> {
        match self.what.as_str() {
            "limiting reactant" => self.numbers.split(", ").filter_map(quotient).collect(),
            "used up" => {
                let compared = self.numbers.strip_prefix("compare ");
                let both = compared.and_then(|text| text.split_once(" with "));
                let Some((salt, water)) = both else {
                    return Vec::new();
                };
                let option = |name: &str, text: &str| {
                    let literal = text.strip_suffix(" mol")?.to_owned();
                    Some(ChoiceOption {
                        name: name.into(),
                        coefficient: 1.0,
                        quotient: number(&literal)?,
                        literal,
                    })
                };
                let name = match self.result.as_str() {
                    "H2O" => "the salt",
                    name => name,
                };
                [option(name, salt), option("H2O", water)]
                    .into_iter()
                    .flatten()
                    .collect()
            }
            _ => Vec::new(),
        }
    }
}

/// `n(NaCl) / 2 = 0.025 mol`.
fn quotient(text: &str) -> Option<ChoiceOption> {
    let (left, right) = text.split_once(" = ")?;
    let (name, coefficient) = left.split_once(" / ")?;
    Some(ChoiceOption {
        name: name.strip_prefix("n(")?.strip_suffix(')')?.into(),
        coefficient: number(coefficient)?,
        quotient: number(right.strip_suffix(" mol")?)?,
        literal: String::new(),
    })
}

fn tree(text: &str) -> Option<Tree> {
    let mut words = Words(text.split(' ').flat_map(pieces).collect(), 0);
    let tree = words.sum()?;
    (words.1 == words.0.len()).then_some(tree)
}

/// A word without the brackets that are not its own: `(5.330` and `g)` have one, `J/(g·K)` has none.
fn pieces(word: &str) -> Vec<&str> {
    let mut word = word;
    let (mut before, mut after) = (Vec::new(), Vec::new());
    while word.len() > 1 && word.starts_with('(') {
        before.push("(");
        word = &word[1..];
    }
    while word.ends_with(')') && word.matches(')').count() > word.matches('(').count() {
        after.push(")");
        word = &word[..word.len() - 1];
    }
    [before, vec![word], after].concat()
}

struct Words<'a>(Vec<&'a str>, usize);

impl<'a> Words<'a> {
    fn peek(&self) -> Option<&'a str> {
        self.0.get(self.1).copied()
    }

    fn chain(&mut self, signs: [&str; 2], next: fn(&mut Self) -> Option<Tree>) -> Option<Tree> {
        let mut left = next(self)?;
        while let Some(sign) = self.peek().filter(|word| signs.contains(word)) {
            self.1 += 1;
            let right = next(self)?;
            left = Tree::Operation(sign.chars().next()?, left.into(), right.into());
        }
        Some(left)
    }

    fn sum(&mut self) -> Option<Tree> {
        self.chain(["+", "−"], |words| words.chain(["×", "/"], Words::factor))
    }

    fn factor(&mut self) -> Option<Tree> {
        let word = self.peek()?;
        self.1 += 1;
        if word == "(" {
            let inner = self.sum()?;
            let end = self.peek()?;
            self.1 += 1;
            return (end == ")").then_some(inner);
        }
        number(word)?;
        let unit = self
            .peek()
            .filter(|word| word.starts_with(|c: char| c.is_alphabetic() || c == '%'));
        self.1 += usize::from(unit.is_some());
        Some(Tree::Literal {
            text: word.into(),
            unit: unit.unwrap_or_default().into(),
        })
    }
}

impl Tree {
    pub(crate) fn value_of(&self) -> Option<f64> {
        self.value(&mut Tree::literal)
    }

    /// The value, with a value for each literal.
    pub(crate) fn value(&self, of: &mut dyn FnMut(&Tree) -> Option<f64>) -> Option<f64> {
        let Tree::Operation(sign, left, right) = self else {
            return of(self);
        };
        let (left, right) = (left.value(of)?, right.value(of)?);
        Some(match sign {
            '+' => left + right,
            '−' => left - right,
            '×' => left * right,
            _ => left / right,
        })
    }

    /// The number as printed.
    pub(crate) fn literal(&self) -> Option<f64> {
        match self {
            Tree::Literal { text, .. } => number(text),
            Tree::Operation(..) => None,
        }
    }

    pub(crate) fn first(&self) -> Option<&Tree> {
        match self {
            Tree::Operation(_, left, _) => left.first(),
            literal @ Tree::Literal { .. } => Some(literal),
        }
    }

    pub(crate) fn last(&self) -> Option<&Tree> {
        match self {
            Tree::Operation(_, _, right) => right.last(),
            literal @ Tree::Literal { .. } => Some(literal),
        }
    }

    fn literals<'a>(&'a self, found: &mut Vec<(&'a str, &'a str)>) {
        match self {
            Tree::Literal { text, unit } => found.push((text, unit)),
            Tree::Operation(_, left, right) => {
                left.literals(found);
                right.literals(found);
            }
        }
    }
}

#[test]
fn a_line_is_worked_out_as_it_is_written() {
    for (text, value) in [
        (
            "100 % × (5.330 g − 4.670 g) / 5.330 g",
            12.382_739_212_007_503,
        ),
        (
            "(−1460.13 kJ/mol) − (−858.6 kJ/mol) − 2 × (−285.83 kJ/mol)",
            -29.87,
        ),
        (
            "0.034304 mol × 187.2 J/(mol·K) + (3.65 g − 1.2360 g) × 4.18 J/(g·K)",
            16.512_228_8,
        ),
        (
            "−1000 J/kJ × -0.57837 kJ / 16.512 J/K",
            35.027_252_906_976_74,
        ),
        ("12,5 g − 2,5 g", 10.0),
    ] {
        let found = tree(text).and_then(|tree| tree.value_of());
        assert!(
            found.is_some_and(|found| (found - value).abs() < 1e-9),
            "{text}: {found:?}"
        );
    }
    for text in [
        "compare each percentage with the words",
        "3 +",
        "(3 g",
        "0.5 mol 3",
    ] {
        assert_eq!(tree(text), None, "{text}");
    }
}
