//! The expressions of QTI 3.0 (assessment, section and item information model), read strictly and worked out in
//! doubles, as a program does that shows items.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use regex::Regex;

use super::pattern;
use super::value::{Base, Type, Value};
use super::xml::{Content, Element};

/// What an expression may speak of.
#[derive(Debug, Default)]
pub(crate) struct Declarations {
    pub(crate) responses: BTreeMap<String, Response>,
    pub(crate) outcomes: BTreeMap<String, Outcome>,
}

#[derive(Debug)]
pub(crate) struct Response {
    pub(crate) of: Type,
    pub(crate) correct: Value,
    pub(crate) mapping: Option<Mapping>,
}

#[derive(Debug)]
pub(crate) struct Outcome {
    pub(crate) of: Type,
    pub(crate) default: Value,
}

#[derive(Debug, Clone)]
pub(crate) struct Mapping {
    pub(crate) entries: Vec<(Value, f64)>,
    pub(crate) default: f64,
    pub(crate) lowest: Option<f64>,
    pub(crate) greatest: Option<f64>,
}

/// The values of all variables.
pub(crate) type Values = BTreeMap<String, Value>;

#[derive(Debug)]
pub(crate) struct Expression {
    /// `None` for `qti-null`, which is of each type.
    pub(crate) of: Option<Type>,
    operator: Operator,
    parts: Vec<Expression>,
}

#[derive(Debug)]
enum Operator {
    Constant(Value),
    Variable(String),
    MapResponse(String, Mapping),
    /// One or more numbers.
    Fold(fn(f64, f64) -> f64),
    Subtract,
    Divide,
    Round(fn(f64) -> f64),
    Function(fn(f64) -> f64),
    Float,
    And,
    Or,
    Not,
    IsNull,
    Match,
    Member,
    Equal(Tolerance),
    Compare(fn(Ordering) -> bool),
    StringMatch {
        case_sensitive: bool,
    },
    Pattern(Regex),
    Container,
}

/// How far the second value may be from the first.
#[derive(Debug)]
struct Tolerance {
    relative: bool,
    below: f64,
    above: f64,
    with_low: bool,
    with_high: bool,
}

const NUMBER: &str = "a number";
const TRUTH: &str = "true or false";

/// What an expression asks of its parts.
struct Parts<'a> {
    name: &'a str,
    types: Vec<Option<Type>>,
}

impl Parts<'_> {
    fn count(&self, lawful: impl Fn(usize) -> bool) -> Result<(), String> {
        match lawful(self.types.len()) {
            true => Ok(()),
            false => Err(format!("`{}` has {} parts", self.name, self.types.len())),
        }
    }

    /// Each part is a single value for which a test holds.
    fn each(&self, what: &str, test: impl Fn(Base) -> bool) -> Result<(), String> {
        match self
            .types
            .iter()
            .flatten()
            .find(|of| of.many || !test(of.base))
        {
            None => Ok(()),
            Some(of) => Err(format!("`{}` needs {what}, not {of:?}", self.name)),
        }
    }

    fn numbers(&self) -> Result<(), String> {
        self.each(NUMBER, Base::is_number)
    }

    fn truths(&self) -> Result<(), String> {
        self.each(TRUTH, |base| base == Base::Boolean)
    }

    fn texts(&self) -> Result<(), String> {
        self.each("a string", |base| base == Base::Text)
    }

    /// The type of what sums and products give.
    fn sum(&self) -> Type {
        let whole = |of: &Option<Type>| of.is_some_and(|of| of.base == Base::Integer);
        let base = if self.types.iter().all(whole) {
            Base::Integer
        } else {
            Base::Float
        };
        base.single()
    }

    /// All parts are of one base type, and texts are not compared as numbers.
    fn alike(&self) -> Result<Base, String> {
        let mut bases = self.types.iter().flatten().map(|of| of.base);
        let first = bases.next().ok_or("NULL alone has no type")?;
        match bases.all(|base| base == first) {
            true => Ok(first),
            false => Err(format!("`{}` compares {:?}", self.name, self.types)),
        }
    }
}

/// Refuses attributes that are not among these.
pub(crate) fn only(element: &Element, known: &[&str]) -> Result<(), String> {
    match element
        .attributes
        .iter()
        .find(|(key, _)| !known.contains(&key.as_str()))
    {
        None => Ok(()),
        Some((key, _)) => Err(format!("`{}` has an attribute `{key}`", element.name)),
    }
}

/// Refuses a text between elements.
pub(crate) fn no_text(element: &Element) -> Result<(), String> {
    match element.own_text().trim() {
        "" => Ok(()),
        text => Err(format!("`{}` has the text `{text}`", element.name)),
    }
}

