//! Response rules as a tree, and the tree as XML.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use std::io;

use super::entry::Extreme;
use super::xml::{Attribute, Xml};
use crate::number::Ratio;

/// A value, or a statement that is true or false.
pub(super) enum RuleValue {
    /// The value of a response or an outcome.
    Variable(String),
    /// The right response that is declared.
    Correct(String),
    Float(Ratio),
    Identifier(String),
    /// No value.
    Null,
    Sum(Vec<RuleValue>),
    Product(Vec<RuleValue>),
    Difference(Box<RuleValue>, Box<RuleValue>),
    Quotient(Box<RuleValue>, Box<RuleValue>),
    Nearest(Box<RuleValue>),
    Absolute(Box<RuleValue>),
    OneOf(Extreme, Vec<RuleValue>),
    All(Vec<RuleValue>),
    Any(Vec<RuleValue>),
    Missing(Box<RuleValue>),
    /// One of several spellings.
    SpelledAs(Vec<String>, Box<RuleValue>),
    /// The same identifier.
    Same(Box<RuleValue>, Box<RuleValue>),
    AtMost(Box<RuleValue>, Box<RuleValue>),
    Below(Box<RuleValue>, Box<RuleValue>),
    /// The second value is at most so much below and above the first.
    Near {
        right: Box<RuleValue>,
        entered: Box<RuleValue>,
        below: Ratio,
        above: Ratio,
    },
    /// A text that a pattern of XML Schema describes as a whole.
    Pattern(String, Box<RuleValue>),
}

/// One response rule.
pub(super) enum ResponseRule {
    /// The first branch whose condition is true is taken; if none is, the last rules.
    Branch(Vec<(RuleValue, Vec<ResponseRule>)>, Vec<ResponseRule>),
    Set(String, RuleValue),
}

impl ResponseRule {
    pub(super) fn write(&self, xml: &mut Xml) -> io::Result<()> {
        match self {
            ResponseRule::Set(outcome, value) => {
                xml.element("qti-set-outcome-value", &[("identifier", outcome)], |xml| {
                    value.write(xml)
                })
            }
            ResponseRule::Branch(branches, otherwise) => {
                xml.element("qti-response-condition", &[], |xml| {
                    for (index, (condition, rules)) in branches.iter().enumerate() {
                        let name = match index {
                            0 => "qti-response-if",
                            _ => "qti-response-else-if",
                        };
                        xml.element(name, &[], |xml| {
                            condition.write(xml)?;
                            write_rules(rules, xml)
                        })?;
                    }
                    match otherwise.is_empty() {
                        true => Ok(()),
                        false => {
                            xml.element("qti-response-else", &[], |xml| write_rules(otherwise, xml))
                        }
                    }
                })
            }
        }
    }
}

fn write_rules(rules: &[ResponseRule], xml: &mut Xml) -> io::Result<()> {
    rules.iter().try_for_each(|rule| rule.write(xml))
}

impl RuleValue {
    fn write(&self, xml: &mut Xml) -> io::Result<()> {
        match self {
            RuleValue::Variable(identifier) => {
                xml.empty("qti-variable", &[("identifier", identifier)])
            }
            RuleValue::Correct(identifier) => {
                xml.empty("qti-correct", &[("identifier", identifier)])
            }
            RuleValue::Float(value) => base_value(xml, "float", &value.to_plain()),
            RuleValue::Identifier(identifier) => base_value(xml, "identifier", identifier),
            RuleValue::Null => xml.empty("qti-null", &[]),
            RuleValue::Sum(parts) => operator(xml, "qti-sum", parts),
            RuleValue::Product(parts) => operator(xml, "qti-product", parts),
            RuleValue::Difference(a, b) => pair(xml, "qti-subtract", &[], a, b),
            RuleValue::Quotient(a, b) => pair(xml, "qti-divide", &[], a, b),
            // The standard's rounding gives an integer, which is not set as a float.
            RuleValue::Nearest(value) => xml.element("qti-integer-to-float", &[], |xml| {
                xml.element("qti-round", &[], |xml| value.write(xml))
            }),
            RuleValue::Absolute(value) => {
                xml.element("qti-math-operator", &[("name", "abs")], |xml| {
                    value.write(xml)
                })
            }
            RuleValue::OneOf(Extreme::Least, parts) => operator(xml, "qti-min", parts),
            RuleValue::OneOf(Extreme::Greatest, parts) => operator(xml, "qti-max", parts),
            RuleValue::All(parts) => operator(xml, "qti-and", parts),
            RuleValue::Any(parts) => operator(xml, "qti-or", parts),
            RuleValue::Missing(value) => xml.element("qti-is-null", &[], |xml| value.write(xml)),
            RuleValue::SpelledAs(spellings, value) => xml.element("qti-member", &[], |xml| {
                value.write(xml)?;
                xml.element("qti-multiple", &[], |xml| {
                    let mut spellings = spellings.iter();
                    spellings.try_for_each(|spelling| base_value(xml, "string", spelling))
                })
            }),
            RuleValue::Same(a, b) => pair(xml, "qti-match", &[], a, b),
            RuleValue::AtMost(a, b) => pair(xml, "qti-lte", &[], a, b),
            RuleValue::Below(a, b) => pair(xml, "qti-lt", &[], a, b),
            RuleValue::Near {
                right,
                entered,
                below,
                above,
            } => {
                let tolerance = format!("{} {}", below.to_plain(), above.to_plain());
                let attributes = [("tolerance-mode", "absolute"), ("tolerance", &*tolerance)];
                // The standard measures from the first value.
                pair(xml, "qti-equal", &attributes, right, entered)
            }
            RuleValue::Pattern(pattern, value) => {
                xml.element("qti-pattern-match", &[("pattern", pattern)], |xml| {
                    value.write(xml)
                })
            }
        }
    }
}

fn base_value(xml: &mut Xml, base_type: &str, text: &str) -> io::Result<()> {
    xml.leaf("qti-base-value", &[("base-type", base_type)], text)
}

fn operator(xml: &mut Xml, name: &str, parts: &[RuleValue]) -> io::Result<()> {
    xml.element(name, &[], |xml| {
        parts.iter().try_for_each(|part| part.write(xml))
    })
}

fn pair(
    xml: &mut Xml,
    name: &str,
    attributes: &[Attribute<'_>],
    first: &RuleValue,
    second: &RuleValue,
) -> io::Result<()> {
    xml.element(name, attributes, |xml| {
        first.write(xml)?;
        second.write(xml)
    })
}
