//! An item of QTI 3.0 with what a pupil enters: its declarations, its response rules, and what it shows then.
//!
//! It is strict: what is not declared, not of the right type or not of the standard is an error.

use std::collections::BTreeMap;

use super::expression::{
    Declarations, Expression, Mapping, Outcome, Response, Values, no_text, number, only,
};
use super::value::{Base, Overflow, Type, Value, is_identifier};
use super::xml::Element;

pub(crate) struct Item {
    pub(crate) identifier: String,
    pub(crate) declarations: Declarations,
    pub(crate) body: Element,
    rules: Vec<Rule>,
}

enum Rule {
    /// The rules of the first branch that is true; a branch without a condition is always taken.
    Branches(Vec<(Option<Expression>, Vec<Rule>)>),
    Set(String, Expression),
    Exit,
}

/// The outcomes after the rules.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Outcomes(pub(crate) BTreeMap<String, Value>);

impl Outcomes {
    /// An outcome that is a number.
    pub(crate) fn number(&self, identifier: &str) -> f64 {
        let value = self.0.get(identifier).and_then(Value::number);
        value.unwrap_or_else(|| panic!("`{identifier}` is not a number: {:?}", self.0))
    }

    /// An outcome that is an identifier; empty for NULL.
    pub(crate) fn identifier(&self, identifier: &str) -> &str {
        self.0[identifier].text().unwrap_or_default()
    }
}

impl Item {
    pub(crate) fn read(bytes: &[u8]) -> Result<Item, String> {
        let root = Element::read(bytes)?;
        if root.name != "qti-assessment-item" {
            return Err(format!("`{}` is not an item", root.name));
        }
        let mut declarations = Declarations::default();
        let (mut body, mut processing) = (None, None);
        for element in root.elements() {
            match element.name.as_str() {
                "qti-response-declaration" => {
                    let (identifier, response) = response(element)?;
                    let earlier = declarations.responses.insert(identifier.clone(), response);
                    twice(earlier.as_ref(), &identifier)?;
                }
                "qti-outcome-declaration" => {
                    let (identifier, outcome) = outcome(element)?;
                    let earlier = declarations.outcomes.insert(identifier.clone(), outcome);
                    twice(earlier.as_ref(), &identifier)?;
                }
                "qti-item-body" => twice(body.replace(element).as_ref(), "qti-item-body")?,
                "qti-response-processing" => {
                    twice(
                        processing.replace(element).as_ref(),
                        "qti-response-processing",
                    )?;
                }
                other => return Err(format!("`{other}` is not read here")),
            }
        }
        for identifier in declarations.responses.keys() {
            let both = declarations.outcomes.get(identifier);
            twice(both, identifier)?;
        }
        let processing = processing.ok_or("no response rules")?;
        only(processing, &[])?;
        let rules = rules(&declarations, processing.elements())?;
        Ok(Item {
            identifier: root.needed("identifier")?.into(),
            body: body.ok_or("no body")?.clone(),
            declarations,
            rules,
        })
    }

    /// The outcomes for what is entered. A response that is not entered is NULL.
    pub(crate) fn outcomes(&self, entered: &[(&str, &str)], overflow: Overflow) -> Outcomes {
        let mut values = Values::new();
        for (identifier, response) in &self.declarations.responses {
            let entered = entered.iter().find(|(entry, _)| entry == identifier);
            let value = entered.map_or(Value::Null, |(_, text)| {
                response.of.base.entered(text, overflow)
            });
            values.insert(identifier.clone(), value);
        }
        for (identifier, _) in entered {
            assert!(
                values.contains_key(*identifier),
                "no response `{identifier}`"
            );
        }
        let outcomes = self.declarations.outcomes.iter();
        values.extend(
            outcomes.map(|(identifier, outcome)| (identifier.clone(), outcome.default.clone())),
        );
        run(&self.rules, &mut values);
        values.retain(|identifier, _| self.declarations.outcomes.contains_key(identifier));
        Outcomes(values)
    }

    /// Each outcome with each identifier that a rule may give it.
    pub(crate) fn settable(&self) -> Vec<(&str, &str)> {
        let mut found = Vec::new();
        settable(&self.rules, &mut found);
        found
    }
}

fn twice<T>(earlier: Option<&T>, what: &str) -> Result<(), String> {
    match earlier {
        None => Ok(()),
        Some(_) => Err(format!("`{what}` appears twice")),
    }
}

/// The identifier and the type of a declaration.
fn declared(element: &Element, more: &[&str]) -> Result<(String, Type), String> {
    let known = ["identifier", "cardinality", "base-type"];
    only(element, &[&known, more].concat())?;
    no_text(element)?;
    let identifier = element.needed("identifier")?;
    if !is_identifier(identifier) {
        return Err(format!("`{identifier}` is not an identifier"));
    }
    let many = match element.needed("cardinality")? {
        "single" => false,
        "multiple" => true,
        other => return Err(format!("the cardinality `{other}` is not read here")),
    };
    let base = Base::read(element.needed("base-type")?)?;
    Ok((identifier.into(), Type { base, many }))
}

/// The values inside an element, as one value.
fn values(of: Type, element: &Element) -> Result<Value, String> {
    only(element, &[])?;
    no_text(element)?;
    let mut found = Vec::new();
    for value in element.elements() {
        if value.name != "qti-value" {
            return Err(format!("`{}` in `{}`", value.name, element.name));
        }
        only(value, &[])?;
        found.push(of.base.constant(&value.own_text())?);
    }
    match (of.many, found.len()) {
        (true, 1..) => Ok(Value::Many(found)),
        (false, 1) => Ok(found.remove(0)),
        (_, count) => Err(format!("{count} values in `{}`", element.name)),
    }
}