/// A number of an attribute.
pub(crate) fn number(element: &Element, name: &str) -> Result<Option<f64>, String> {
    let value = element.attribute(name);
    let value = value.map(|text| Base::Float.constant(text)).transpose()?;
    Ok(value.and_then(|value| value.number()))
}

fn flag(element: &Element, name: &str, default: bool) -> Result<bool, String> {
    match element.attribute(name) {
        None => Ok(default),
        Some("true") => Ok(true),
        Some("false") => Ok(false),
        Some(other) => Err(format!("`{name}` is `{other}`")),
    }
}

impl Tolerance {
    fn read(element: &Element) -> Result<Tolerance, String> {
        only(
            element,
            &[
                "tolerance-mode",
                "tolerance",
                "include-lower-bound",
                "include-upper-bound",
            ],
        )?;
        let mode = element.attribute("tolerance-mode").unwrap_or("exact");
        let distances = element.attribute("tolerance").unwrap_or_default();
        let distances = distances
            .split_ascii_whitespace()
            .map(|text| Base::Float.constant(text));
        let distances: Vec<Value> = distances.collect::<Result<_, _>>()?;
        let distances: Vec<f64> = distances.iter().filter_map(Value::number).collect();
        let (below, above) = match (mode, &*distances) {
            ("exact", []) => (0.0, 0.0),
            ("absolute" | "relative", [both]) => (*both, *both),
            ("absolute" | "relative", [below, above]) => (*below, *above),
            _ => {
                return Err(format!(
                    "the mode `{mode}` with the distances {distances:?}"
                ));
            }
        };
        if below < 0.0 || above < 0.0 {
            return Err("a negative distance".into());
        }
        Ok(Tolerance {
            relative: mode == "relative",
            below,
            above,
            with_low: flag(element, "include-lower-bound", true)?,
            with_high: flag(element, "include-upper-bound", true)?,
        })
    }

    fn holds(&self, x: f64, y: f64) -> bool {
        let (low, high) = match self.relative {
            false => (x - self.below, x + self.above),
            true => (
                x * (1.0 - self.below / 100.0),
                x * (1.0 + self.above / 100.0),
            ),
        };
        let above = y > low || (self.with_low && y == low);
        above && (y < high || (self.with_high && y == high))
    }
}

impl Declarations {
    fn type_of(&self, identifier: &str) -> Result<Type, String> {
        let response = self.responses.get(identifier).map(|response| response.of);
        let outcome = self.outcomes.get(identifier).map(|outcome| outcome.of);
        response
            .or(outcome)
            .ok_or_else(|| format!("`{identifier}` is not declared"))
    }

    fn response(&self, element: &Element) -> Result<(&str, &Response), String> {
        only(element, &["identifier"])?;
        let identifier = element.needed("identifier")?;
        let found = self.responses.get_key_value(identifier);
        let found = found.map(|(key, response)| (key.as_str(), response));
        found.ok_or_else(|| format!("the response `{identifier}` is not declared"))
    }

    /// Reads an expression. What the standard does not have, or a part of another type than it asks for, is an error.
    pub(crate) fn expression(&self, element: &Element) -> Result<Expression, String> {
        match element.name.as_str() {
            "qti-base-value" => return self.base_value(element),
            "qti-variable" => {
                only(element, &["identifier"])?;
                let identifier = element.needed("identifier")?;
                let of = Some(self.type_of(identifier)?);
                return Ok(leaf(of, Operator::Variable(identifier.into())));
            }
            "qti-correct" => {
                let (_, response) = self.response(element)?;
                let correct = Operator::Constant(response.correct.clone());
                return Ok(leaf(Some(response.of), correct));
            }
            "qti-map-response" => {
                let (identifier, response) = self.response(element)?;
                let mapping = response.mapping.clone();
                let mapping = mapping.ok_or_else(|| format!("`{identifier}` has no mapping"))?;
                let operator = Operator::MapResponse(identifier.into(), mapping);
                return Ok(leaf(Some(Base::Float.single()), operator));
            }
            "qti-null" => return Ok(leaf(None, Operator::Constant(Value::Null))),
            _ => {}
        }
        no_text(element)?;
        let parts = element.elements().map(|part| self.expression(part));
        let parts: Vec<Expression> = parts.collect::<Result<_, _>>()?;
        let types = Parts {
            name: &element.name,
            types: parts.iter().map(|part| part.of).collect(),
        };
        let (of, operator) = match arithmetic(element, &types)? {
            Some(found) => found,
            None => statement(element, &types)?,
        };
        Ok(Expression {
            of: Some(of),
            operator,
            parts,
        })
    }

    fn base_value(&self, element: &Element) -> Result<Expression, String> {
        only(element, &["base-type"])?;
        let base = Base::read(element.needed("base-type")?)?;
        if element
            .content
            .iter()
            .any(|content| matches!(content, Content::Element(_)))
        {
            return Err("`qti-base-value` has an element".into());
        }
        let value = base.constant(&element.own_text())?;
        Ok(leaf(Some(base.single()), Operator::Constant(value)))
    }
}

