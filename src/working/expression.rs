//! A line of working as a tree, so that a quotient can be drawn with a line.
//!
//! The notation is that of [`Step`](super::Step): signs with spaces around them, such as
//! `100 % × (1.0137 g − 0.4950 g) / 1.0137 g`. A text that is not in it is not a tree, and stays a text.

use alloc::boxed::Box;
use alloc::string::String;
use alloc::vec::{IntoIter, Vec};
use core::iter::Peekable;

use super::step::Step;
use crate::formula::{FormulaWord, formula_in};

/// The most brackets within brackets.
const DEEPEST: u32 = 8;
/// The most words, signs and brackets of a line. A tree can be as deep as it has signs.
const MOST_TOKENS: usize = 1000;

#[derive(Debug, PartialEq)]
pub(crate) enum Expression {
    /// A number with its unit, a quantity, or words.
    Value(String),
    Joined(Box<Expression>, char, Box<Expression>),
    Quotient(Box<Expression>, Box<Expression>),
    Bracket(Box<Expression>),
}

/// A part of a value.
pub(crate) enum ValuePart<'a> {
    Space,
    /// The symbol of a quantity.
    Symbol(&'a str),
    Number(&'a str),
    Formula(Box<FormulaWord<'a>>),
    Text(&'a str),
}

#[derive(Clone)]
enum WorkingToken {
    Open,
    Close,
    Sign(char),
    Word(String),
}

impl Expression {
    /// Reads a line of working. `None` if it is not in its notation.
    pub(crate) fn read(line: &str) -> Option<Expression> {
        let tokens = tokens(line);
        if tokens.len() > MOST_TOKENS {
            return None;
        }
        let mut tokens = tokens.into_iter().peekable();
        let read = chain(&mut tokens, 0)?;
        tokens.next().is_none().then_some(read)
    }

    /// The numbers and the result of a step. `None` if it is not an equation.
    pub(crate) fn of_step(step: &Step) -> Option<Expression> {
        // Several calculations in one step are joined by semicolons.
        let is_equation = step.relation() == "=" && !step.numbers().contains(';');
        is_equation.then(|| Expression::read(&step.equation()))?
    }

    /// Whether it is taller than a line.
    pub(crate) fn has_quotient(&self) -> bool {
        match self {
            Expression::Value(_) => false,
            Expression::Quotient(..) => true,
            Expression::Joined(before, _, after) => before.has_quotient() || after.has_quotient(),
            Expression::Bracket(inner) => inner.has_quotient(),
        }
    }

    /// The same without the brackets that the line of a quotient makes needless.
    pub(crate) fn without_brackets(&self) -> &Expression {
        match self {
            Expression::Bracket(inner) => inner,
            other => other,
        }
    }
}

/// The parts of a value: `m(MgSO4)` has a symbol, `2.50 g` a number and a text.
pub(crate) fn pieces(value: &str) -> Vec<ValuePart<'_>> {
    let mut pieces = Vec::new();
    for word in value.split([' ', '\u{A0}']) {
        if !pieces.is_empty() {
            pieces.push(ValuePart::Space);
        }
        let quantity = word
            .split_once('(')
            .filter(|(symbol, inner)| is_letter(symbol) && inner.ends_with(')'));
        match quantity {
            Some((symbol, rest)) => {
                let inner = rest.strip_suffix(')').unwrap_or(rest);
                pieces.push(ValuePart::Symbol(symbol));
                pieces.push(ValuePart::Text("("));
                pieces.push(piece(inner));
                pieces.push(ValuePart::Text(")"));
            }
            // A letter alone is a symbol; after a number it is a unit.
            None if value == word && is_letter(word) => pieces.push(ValuePart::Symbol(word)),
            None => pieces.push(piece(word)),
        }
    }
    pieces
}

fn piece(word: &str) -> ValuePart<'_> {
    let is_number = word.starts_with(|c: char| c.is_ascii_digit())
        && word
            .chars()
            .all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    match formula_in(word) {
        _ if is_number => ValuePart::Number(word),
        Some(found) => ValuePart::Formula(found.into()),
        None => ValuePart::Text(word),
    }
}

fn is_letter(word: &str) -> bool {
    word.chars().count() == 1 && word.chars().all(char::is_alphabetic)
}

fn tokens(line: &str) -> Vec<WorkingToken> {
    let mut tokens = Vec::new();
    // Brackets that a word opened and a later one closes, as in `m(sodium chloride)`.
    let mut within = 0_usize;
    for mut word in line.split([' ', '\u{A0}']).filter(|word| !word.is_empty()) {
        let mut chars = word.chars();
        if let (Some(sign @ ('+' | '−' | '×' | '/' | '÷' | '=')), None) =
            (chars.next(), chars.next())
        {
            tokens.push(WorkingToken::Sign(sign));
            continue;
        }
        let count = |word: &str, bracket| word.matches(bracket).count();
        while let Some(rest) = word
            .strip_prefix('(')
            .filter(|_| count(word, '(') > count(word, ')'))
        {
            tokens.push(WorkingToken::Open);
            word = rest;
        }
        within += count(word, '(');
        let closing = count(word, ')');
        let too_many = closing.saturating_sub(within);
        within = within.saturating_sub(closing);
        let mut closed = 0;
        while let Some(rest) = word.strip_suffix(')').filter(|_| closed < too_many) {
            word = rest;
            closed += 1;
        }
        match tokens.last_mut() {
            Some(WorkingToken::Word(before)) => {
                before.push(' ');
                before.push_str(word);
            }
            _ => tokens.push(WorkingToken::Word(word.into())),
        }
        tokens.extend((0..closed).map(|_| WorkingToken::Close));
    }
    tokens
}

type WorkingTokens = Peekable<IntoIter<WorkingToken>>;

fn sign_among(tokens: &mut WorkingTokens, signs: &[char]) -> Option<char> {
    match tokens.peek() {
        Some(WorkingToken::Sign(sign)) if signs.contains(sign) => {
            let sign = *sign;
            tokens.next();
            Some(sign)
        }
        _ => None,
    }
}

fn chain(tokens: &mut WorkingTokens, depth: u32) -> Option<Expression> {
    joined(tokens, &['='], &|tokens| sum(tokens, depth))
}

fn sum(tokens: &mut WorkingTokens, depth: u32) -> Option<Expression> {
    joined(tokens, &['+', '−'], &|tokens| product(tokens, depth))
}

fn joined(
    tokens: &mut WorkingTokens,
    signs: &[char],
    part: &dyn Fn(&mut WorkingTokens) -> Option<Expression>,
) -> Option<Expression> {
    let mut read = part(tokens)?;
    while let Some(sign) = sign_among(tokens, signs) {
        read = Expression::Joined(read.into(), sign, part(tokens)?.into());
    }
    Some(read)
}

fn product(tokens: &mut WorkingTokens, depth: u32) -> Option<Expression> {
    let mut read = factor(tokens, depth)?;
    while let Some(sign) = sign_among(tokens, &['×', '/', '÷']) {
        let next = factor(tokens, depth)?.into();
        read = match sign {
            '×' => Expression::Joined(read.into(), sign, next),
            _ => Expression::Quotient(read.into(), next),
        };
    }
    Some(read)
}

fn factor(tokens: &mut WorkingTokens, depth: u32) -> Option<Expression> {
    match tokens.next()? {
        WorkingToken::Word(word) => Some(Expression::Value(word)),
        WorkingToken::Open if depth < DEEPEST => {
            let inner = sum(tokens, depth + 1)?;
            matches!(tokens.next()?, WorkingToken::Close).then(|| Expression::Bracket(inner.into()))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use alloc::format;
    use alloc::string::ToString;

    use super::*;

    fn shown(expression: &Expression) -> String {
        match expression {
            Expression::Value(value) => value.clone(),
            Expression::Joined(a, sign, b) => format!("[{} {sign} {}]", shown(a), shown(b)),
            Expression::Quotient(a, b) => format!("<{} over {}>", shown(a), shown(b)),
            Expression::Bracket(inner) => format!("({})", shown(inner)),
        }
    }

    #[test]
    fn quotients_and_brackets_are_found() {
        for (line, expected) in [
            ("5.00 g − 3.20 g", "[5.00 g − 3.20 g]"),
            (
                "100 % × 1.363 g / 2.666 g = 51.13 %",
                "[<[100 % × 1.363 g] over 2.666 g> = 51.13 %]",
            ),
            (
                "100 % × (m(residue) / m(sample) − r(Na2CO3)) / (r(NaHCO3) − r(Na2CO3))",
                "<[100 % × ([<m(residue) over m(sample)> − r(Na2CO3)])] over ([r(NaHCO3) − r(Na2CO3)])>",
            ),
            ("a / b × c", "[<a over b> × c]"),
            ("m(sodium chloride) / 2", "<m(sodium chloride) over 2>"),
            (
                "M(Al2(SO4)3) + 2 × 1.008 g/mol",
                "[M(Al2(SO4)3) + [2 × 1.008 g/mol]]",
            ),
        ] {
            assert_eq!(
                Expression::read(line).map(|read| shown(&read)).as_deref(),
                Some(expected)
            );
        }
    }

    #[test]
    fn other_texts_stay_texts() {
        let deep = format!("{}1{}", "(a + ".repeat(40), ")".repeat(40));
        let long = "1 + ".repeat(100_000) + "1";
        for line in [
            "1 × (1.0004 : 2.0004 : 1) is near 1 : 2 : 1",
            "2 ×",
            "(2 + 3",
            "2) + 3",
            "",
            &deep,
            &long,
        ] {
            assert_eq!(Expression::read(line), None, "{line}");
        }
    }

    #[test]
    fn a_value_has_symbols_numbers_and_formulas() {
        let shown = |value| {
            let pieces = pieces(value).into_iter().map(|piece| match piece {
                ValuePart::Space => "_".into(),
                ValuePart::Symbol(symbol) => format!("*{symbol}*"),
                ValuePart::Number(number) => number.to_string(),
                ValuePart::Formula(found) => format!("[{}]", found.formula),
                ValuePart::Text(text) => text.into(),
            });
            pieces.collect::<Vec<String>>().join("|")
        };
        assert_eq!(shown("m(MgSO4)"), "*m*|(|[MgSO4]|)");
        assert_eq!(shown("2.50 g"), "2.50|_|g");
        assert_eq!(shown("x"), "*x*");
        assert_eq!(shown("7"), "7");
    }
}
