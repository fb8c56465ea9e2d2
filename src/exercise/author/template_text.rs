//! Texts with placeholders, such as `{mass}` or `{hydrate.name}`.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::text::{Detail, advice, shorten};

/// What a placeholder takes of a formula.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::exercise) enum FormulaPart {
    Name,
    Salt,
    SaltName,
    Waters,
}

impl FormulaPart {
    const CODES: [(&'static str, FormulaPart); 4] = [
        ("name", FormulaPart::Name),
        ("salt", FormulaPart::Salt),
        ("salt_name", FormulaPart::SaltName),
        ("waters", FormulaPart::Waters),
    ];
}

/// `{mass}`, or `{hydrate.name}` for a part of a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::exercise) struct Placeholder {
    pub(in crate::exercise) name: String,
    pub(in crate::exercise) part: Option<FormulaPart>,
}

impl Placeholder {
    /// Reads what is between the brackets.
    pub(super) fn read(inside: &str) -> Result<Placeholder, Detail> {
        let (name, part) = match inside.split_once('.') {
            None => (inside, None),
            Some((name, part)) => (name, Some(part)),
        };
        if !is_code(name) {
            let message = format!("`{{{}}}` is not a placeholder", shorten(inside));
            return Err(Detail::new(message)
                .help("write the name of a quantity in curly brackets, such as `{mass}`"));
        }
        let part = part.map(|part| {
            let known = FormulaPart::CODES.iter().find(|(code, _)| *code == part);
            known.map(|(_, part)| *part).ok_or_else(|| {
                let message = format!("`{}` is not a part of a formula", shorten(part));
                let codes = FormulaPart::CODES.map(|(code, _)| code);
                Detail::new(message).help(advice(part, &codes, "the parts are"))
            })
        });
        Ok(Placeholder {
            name: name.into(),
            part: part.transpose()?,
        })
    }
}

/// Returns whether a text can be a name of an author's own: small letters, digits and underscores.
pub(super) fn is_code(text: &str) -> bool {
    let allowed = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    text.len() <= 40
        && text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.chars().all(allowed)
}

#[derive(Debug, Clone, PartialEq)]
enum TextPart {
    Plain(String),
    Value(Placeholder),
}

/// A text with placeholders.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::exercise) struct TemplateText(Vec<TextPart>);

impl TemplateText {
    pub(super) fn read(text: &str) -> Result<TemplateText, Detail> {
        let mut parts = Vec::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            let (inside, after) = after.split_once('}').ok_or_else(|| unpaired("{"))?;
            if before.contains('}') {
                return Err(unpaired("}"));
            }
            parts.push(TextPart::Plain(before.into()));
            parts.push(TextPart::Value(Placeholder::read(inside)?));
            rest = after;
        }
        if rest.contains('}') {
            return Err(unpaired("}"));
        }
        parts.push(TextPart::Plain(rest.into()));
        parts.retain(|part| *part != TextPart::Plain(String::new()));
        Ok(TemplateText(parts))
    }

    /// The placeholders, in order.
    pub(in crate::exercise) fn placeholders(&self) -> impl Iterator<Item = &Placeholder> {
        self.0.iter().filter_map(|part| match part {
            TextPart::Value(placeholder) => Some(placeholder),
            TextPart::Plain(_) => None,
        })
    }

    /// The placeholders, each with the text after it.
    pub(super) fn followed(&self) -> impl Iterator<Item = (&Placeholder, &str)> {
        let followed = |index: usize| match self.0.get(index + 1) {
            Some(TextPart::Plain(text)) => text.as_str(),
            _ => "",
        };
        let parts = self.0.iter().enumerate();
        parts.filter_map(move |(index, part)| match part {
            TextPart::Value(placeholder) => Some((placeholder, followed(index))),
            TextPart::Plain(_) => None,
        })
    }

    /// The texts between the placeholders.
    pub(super) fn plain(&self) -> impl Iterator<Item = &str> {
        self.0.iter().filter_map(|part| match part {
            TextPart::Plain(text) => Some(text.as_str()),
            TextPart::Value(_) => None,
        })
    }

    /// The text with values in place of its placeholders; `None` if one has no value.
    pub(in crate::exercise) fn filled(
        &self,
        value: impl Fn(&Placeholder) -> Option<String>,
    ) -> Option<String> {
        let parts = self.0.iter().map(|part| match part {
            TextPart::Plain(text) => Some(text.to_string()),
            TextPart::Value(placeholder) => value(placeholder),
        });
        parts.collect()
    }
}

fn unpaired(bracket: &str) -> Detail {
    Detail::new(format!("`{bracket}` has no partner"))
        .help("write each placeholder in a pair of curly brackets, such as `{mass}`")
}