fn leaf(of: Option<Type>, operator: Operator) -> Expression {
    Expression {
        of,
        operator,
        parts: Vec::new(),
    }
}

/// The expressions that are numbers.
fn arithmetic(element: &Element, parts: &Parts<'_>) -> Result<Option<(Type, Operator)>, String> {
    let (float, whole) = (Base::Float.single(), Base::Integer.single());
    let (count, of, operator): (fn(usize) -> bool, _, _) = match element.name.as_str() {
        "qti-sum" => (|n| n > 0, parts.sum(), Operator::Fold(|a, b| a + b)),
        "qti-product" => (|n| n > 0, parts.sum(), Operator::Fold(|a, b| a * b)),
        "qti-min" => (|n| n > 0, parts.sum(), Operator::Fold(f64::min)),
        "qti-max" => (|n| n > 0, parts.sum(), Operator::Fold(f64::max)),
        "qti-subtract" => (|n| n == 2, parts.sum(), Operator::Subtract),
        "qti-divide" => (|n| n == 2, float, Operator::Divide),
        // Halves are rounded up, below zero as well.
        "qti-round" => (|n| n == 1, whole, Operator::Round(|x| (x + 0.5).floor())),
        "qti-truncate" => (|n| n == 1, whole, Operator::Round(f64::trunc)),
        "qti-integer-to-float" => (|n| n == 1, float, Operator::Float),
        "qti-math-operator" => {
            only(element, &["name"])?;
            parts.count(|n| n == 1)?;
            parts.numbers()?;
            return Ok(Some(match element.needed("name")? {
                "abs" => (parts.sum(), Operator::Function(f64::abs)),
                "floor" => (whole, Operator::Round(f64::floor)),
                "ceil" => (whole, Operator::Round(f64::ceil)),
                other => return Err(format!("the function `{other}` is not read here")),
            }));
        }
        _ => return Ok(None),
    };
    only(element, &[])?;
    parts.count(count)?;
    parts.numbers()?;
    Ok(Some((of, operator)))
}

/// The expressions that are true or false, and containers.
fn statement(element: &Element, parts: &Parts<'_>) -> Result<(Type, Operator), String> {
    let truth = Base::Boolean.single();
    let plain = || only(element, &[]);
    let operator = match element.name.as_str() {
        "qti-and" | "qti-or" | "qti-not" => {
            plain()?;
            parts.truths()?;
            let one = element.name == "qti-not";
            parts.count(|n| if one { n == 1 } else { n > 0 })?;
            match element.name.as_str() {
                "qti-and" => Operator::And,
                "qti-or" => Operator::Or,
                _ => Operator::Not,
            }
        }
        "qti-is-null" => {
            plain()?;
            parts.count(|n| n == 1)?;
            Operator::IsNull
        }
        "qti-match" => {
            plain()?;
            parts.count(|n| n == 2)?;
            let many: Vec<bool> = parts.types.iter().flatten().map(|of| of.many).collect();
            if parts.alike()? == Base::Float || many.first() != many.last() {
                return Err(format!("`qti-match` of {:?}", parts.types));
            }
            Operator::Match
        }
        "qti-member" => {
            plain()?;
            parts.count(|n| n == 2)?;
            let many = parts.types.iter().map(|of| of.is_some_and(|of| of.many));
            if parts.alike()? == Base::Float || !many.eq([false, true]) {
                return Err(format!("`qti-member` of {:?}", parts.types));
            }
            Operator::Member
        }
        "qti-equal" => {
            parts.count(|n| n == 2)?;
            parts.numbers()?;
            Operator::Equal(Tolerance::read(element)?)
        }
        name @ ("qti-lt" | "qti-lte" | "qti-gt" | "qti-gte") => {
            plain()?;
            parts.count(|n| n == 2)?;
            parts.numbers()?;
            Operator::Compare(match name {
                "qti-lt" => Ordering::is_lt,
                "qti-lte" => Ordering::is_le,
                "qti-gt" => Ordering::is_gt,
                _ => Ordering::is_ge,
            })
        }
        "qti-string-match" => {
            only(element, &["case-sensitive"])?;
            parts.count(|n| n == 2)?;
            parts.texts()?;
            element.needed("case-sensitive")?;
            let case_sensitive = flag(element, "case-sensitive", true)?;
            Operator::StringMatch { case_sensitive }
        }
        "qti-pattern-match" => {
            only(element, &["pattern"])?;
            parts.count(|n| n == 1)?;
            parts.texts()?;
            Operator::Pattern(pattern::read(element.needed("pattern")?)?)
        }
        "qti-multiple" | "qti-ordered" => {
            plain()?;
            parts.count(|n| n > 0)?;
            let of = Type {
                base: parts.alike()?,
                many: true,
            };
            return Ok((of, Operator::Container));
        }
        other => return Err(format!("`{other}` is not an expression that is read here")),
    };
    Ok((truth, operator))
}

