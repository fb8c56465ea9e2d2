//! What a pupil sees of an item: the prompt, the entries with their labels, and the feedback.

use super::evaluator::{Item, Outcomes};
use super::value::Base;
use super::xml::{Content, Element};

pub(crate) struct Body {
    /// The texts before the first entry.
    pub(crate) prompt: String,
    pub(crate) entries: Vec<Entry>,
    pub(crate) feedback: Vec<Feedback>,
}

pub(crate) struct Entry {
    pub(crate) response: String,
    /// What stands before it in its paragraph.
    pub(crate) label: String,
    /// Identifiers and texts, if it is a choice.
    pub(crate) options: Vec<(String, String)>,
}

pub(crate) struct Feedback {
    pub(crate) outcome: String,
    pub(crate) identifier: String,
    pub(crate) text: String,
}

/// A text as it is seen: runs of spaces are one space, and signs of print are those of the keyboard.
pub(crate) fn seen(text: &str) -> String {
    let text = text.replace('−', "-").replace('→', "->");
    let words = text.split([' ', '\n', '\t', '\u{a0}', '\u{202f}']);
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    words.join(" ")
}

impl Body {
    pub(crate) fn of(item: &Item) -> Result<Body, String> {
        let mut body = Body {
            prompt: String::new(),
            entries: Vec::new(),
            feedback: Vec::new(),
        };
        let mut before = String::new();
        body.read(&item.body, &mut before)?;
        for (response, declared) in &item.declarations.responses {
            let entries = body
                .entries
                .iter()
                .filter(|entry| entry.response == *response);
            let [entry] = entries.collect::<Vec<_>>()[..] else {
                return Err(format!("`{response}` is not entered once"));
            };
            let chosen = !entry.options.is_empty();
            if chosen != (declared.of.base == Base::Identifier) {
                return Err(format!("`{response}` is of the type {:?}", declared.of));
            }
            let correct = declared.correct.text();
            if chosen
                && !entry
                    .options
                    .iter()
                    .any(|(name, _)| Some(name.as_str()) == correct)
            {
                return Err(format!("`{response}` has no option {correct:?}"));
            }
        }
        match body.entries.len() == item.declarations.responses.len() {
            true => Ok(body),
            false => Err("an entry that is not declared".into()),
        }
    }

    fn read(&mut self, element: &Element, before: &mut String) -> Result<(), String> {
        match element.name.as_str() {
            "qti-feedback-block" => {
                if element.needed("show-hide")? != "show" {
                    return Err("a feedback that is hidden".into());
                }
                self.feedback.push(Feedback {
                    outcome: element.needed("outcome-identifier")?.into(),
                    identifier: element.needed("identifier")?.into(),
                    text: seen(&element.reading()),
                });
            }
            "qti-text-entry-interaction" => {
                self.entry(element, before, Vec::new())?;
                before.clear();
            }
            "qti-choice-interaction" => {
                let options = element
                    .elements()
                    .filter(|child| child.name == "qti-simple-choice");
                let options = options.map(|option| {
                    Ok((
                        option.needed("identifier")?.to_owned(),
                        seen(&option.reading()),
                    ))
                });
                let options = options.collect::<Result<Vec<_>, String>>()?;
                if element.attribute("shuffle") != Some("false") || options.len() < 2 {
                    return Err("options without a fixed order".into());
                }
                let label = element.child("qti-prompt").map(Element::reading);
                self.entry(element, &label.unwrap_or_default(), options)?;
            }
            // The name of a table is not in the prompt.
            "caption" => {}
            "math" => before.push_str(&element.reading()),
            _ => {
                for content in &element.content {
                    match content {
                        Content::Text(text) => before.push_str(text),
                        Content::Element(element) => self.read(element, before)?,
                    }
                }
                if matches!(element.name.as_str(), "p" | "li" | "td" | "th" | "div") {
                    if self.entries.is_empty() {
                        self.prompt.push_str(&format!("{}\n", seen(before)));
                    }
                    before.clear();
                }
            }
        }
        Ok(())
    }

    fn entry(
        &mut self,
        element: &Element,
        label: &str,
        options: Vec<(String, String)>,
    ) -> Result<(), String> {
        self.entries.push(Entry {
            response: element.needed("response-identifier")?.into(),
            label: seen(label),
            options,
        });
        Ok(())
    }

    /// The feedback that is shown.
    pub(crate) fn shown(&self, outcomes: &Outcomes) -> Vec<&Feedback> {
        let shown = self.feedback.iter().filter(|feedback| {
            outcomes.0.contains_key(&feedback.outcome)
                && outcomes.identifier(&feedback.outcome) == feedback.identifier
        });
        shown.collect()
    }
}