fn response(element: &Element) -> Result<(String, Response), String> {
    let (identifier, of) = declared(element, &[])?;
    let (mut correct, mut mapping) = (Value::Null, None);
    for child in element.elements() {
        match child.name.as_str() {
            "qti-correct-response" => correct = values(of, child)?,
            "qti-mapping" => mapping = Some(self::mapping(of.base, child)?),
            other => return Err(format!("`{other}` is not read here")),
        }
    }
    let response = Response {
        of,
        correct,
        mapping,
    };
    Ok((identifier, response))
}

fn mapping(base: Base, element: &Element) -> Result<Mapping, String> {
    only(element, &["default-value", "lower-bound", "upper-bound"])?;
    let mut entries = Vec::new();
    for entry in element.elements() {
        if entry.name != "qti-map-entry" {
            return Err(format!("`{}` in a mapping", entry.name));
        }
        only(entry, &["map-key", "mapped-value", "case-sensitive"])?;
        let key = base.constant(entry.needed("map-key")?)?;
        let mapped = number(entry, "mapped-value")?;
        entries.push((key, mapped.ok_or("an entry without a value")?));
    }
    Ok(Mapping {
        entries,
        default: number(element, "default-value")?.unwrap_or(0.0),
        lowest: number(element, "lower-bound")?,
        greatest: number(element, "upper-bound")?,
    })
}

fn outcome(element: &Element) -> Result<(String, Outcome), String> {
    let more = [
        "normal-maximum",
        "normal-minimum",
        "external-scored",
        "view",
    ];
    let (identifier, of) = declared(element, &more)?;
    // A number without a default is zero at first.
    let mut default = match of.base {
        Base::Float if !of.many => Value::Float(0.0),
        Base::Integer if !of.many => Value::Integer(0),
        _ => Value::Null,
    };
    for child in element.elements() {
        match child.name.as_str() {
            "qti-default-value" => default = values(of, child)?,
            other => return Err(format!("`{other}` is not read here")),
        }
    }
    Ok((identifier, Outcome { of, default }))
}

fn rules<'a>(
    declarations: &Declarations,
    elements: impl Iterator<Item = &'a Element>,
) -> Result<Vec<Rule>, String> {
    elements
        .map(|element| rule(declarations, element))
        .collect()
}

fn rule(declarations: &Declarations, element: &Element) -> Result<Rule, String> {
    no_text(element)?;
    match element.name.as_str() {
        "qti-response-condition" => {
            only(element, &[])?;
            let names: Vec<&str> = element
                .elements()
                .map(|branch| branch.name.as_str())
                .collect();
            let (first, mut later) = names.split_first().ok_or("a condition without a branch")?;
            if let Some(("qti-response-else", others)) = later.split_last().map(|(a, b)| (*a, b)) {
                later = others;
            }
            if *first != "qti-response-if"
                || later.iter().any(|name| *name != "qti-response-else-if")
            {
                return Err(format!("the branches {names:?}"));
            }
            let branches = element
                .elements()
                .map(|element| branch(declarations, element));
            Ok(Rule::Branches(branches.collect::<Result<_, _>>()?))
        }
        "qti-set-outcome-value" => {
            only(element, &["identifier"])?;
            let identifier = element.needed("identifier")?;
            let outcome = declarations.outcomes.get(identifier);
            let outcome =
                outcome.ok_or_else(|| format!("the outcome `{identifier}` is not declared"))?;
            let mut parts = element.elements();
            let (Some(value), None) = (parts.next(), parts.next()) else {
                return Err(format!("`{identifier}` is not set to one value"));
            };
            let value = declarations.expression(value)?;
            match value.of.is_none_or(|of| of == outcome.of) {
                true => Ok(Rule::Set(identifier.into(), value)),
                false => Err(format!(
                    "`{identifier}` is set to a value of {:?}",
                    value.of
                )),
            }
        }
        "qti-exit-response" => Ok(Rule::Exit),
        other => Err(format!("`{other}` is not a rule that is read here")),
    }
}

fn branch(
    declarations: &Declarations,
    element: &Element,
) -> Result<(Option<Expression>, Vec<Rule>), String> {
    only(element, &[])?;
    no_text(element)?;
    let mut parts = element.elements();
    if element.name == "qti-response-else" {
        return Ok((None, rules(declarations, parts)?));
    }
    let condition = parts.next().ok_or("a branch without a condition")?;
    let condition = declarations.expression(condition)?;
    if condition.of.is_some_and(|of| of != Base::Boolean.single()) {
        return Err(format!("a condition of the type {:?}", condition.of));
    }
    Ok((Some(condition), rules(declarations, parts)?))
}

/// Returns `false` if the rules end here.
fn run(rules: &[Rule], values: &mut Values) -> bool {
    rules.iter().all(|rule| match rule {
        Rule::Exit => false,
        Rule::Set(identifier, value) => {
            let value = value.value(values);
            values.insert(identifier.clone(), value);
            true
        }
        Rule::Branches(branches) => {
            // A condition that is NULL is not true.
            let taken = branches.iter().find(|(condition, _)| match condition {
                None => true,
                Some(condition) => condition.value(values) == Value::Boolean(true),
            });
            taken.is_none_or(|(_, rules)| run(rules, values))
        }
    })
}

fn settable<'a>(rules: &'a [Rule], found: &mut Vec<(&'a str, &'a str)>) {
    for rule in rules {
        match rule {
            Rule::Exit => {}
            Rule::Set(outcome, value) => {
                found.extend(
                    value
                        .stated_identifier()
                        .map(|value| (outcome.as_str(), value)),
                );
            }
            Rule::Branches(branches) => {
                for (_, rules) in branches {
                    settable(rules, found);
                }
            }
        }
    }
}