impl Expression {
    /// The value. An expression with a part that is NULL is NULL, but for the few that say otherwise.
    pub(crate) fn value(&self, values: &Values) -> Value {
        let parts: Vec<Value> = self.parts.iter().map(|part| part.value(values)).collect();
        let truth = |value: Option<bool>| value.map_or(Value::Null, Value::Boolean);
        match &self.operator {
            Operator::Constant(value) => value.clone(),
            Operator::Variable(identifier) => values[identifier].clone(),
            Operator::MapResponse(identifier, mapping) => mapping.value(&values[identifier]),
            Operator::And => truth(all(&parts)),
            Operator::Or => truth(negated(all(&parts.iter().map(not).collect::<Vec<_>>()))),
            Operator::IsNull => Value::Boolean(parts[0].members().is_empty()),
            Operator::Container => Value::Many(
                parts
                    .into_iter()
                    .flat_map(|v| v.members().to_vec())
                    .collect(),
            ),
            _ if parts.iter().any(|part| part.members().is_empty()) => Value::Null,
            Operator::Not => not(&parts[0]),
            Operator::Match => Value::Boolean(same(&parts[0], &parts[1])),
            Operator::Member => Value::Boolean(parts[1].members().contains(&parts[0])),
            Operator::StringMatch { case_sensitive } => {
                let [a, b] = [0, 1].map(|i| parts[i].text().unwrap_or_default());
                Value::Boolean(a == b || (!case_sensitive && a.to_lowercase() == b.to_lowercase()))
            }
            Operator::Pattern(regex) => {
                Value::Boolean(regex.is_match(parts[0].text().unwrap_or_default()))
            }
            _ => {
                let numbers: Vec<f64> = parts.iter().filter_map(Value::number).collect();
                self.of_numbers(&numbers)
            }
        }
    }

    /// The identifier that it is, if it is one.
    pub(crate) fn stated_identifier(&self) -> Option<&str> {
        match &self.operator {
            Operator::Constant(Value::Identifier(identifier)) => Some(identifier),
            _ => None,
        }
    }

    fn of_numbers(&self, numbers: &[f64]) -> Value {
        let value = match (&self.operator, numbers) {
            (Operator::Equal(tolerance), [x, y]) => return Value::Boolean(tolerance.holds(*x, *y)),
            (Operator::Compare(holds), [x, y]) => {
                return Value::Boolean(x.partial_cmp(y).is_some_and(holds));
            }
            (Operator::Fold(fold), _) => numbers.iter().copied().reduce(fold),
            (Operator::Subtract, [x, y]) => Some(x - y),
            (Operator::Divide, [x, y]) => Some(x / y).filter(|_| *y != 0.0),
            (Operator::Round(function) | Operator::Function(function), [x]) => Some(function(*x)),
            (Operator::Float, [x]) => Some(*x),
            _ => None,
        };
        match (value, self.of) {
            (None, _) => Value::Null,
            (Some(value), Some(of)) if of.base == Base::Integer && value.is_finite() => {
                Value::Integer(value as i64)
            }
            (Some(value), _) if value.is_nan() => Value::Null,
            (Some(value), _) => Value::Float(value),
        }
    }
}

/// True if all are; false if one is not; else NULL.
fn all(parts: &[Value]) -> Option<bool> {
    if parts.contains(&Value::Boolean(false)) {
        return Some(false);
    }
    parts.iter().try_fold(true, |_, part| part.truth())
}

fn negated(truth: Option<bool>) -> Option<bool> {
    truth.map(|truth| !truth)
}

fn not(value: &Value) -> Value {
    negated(value.truth()).map_or(Value::Null, Value::Boolean)
}

/// The same value. The order of a container does not count.
fn same(a: &Value, b: &Value) -> bool {
    let (mut rest, others) = (b.members().to_vec(), a.members());
    others.len() == rest.len()
        && others.iter().all(|value| {
            let found = rest.iter().position(|other| other == value);
            found.map(|index| rest.swap_remove(index)).is_some()
        })
}

impl Mapping {
    fn value(&self, response: &Value) -> Value {
        let of = |value: &Value| {
            let mut entries = self.entries.iter();
            let entry = entries.find(|(key, _)| key == value);
            entry.map_or(self.default, |(_, mapped)| *mapped)
        };
        let sum: f64 = response.members().iter().map(of).sum();
        let sum = self.lowest.map_or(sum, |lowest| sum.max(lowest));
        Value::Float(self.greatest.map_or(sum, |greatest| sum.min(greatest)))
    }
}
