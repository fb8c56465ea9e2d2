//! The names that a template defines, and whether its texts and expressions use them rightly.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::author_text::words;
use super::expression::OwnExpression;
use super::own_quantity::{DrawnValue, OwnQuantity, OwnValues};
use super::template_text::{FormulaPart, Placeholder, TemplateText};
use crate::class::{Error, TomlValue};
use crate::formula::Formula;
use crate::text::{Detail, advice, one_line, shorten};

/// The longest text of a template, in bytes.
const MOST_BYTES: usize = 4000;
/// The most numbers and molar masses that a value goes back to, through all steps.
const MOST_INPUTS: usize = 120;

/// Quantities, and the steps of working so far.
pub(super) struct TemplateNames<'t> {
    pub(super) quantities: &'t [OwnQuantity],
    /// Each step with the number of its inputs.
    steps: Vec<(String, usize)>,
}

impl<'t> TemplateNames<'t> {
    pub(super) fn new(quantities: &'t [OwnQuantity]) -> TemplateNames<'t> {
        TemplateNames {
            quantities,
            steps: Vec::new(),
        }
    }

    pub(super) fn quantity(&self, name: &str) -> Option<&'t OwnQuantity> {
        let mut named = self.quantities.iter();
        named.find(|quantity| quantity.name == name)
    }

    /// Reads a text whose placeholders are quantities.
    pub(super) fn text(&self, value: &TomlValue<'_>) -> Result<TemplateText, Error> {
        self.text_of(value, &words(value)?)
    }

    /// Reads what a value says as a text.
    pub(super) fn text_of(&self, value: &TomlValue<'_>, text: &str) -> Result<TemplateText, Error> {
        if text.len() > MOST_BYTES {
            let message = format!("the text has more than {MOST_BYTES} bytes");
            return Err(value.refusal(message, "shorten it"));
        }
        let read = TemplateText::read(&one_line(text)).map_err(|detail| value.error(detail))?;
        for placeholder in read.placeholders() {
            self.check(placeholder)
                .map_err(|detail| value.error(detail))?;
        }
        Ok(read)
    }

    /// Reads an expression. Values of the request are allowed in wrong steps only.
    pub(super) fn expression(
        &self,
        value: &TomlValue<'_>,
        is_wrong_step: bool,
    ) -> Result<OwnExpression, Error> {
        let text = value.digits()?;
        let expression = OwnExpression::read(&text).map_err(|detail| value.error(detail))?;
        let mut wrong = None;
        expression.each(&mut |leaf| {
            let found = self.check_leaf(leaf, is_wrong_step);
            wrong = wrong.take().or(found.err());
        });
        if let Some(detail) = wrong {
            return Err(value.error(detail));
        }
        if self.inputs(&expression) > MOST_INPUTS {
            let message = format!("the value goes back to more than {MOST_INPUTS} numbers");
            return Err(value.refusal(message, "shorten the working"));
        }
        Ok(expression)
    }

    /// Adds a step that later expressions may name.
    pub(super) fn add_step(&mut self, name: &str, expression: &OwnExpression) {
        let inputs = self.inputs(expression);
        self.steps.push((name.into(), inputs));
    }

    pub(super) fn is_taken(&self, name: &str) -> bool {
        self.quantity(name).is_some() || self.steps.iter().any(|(step, _)| step == name)
    }

    fn inputs(&self, expression: &OwnExpression) -> usize {
        let mut inputs = 0;
        expression.each(&mut |leaf| {
            let step = match leaf {
                OwnExpression::Value(placeholder) => {
                    let mut named = self.steps.iter();
                    named.find(|(name, _)| *name == placeholder.name)
                }
                _ => None,
            };
            inputs += step.map_or(1, |(_, inputs)| *inputs);
        });
        inputs
    }

    fn check_leaf(&self, leaf: &OwnExpression, is_wrong_step: bool) -> Result<(), Detail> {
        match leaf {
            OwnExpression::Value(placeholder) => {
                let is_step = self.steps.iter().any(|(name, _)| *name == placeholder.name);
                if is_step && placeholder.part.is_none() {
                    return Ok(());
                }
                self.check(placeholder)?;
                let is_number = match self.quantity(&placeholder.name).map(|own| &own.values) {
                    Some(OwnValues::Range { .. } | OwnValues::Numbers(_)) => true,
                    _ => placeholder.part == Some(FormulaPart::Waters),
                };
                if is_number {
                    return Ok(());
                }
                let message = format!("`{{{}}}` is not a number", placeholder.name);
                Err(Detail::new(message)
                    .help("take its molar mass, such as `M({salt})`, or a quantity with numbers"))
            }
            OwnExpression::MolarMass(text) => {
                let mut placeholders = text.placeholders();
                placeholders.try_for_each(|placeholder| self.check(placeholder))?;
                self.check_formula(text)
            }
            OwnExpression::Pointer(pointer) if !is_wrong_step => {
                let message = format!("`[{}]` is a value of the result", shorten(pointer));
                Err(Detail::new(message)
                    .help("work it out from the quantities: only wrong steps may use it"))
            }
            _ => Ok(()),
        }
    }

    /// A formula without placeholders must be one.
    pub(super) fn check_formula(&self, text: &TemplateText) -> Result<(), Detail> {
        match text.filled(|_| None) {
            None => Ok(()),
            Some(plain) => plain.parse::<Formula>().map(|_| ()).map_err(|error| {
                let help = error.help().unwrap_or("correct the formula").to_string();
                Detail::new(error.to_string()).help(help)
            }),
        }
    }

    fn check(&self, placeholder: &Placeholder) -> Result<(), Detail> {
        let Some(quantity) = self.quantity(&placeholder.name) else {
            let message = format!("there is no quantity `{}`", shorten(&placeholder.name));
            let names: Vec<&str> = self
                .quantities
                .iter()
                .map(|own| own.name.as_str())
                .collect();
            return Err(Detail::new(message).help(advice(
                &placeholder.name,
                &names,
                "the quantities are",
            )));
        };
        let Some(part) = placeholder.part else {
            return Ok(());
        };
        match &quantity.values {
            OwnValues::Hydrate { .. } => Ok(()),
            OwnValues::Formulas(formulas) => {
                let lacking = formulas.iter().find(|formula| {
                    let value = DrawnValue::Formula((*formula).clone().into(), None);
                    value.part(Some(part)).is_none()
                });
                match lacking {
                    None => Ok(()),
                    Some(formula) => {
                        let what = match part {
                            FormulaPart::Waters => "has no waters of its own",
                            _ => "has no name that can be written",
                        };
                        Err(Detail::new(format!("{formula} {what}"))
                            .help("remove it from the list, or leave the placeholder out"))
                    }
                }
            }
            _ => Err(
                Detail::new(format!("`{}` is not a formula", placeholder.name))
                    .help("write its name alone in curly brackets"),
            ),
        }
    }
}
