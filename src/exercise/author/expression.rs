//! Expressions of a template: numbers, placeholders, molar masses, values of the request, and `+ − × ÷`.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use nom::branch::alt;
use nom::bytes::complete::take_till1;
use nom::character::complete::{char, digit1, multispace0, one_of};
use nom::combinator::{map_opt, opt, recognize};
use nom::multi::many0;
use nom::sequence::{delimited, pair, preceded};
use nom::{IResult, Parser};

use super::own_quantity::DrawnValues;
use super::template_text::{Placeholder, TemplateText};
use crate::exercise::careful::CarefulWork;
use crate::exercise::problem::with_unit;
use crate::gravimetry::Interval;
use crate::number::{Ratio, Reading};
use crate::text::{Detail, shorten};

/// The longest expression, in bytes, and the most brackets in it.
const MOST_BYTES: usize = 400;
const MOST_BRACKETS: usize = 20;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::exercise) enum Operator {
    Plus,
    Minus,
    Times,
    Over,
}

impl Operator {
    fn read(sign: char) -> Operator {
        match sign {
            '+' => Operator::Plus,
            '-' | '−' => Operator::Minus,
            '*' | '×' => Operator::Times,
            _ => Operator::Over,
        }
    }

    fn sign(self) -> &'static str {
        match self {
            Operator::Plus => "+",
            Operator::Minus => "−",
            Operator::Times => "×",
            Operator::Over => "/",
        }
    }

    fn is_sum(self) -> bool {
        matches!(self, Operator::Plus | Operator::Minus)
    }
}

/// An arithmetic expression.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) enum OwnExpression {
    Number(Reading),
    /// A quantity, or the result of an earlier step.
    Value(Placeholder),
    MolarMass(TemplateText),
    /// A value of the result of the request.
    Pointer(String),
    Both(Box<OwnExpression>, Operator, Box<OwnExpression>),
}

impl OwnExpression {
    pub(super) fn read(text: &str) -> Result<OwnExpression, Detail> {
        let brackets = text.matches(['(', '[']).count();
        if text.len() > MOST_BYTES || brackets > MOST_BRACKETS {
            let message = format!(
                "the expression has more than {MOST_BYTES} bytes or more than {MOST_BRACKETS} brackets"
            );
            return Err(Detail::new(message).help("divide it into several steps of working"));
        }
        let rest = match sum(text) {
            Ok(("", expression)) => return Ok(expression),
            Ok((rest, _)) => rest,
            Err(nom::Err::Error(error) | nom::Err::Failure(error)) => error.input,
            Err(nom::Err::Incomplete(_)) => "",
        };
        let before = text.len() - rest.len();
        let character = text.get(..before).unwrap_or(text).chars().count() + 1;
        let message = match rest.trim() {
            "" => format!("character {character}: the expression ends too early"),
            rest => format!(
                "character {character}: `{}` cannot be read here",
                shorten(rest)
            ),
        };
        Err(Detail::new(message).help(
            "write numbers, placeholders such as `{mass}`, `M(…)` of a formula, a JSON Pointer in square brackets, \
             and + - * / between them",
        ))
    }

    /// Calls a function with each number, placeholder, molar mass and pointer in it.
    pub(in crate::exercise) fn each<'e>(&'e self, visit: &mut impl FnMut(&'e OwnExpression)) {
        match self {
            OwnExpression::Both(one, _, other) => {
                one.each(visit);
                other.each(visit);
            }
            leaf => visit(leaf),
        }
    }

    /// Returns whether it only adds and subtracts what is given. Such a result is not rounded on the way.
    pub(in crate::exercise) fn is_sum(&self) -> bool {
        match self {
            OwnExpression::Both(one, operator, other) => {
                operator.is_sum() && one.is_sum() && other.is_sum()
            }
            OwnExpression::MolarMass(_) => false,
            _ => true,
        }
    }
}

type Parsed<'t, T> = IResult<&'t str, T>;

fn sum(text: &str) -> Parsed<'_, OwnExpression> {
    chain(text, product, "+-−")
}

fn product(text: &str) -> Parsed<'_, OwnExpression> {
    chain(text, operand, "*×/÷")
}

/// Operands with operators of one rank between them, from left to right.
fn chain<'t>(
    text: &'t str,
    operand: fn(&'t str) -> Parsed<'t, OwnExpression>,
    signs: &'static str,
) -> Parsed<'t, OwnExpression> {
    let sign = delimited(multispace0, one_of(signs), multispace0);
    let (rest, first) = operand(text)?;
    let (rest, others) = many0(pair(sign, operand)).parse(rest)?;
    let all = others.into_iter().fold(first, |one, (sign, other)| {
        OwnExpression::Both(Box::new(one), Operator::read(sign), Box::new(other))
    });
    Ok((rest, all))
}

fn operand(text: &str) -> Parsed<'_, OwnExpression> {
    let number = recognize(pair(digit1, opt(pair(char('.'), digit1))));
    let number = map_opt(number, |digits: &str| {
        Some(OwnExpression::Number(digits.parse().ok()?))
    });
    let inside = delimited(char('{'), take_till1(|c| c == '}'), char('}'));
    let value = map_opt(inside, |inside: &str| {
        Some(OwnExpression::Value(Placeholder::read(inside).ok()?))
    });
    let pointer = delimited(char('['), take_till1(|c| c == ']'), char(']'));
    let pointer = map_opt(pointer, |pointer: &str| {
        pointer
            .starts_with('/')
            .then(|| OwnExpression::Pointer(pointer.into()))
    });
    let inner = delimited(
        pair(char('('), multispace0),
        sum,
        pair(multispace0, char(')')),
    );
    let any = alt((number, value, pointer, molar_mass, inner));
    delimited(multispace0, any, multispace0).parse(text)
}

