//! The quantities of a template, and the values that a draw gives them.

use alloc::boxed::Box;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::template_text::{FormulaPart, Placeholder, TemplateText};
use crate::exercise::hydrate::salt_of;
use crate::exercise::problem::with_unit;
use crate::formula::Formula;
use crate::number::{Ratio, Reading};

/// Units that a template may use. Masses in requests are in grams, amounts in moles, volumes in litres.
pub(super) const UNITS: [&str; 17] = [
    "", "g", "mg", "kg", "mol", "mmol", "g/mol", "%", "mL", "L", "cm³", "dm³", "mol/L", "mol/dm³",
    "kJ", "kJ/mol", "°C",
];

/// What a quantity is drawn from.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) enum OwnValues {
    Range {
        from: Reading,
        to: Reading,
        step: Reading,
        /// Whether the step is that of the balance, if one is chosen.
        balance: bool,
    },
    Numbers(Vec<Reading>),
    Formulas(Vec<Formula>),
    Words(Vec<String>),
    /// A hydrate of the pool, or of the course's own list, with at least this number of waters.
    Hydrate {
        least_waters: Ratio,
    },
}

/// A quantity of a template.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) struct OwnQuantity {
    pub(in crate::exercise) name: String,
    /// The unit after its number in the wording and the working.
    pub(in crate::exercise) unit: &'static str,
    /// Its symbol in the relations of the working.
    pub(super) symbol: String,
    pub(in crate::exercise) values: OwnValues,
}

/// The value of a quantity.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) enum DrawnValue {
    Number(Reading),
    /// A formula, with its name if that is known.
    Formula(Box<Formula>, Option<String>),
    Word(String),
}

impl DrawnValue {
    /// A part of a formula, or the formula itself.
    pub(super) fn part(&self, part: Option<FormulaPart>) -> Option<String> {
        let (formula, name) = match (self, part) {
            (DrawnValue::Number(reading), None) => return Some(reading.to_string()),
            (DrawnValue::Word(word), None) => return Some(word.clone()),
            (DrawnValue::Formula(formula, name), _) => (formula, name),
            _ => return None,
        };
        let named = |formula: &Formula| Some(formula.name().ok()?.name().to_string());
        match part {
            None => Some(formula.to_string()),
            Some(FormulaPart::Name) => name.clone().or_else(|| named(formula)),
            Some(FormulaPart::Salt) => Some(salt_of(formula).to_string()),
            Some(FormulaPart::SaltName) => named(&salt_of(formula)),
            Some(FormulaPart::Waters) => Some(waters(formula)?.to_string()),
        }
    }
}

fn waters(formula: &Formula) -> Option<Ratio> {
    let (_, waters) = formula.one_formula_unit()?;
    waters.is_positive().then_some(waters)
}

/// The values of all quantities of a problem.
pub(in crate::exercise) struct DrawnValues<'t>(
    pub(in crate::exercise) Vec<(&'t OwnQuantity, DrawnValue)>,
);

impl DrawnValues<'_> {
    fn get(&self, name: &str) -> Option<&(&OwnQuantity, DrawnValue)> {
        self.0.iter().find(|(quantity, _)| quantity.name == name)
    }

    /// A value as requests have it.
    pub(in crate::exercise) fn plain(&self, placeholder: &Placeholder) -> Option<String> {
        let (_, value) = self.get(&placeholder.name)?;
        value.part(placeholder.part)
    }

    /// A value as the wording has it: a number with its unit.
    pub(in crate::exercise) fn worded(&self, placeholder: &Placeholder) -> Option<String> {
        let (quantity, value) = self.get(&placeholder.name)?;
        let text = value.part(placeholder.part)?;
        Some(match value {
            DrawnValue::Number(_) => with_unit(&text, quantity.unit),
            _ => text,
        })
    }

    pub(super) fn number(&self, placeholder: &Placeholder) -> Option<Ratio> {
        match (self.get(&placeholder.name)?, placeholder.part) {
            ((_, DrawnValue::Number(reading)), None) => Some(reading.value()),
            ((_, DrawnValue::Formula(formula, _)), Some(FormulaPart::Waters)) => waters(formula),
            _ => None,
        }
    }

    /// The symbol of a number in a relation. A number of waters is printed itself.
    pub(super) fn symbol(&self, placeholder: &Placeholder) -> Option<String> {
        let (quantity, _) = self.get(&placeholder.name)?;
        match placeholder.part {
            None => Some(quantity.symbol.clone()),
            Some(_) => self.plain(placeholder),
        }
    }

    pub(in crate::exercise) fn formula(&self, text: &TemplateText) -> Option<Formula> {
        text.filled(|placeholder| self.plain(placeholder))?
            .parse()
            .ok()
    }
}
