//! A template of problems, which an author writes in TOML.

use alloc::collections::BTreeSet;
use alloc::string::String;
use alloc::vec::Vec;

use super::expression::OwnExpression;
use super::own_quantity::OwnQuantity;
use super::template_text::TemplateText;
use crate::exercise::kind::{Kind, Level};
use crate::exercise::request::Operation;
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;

/// A template of problems: its quantities are drawn, its request is solved, and each problem is proved as those of
/// the crate's own kinds are.
///
/// [`read`](Self::read) explains a complete template. [`check`](Self::check) finds what is wrong with one before a
/// class sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    pub(in crate::exercise) kind: Kind,
    pub(in crate::exercise) form: String,
    pub(in crate::exercise) level: Level,
    pub(in crate::exercise) skills: Vec<Skill>,
    pub(in crate::exercise) quantities: Vec<OwnQuantity>,
    pub(in crate::exercise) wording: TemplateText,
    pub(in crate::exercise) request: OwnRequest,
    pub(in crate::exercise) answer: OwnAnswer,
    pub(in crate::exercise) working: Vec<OwnStep>,
    pub(in crate::exercise) errors: Vec<OwnWrongStep>,
}

/// A request with placeholders.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) struct OwnRequest {
    pub(in crate::exercise) operation: Operation,
    pub(in crate::exercise) fields: Vec<(TemplateText, OwnField)>,
}

impl OwnRequest {
    /// Adds the texts of the fields and of their names.
    pub(super) fn add_texts<'t>(&'t self, texts: &mut Vec<&'t TemplateText>) {
        for (name, value) in &self.fields {
            texts.push(name);
            value.add_texts(texts);
        }
    }
}

/// A field of a request with placeholders.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) enum OwnField {
    Text(TemplateText),
    List(Vec<OwnField>),
    Object(Vec<(TemplateText, OwnField)>),
}

impl OwnField {
    fn add_texts<'t>(&'t self, texts: &mut Vec<&'t TemplateText>) {
        match self {
            OwnField::Text(text) => texts.push(text),
            OwnField::List(values) => values.iter().for_each(|value| value.add_texts(texts)),
            OwnField::Object(members) => {
                for (name, value) in members {
                    texts.push(name);
                    value.add_texts(texts);
                }
            }
        }
    }
}

/// Where the answer is, and how it is written.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) struct OwnAnswer {
    pub(in crate::exercise) pointer: String,
    pub(in crate::exercise) unit: &'static str,
    /// The number of significant figures; `None` for a text, such as a formula.
    pub(in crate::exercise) figures: Option<u32>,
}

/// A step of working.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) struct OwnStep {
    /// Empty if no later step names it.
    pub(in crate::exercise) name: String,
    pub(in crate::exercise) what: TemplateText,
    /// The relation in symbols; `None` if it is made from the expression.
    pub(in crate::exercise) symbols: Option<TemplateText>,
    /// `None` for a last step that concludes a text from the numbers.
    pub(in crate::exercise) expression: Option<OwnExpression>,
    pub(in crate::exercise) unit: &'static str,
}

/// A wrong step of an author's own, and how its value arises.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) struct OwnWrongStep {
    pub(in crate::exercise) step: WrongStep,
    pub(in crate::exercise) value: OwnWrongValue,
}

#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) enum OwnWrongValue {
    Expression(OwnExpression),
    Formula(TemplateText),
    /// The value at a JSON Pointer of another request.
    Request(OwnRequest, String),
}

impl Template {
    /// Returns the kind that its problems belong to.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// Returns the code of its wording.
    #[must_use]
    pub fn form(&self) -> &str {
        &self.form
    }

    /// Returns the level of its problems.
    #[must_use]
    pub fn level(&self) -> Level {
        self.level
    }

    /// The names that the wording, the request, the working or a wrong step use.
    pub(in crate::exercise) fn used_names(&self) -> BTreeSet<&str> {
        let mut texts = Vec::from([&self.wording]);
        self.request.add_texts(&mut texts);
        let mut expressions: Vec<&OwnExpression> = Vec::new();
        for step in &self.working {
            texts.push(&step.what);
            texts.extend(&step.symbols);
            expressions.extend(&step.expression);
        }
        for own in &self.errors {
            match &own.value {
                OwnWrongValue::Expression(expression) => expressions.push(expression),
                OwnWrongValue::Formula(text) => texts.push(text),
                OwnWrongValue::Request(request, _) => request.add_texts(&mut texts),
            }
        }
        let mut names = BTreeSet::new();
        for expression in expressions {
            expression.each(&mut |leaf| match leaf {
                OwnExpression::Value(placeholder) => {
                    names.insert(placeholder.name.as_str());
                }
                OwnExpression::MolarMass(text) => texts.push(text),
                _ => {}
            });
        }
        let of_texts = texts.into_iter().flat_map(TemplateText::placeholders);
        names.extend(of_texts.map(|placeholder| placeholder.name.as_str()));
        names
    }

    /// Returns whether its problems heat something: by their operation, or by a word of the wording.
    pub(in crate::exercise) fn heats(&self) -> bool {
        const WORDS: [&str; 14] = [
            "heat", "ignit", "roast", "burn", "calcin", "furnace", "flame", "bunsen", "oven",
            " hot", "boil", "melt", "dried", "dry",
        ];
        let by_operation = matches!(
            self.request.operation,
            Operation::Dehydration | Operation::Stages | Operation::Mixture | Operation::Class
        );
        let mut texts = self.wording.plain();
        by_operation
            || texts.any(|text| {
                let text = text.to_lowercase();
                WORDS.iter().any(|word| text.contains(word))
            })
    }
}