/// `M(…)`, with brackets in the formula.
fn molar_mass(text: &str) -> Parsed<'_, OwnExpression> {
    let (rest, _) = preceded(char('M'), char('(')).parse(text)?;
    let mut open = 1;
    let end = rest.find(|c| {
        match c {
            '(' => open += 1,
            ')' => open -= 1,
            _ => {}
        }
        open == 0
    });
    let inside = end.and_then(|end| Some((rest.get(..end)?, rest.get(end + 1..)?)));
    let read =
        inside.and_then(|(formula, rest)| Some((rest, TemplateText::read(formula.trim()).ok()?)));
    match read {
        Some((rest, formula)) => Ok((rest, OwnExpression::MolarMass(formula))),
        None => Err(nom::Err::Error(nom::error::Error::new(
            text,
            nom::error::ErrorKind::Verify,
        ))),
    }
}

/// The result of a step, as later steps see it.
pub(in crate::exercise) struct StepResult<'t> {
    /// Empty if later steps cannot name it.
    pub(in crate::exercise) name: &'t str,
    pub(in crate::exercise) what: String,
    pub(in crate::exercise) value: Interval,
    /// As printed, with its unit.
    pub(in crate::exercise) printed: String,
}

/// What expressions are worked out with.
pub(in crate::exercise) struct Evaluation<'a, 't> {
    pub(in crate::exercise) values: &'a DrawnValues<'t>,
    pub(in crate::exercise) work: &'a CarefulWork,
    pub(in crate::exercise) results: Vec<StepResult<'t>>,
}

impl Evaluation<'_, '_> {
    fn result(&self, placeholder: &Placeholder) -> Option<&StepResult<'_>> {
        let mut named = self.results.iter();
        named.find(|result| result.name == placeholder.name && placeholder.part.is_none())
    }

    /// The values of an expression; `None` if it divides by zero, or names what is not there.
    pub(in crate::exercise) fn value(
        &self,
        expression: &OwnExpression,
        at: &impl Fn(&str) -> Option<Ratio>,
    ) -> Option<Interval> {
        match expression {
            OwnExpression::Number(reading) => Some(Interval::point(reading.value())),
            OwnExpression::Value(placeholder) => match self.result(placeholder) {
                Some(result) => Some(result.value.clone()),
                None => self.values.number(placeholder).map(Interval::point),
            },
            OwnExpression::MolarMass(text) => self.work.molar_mass(&self.values.formula(text)?),
            OwnExpression::Pointer(pointer) => at(pointer).map(Interval::point),
            OwnExpression::Both(one, operator, other) => {
                let (one, other) = (self.value(one, at)?, self.value(other, at)?);
                match operator {
                    Operator::Plus => Some(one.plus(&other)),
                    Operator::Minus => Some(one.minus(&other)),
                    Operator::Times => Some(one.times(&other)),
                    Operator::Over => one.over(&other),
                }
            }
        }
    }

    /// The expression in symbols.
    pub(in crate::exercise) fn symbols(&self, expression: &OwnExpression) -> Option<String> {
        self.written(expression, &|leaf| match leaf {
            OwnExpression::Value(placeholder) => match self.result(placeholder) {
                Some(result) => Some(result.what.clone()),
                None => self.values.symbol(placeholder),
            },
            OwnExpression::MolarMass(text) => Some(format!("M({})", self.values.formula(text)?)),
            OwnExpression::Number(reading) => Some(reading.to_string()),
            _ => None,
        })
    }

    /// The expression with the numbers put in.
    pub(in crate::exercise) fn numbers(&self, expression: &OwnExpression) -> Option<String> {
        self.written(expression, &|leaf| match leaf {
            OwnExpression::Value(placeholder) => match self.result(placeholder) {
                Some(result) => Some(result.printed.clone()),
                None => self.values.worded(placeholder),
            },
            OwnExpression::MolarMass(text) => {
                let molar = self.work.molar_mass(&self.values.formula(text)?)?;
                Some(with_unit(&molar.low().to_plain(), "g/mol"))
            }
            OwnExpression::Number(reading) => Some(reading.to_string()),
            _ => None,
        })
    }

    fn written(
        &self,
        expression: &OwnExpression,
        leaf: &impl Fn(&OwnExpression) -> Option<String>,
    ) -> Option<String> {
        let OwnExpression::Both(one, operator, other) = expression else {
            return leaf(expression);
        };
        let in_brackets =
            |side: &OwnExpression, text: String, needed: fn(Operator, Operator) -> bool| {
                let inner = match side {
                    OwnExpression::Both(_, inner, _) => Some(*inner),
                    _ => None,
                };
                match inner {
                    Some(inner) if needed(*operator, inner) => format!("({text})"),
                    _ => text,
                }
            };
        let left = in_brackets(one, self.written(one, leaf)?, |outer, inner| {
            inner.is_sum() && !outer.is_sum()
        });
        let right = in_brackets(
            other,
            self.written(other, leaf)?,
            |outer, inner| match outer {
                Operator::Plus => false,
                Operator::Minus => inner.is_sum(),
                Operator::Times => inner.is_sum(),
                Operator::Over => true,
            },
        );
        Some(format!("{left} {} {right}", operator.sign()))
    }
}
