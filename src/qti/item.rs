//! An item: a problem with its entries, its response rules and its feedback, as XML.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io;

use super::answer;
use super::coefficients::coefficients;
use super::entry::{ChoiceAnswer, EntryAnswer, ItemEntry};
use super::parts::parts;
use super::xml::{Attribute, Xml};
use super::{marking, prose, steps};
use crate::exercise::{Exercise, Level};
use crate::text::sentence;
use crate::working::Working;

/// The namespace of items and tests.
pub(super) const NAMESPACE: &str = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0";

/// How all items of a package are made.
#[derive(Debug, Clone, Copy)]
pub(super) struct ItemStyle {
    /// Whether numbers have a decimal comma.
    pub(super) comma: bool,
    /// Whether an answer is chosen from the options of its problem, if it has any.
    pub(super) options: bool,
}

/// A problem as an item.
pub(super) struct ProblemItem<'a> {
    pub(super) identifier: String,
    pub(super) title: String,
    pub(super) prompt: &'a str,
    pub(super) working: &'a Working,
    pub(super) entries: Vec<ItemEntry<'a>>,
    /// How many entries stand before the arrow of an equation, if the entries are its coefficients.
    pub(super) before_arrow: Option<usize>,
    /// Whether numbers may have a decimal comma.
    pub(super) comma: bool,
}

/// What an entry may be told: the identifier of the feedback, and its text.
struct Feedback<'a> {
    identifier: String,
    text: &'a str,
}

const MARKED_ONE_BY_ONE: &str = "Each entry earns one mark.";
const MARKED_ONE_BY_ONE_AND_CARRIED: &str =
    "Each entry earns one mark. A later entry is marked from what you entered before.";
const ALL_COEFFICIENTS: &str = "Enter every coefficient, also 1.";
const EMPTY: &str = "Nothing is entered here.";
const RIGHT: &str = "This is right.";
const FOLLOWS: &str = "This follows from your earlier entries, so it earns its mark.";
const WRONG: &str = "This is not right. Check this entry.";
const UNREADABLE: &str = "This cannot be read as a number. Write digits, with a decimal comma or a decimal point, \
                          and no unit.";
const NO_NUMBER: &str =
    "No number can be read here. Write digits, with a decimal point and no unit.";

impl<'a> ProblemItem<'a> {
    /// Makes an item of a problem. With options, what can be chosen is chosen.
    pub(super) fn of(
        problem: &'a Exercise,
        identifier: String,
        style: ItemStyle,
    ) -> ProblemItem<'a> {
        let mut before_arrow = None;
        let entries = if let Some(chosen) = style.options.then(|| answer::choice(problem)).flatten()
        {
            Vec::from([chosen])
        } else if let Some(equation) = coefficients(problem) {
            before_arrow = Some(equation.before_arrow);
            equation.entries
        } else if let Some(parts) = parts(problem) {
            parts
        } else if problem.level() == Level::OneStep {
            Vec::from([answer::entry(problem, style.comma)])
        } else {
            steps::entries(problem, style.comma)
        };
        ProblemItem {
            identifier,
            title: title(problem),
            prompt: problem.prompt(),
            working: problem.working(),
            entries,
            before_arrow,
            comma: style.comma,
        }
    }

    /// Returns the item as a document.
    pub(super) fn write(&self) -> io::Result<Vec<u8>> {
        let mut xml = Xml::document()?;
        let attributes = [
            ("xmlns", NAMESPACE),
            ("identifier", &*self.identifier),
            ("title", &*self.title),
            ("xml:lang", "en"),
            ("tool-name", "effloresce"),
            ("adaptive", "false"),
            ("time-dependent", "false"),
        ];
        xml.element("qti-assessment-item", &attributes, |xml| {
            xml.new_line()?;
            self.write_responses(xml)?;
            self.write_outcomes(xml)?;
            xml.element("qti-item-body", &[], |xml| self.write_body(xml))?;
            xml.new_line()?;
            xml.element("qti-response-processing", &[], |xml| {
                xml.new_line()?;
                for rule in marking::rules(&self.entries, self.comma) {
                    rule.write(xml)?;
                    xml.new_line()?;
                }
                Ok(())
            })?;
            xml.new_line()
        })?;
        Ok(xml.finish())
    }

    fn write_responses(&self, xml: &mut Xml) -> io::Result<()> {
        for (index, entry) in self.entries.iter().enumerate() {
            let (base_type, right) = match &entry.answer {
                EntryAnswer::Number(number) if self.comma => ("string", number.printed.to_string()),
                EntryAnswer::Number(number) => ("float", number.key().to_plain()),
                EntryAnswer::Spelling(spelling) => ("string", spelling.printed.to_string()),
                EntryAnswer::Choice(choice) => ("identifier", marking::choice_name(choice.right)),
            };
            let response = marking::response(index);
            let attributes = [
                ("identifier", &*response),
                ("cardinality", "single"),
                ("base-type", base_type),
            ];
            xml.element("qti-response-declaration", &attributes, |xml| {
                xml.element("qti-correct-response", &[], |xml| {
                    xml.leaf("qti-value", &[], &right)
                })
            })?;
            xml.new_line()?;
        }
        Ok(())
    }

    fn write_outcomes(&self, xml: &mut Xml) -> io::Result<()> {
        let most = self.entries.len().to_string();
        outcome(
            xml,
            "SCORE",
            "float",
            Some("0"),
            &[("normal-maximum", &most)],
        )?;
        outcome(xml, "MAXSCORE", "float", Some(&most), &[])?;
        for index in 0..self.entries.len() {
            let maximum = [("normal-maximum", "1")];
            outcome(xml, &marking::mark(index), "float", Some("0"), &maximum)?;
            outcome(xml, &marking::says(index), "identifier", None, &[])?;
        }
        for name in marking::numbers(&self.entries, self.comma) {
            outcome(xml, &name, "float", None, &[])?;
        }
        Ok(())
    }

    fn write_body(&self, xml: &mut Xml) -> io::Result<()> {
        xml.new_line()?;
        prose::write_blocks(xml, self.prompt)?;
        xml.new_line()?;
        if self.entries.len() > 1 {
            let follows = self.entries.iter().any(|entry| entry.answer.can_follow());
            let how = match follows {
                true => MARKED_ONE_BY_ONE_AND_CARRIED,
                false => MARKED_ONE_BY_ONE,
            };
            xml.leaf("p", &[], how)?;
            xml.new_line()?;
        }
        if let Some(before) = self.before_arrow {
            xml.leaf("p", &[], ALL_COEFFICIENTS)?;
            xml.new_line()?;
            self.write_equation(before, xml)?;
        }
        for (index, entry) in self.entries.iter().enumerate() {
            if self.before_arrow.is_none() {
                write_entry(index, entry, xml)?;
                xml.new_line()?;
            }
            self.write_feedback(index, entry, xml)?;
        }
        self.write_working(xml)
    }

    /// Writes the working for whoever marks; pupils are not shown it.
    fn write_working(&self, xml: &mut Xml) -> io::Result<()> {
        let attributes = [("use", "scoring"), ("view", "scorer tutor")];
        xml.element("qti-rubric-block", &attributes, |xml| {
            xml.element("qti-content-body", &[], |xml| {
                for step in self.working.steps() {
                    xml.new_line()?;
                    xml.element("p", &[], |xml| {
                        prose::write_inline(xml, step.what())?;
                        xml.text(": ")?;
                        prose::write_step(xml, step)
                    })?;
                }
                xml.new_line()
            })
        })?;
        xml.new_line()
    }

    /// Writes an equation with a gap for each coefficient.
    fn write_equation(&self, before: usize, xml: &mut Xml) -> io::Result<()> {
        xml.element("p", &[], |xml| {
            for (index, entry) in self.entries.iter().enumerate() {
                match index {
                    0 => (),
                    _ if index == before => xml.text(" → ")?,
                    _ => xml.text(" + ")?,
                }
                write_gap(index, entry, xml)?;
                xml.text(" ")?;
                prose::write_inline(xml, &entry.label)?;
            }
            Ok(())
        })?;
        xml.new_line()
    }

    fn write_feedback(&self, index: usize, entry: &ItemEntry<'_>, xml: &mut Xml) -> io::Result<()> {
        let outcome = marking::says(index);
        for feedback in feedbacks(entry, self.comma) {
            let attributes = [
                ("outcome-identifier", &*outcome),
                ("identifier", &*feedback.identifier),
                ("show-hide", "show"),
            ];
            xml.element("qti-feedback-block", &attributes, |xml| {
                xml.element("qti-content-body", &[], |xml| {
                    xml.element("p", &[], |xml| {
                        if self.before_arrow.is_some() {
                            prose::write_inline(xml, &entry.label)?;
                            xml.text(": ")?;
                        }
                        prose::write_inline(xml, feedback.text)
                    })
                })
            })?;
            xml.new_line()?;
        }
        Ok(())
    }
}

/// What may be told of an entry.
fn feedbacks<'e>(entry: &'e ItemEntry<'_>, comma: bool) -> Vec<Feedback<'e>> {
    let plain = |identifier: &str, text| Feedback {
        identifier: identifier.into(),
        text,
    };
    let is_number = matches!(entry.answer, EntryAnswer::Number(_));
    let mut all = Vec::from([
        plain(
            marking::EMPTY,
            match is_number && !comma {
                true => NO_NUMBER,
                false => EMPTY,
            },
        ),
        plain(marking::RIGHT, RIGHT),
    ]);
    if is_number && comma {
        all.push(plain(marking::UNREADABLE, UNREADABLE));
    }
    if entry.answer.can_follow() {
        all.push(plain(marking::FOLLOWS, FOLLOWS));
    }
    for (index, error) in entry.errors.iter().enumerate() {
        all.push(Feedback {
            identifier: marking::error_name(index),
            text: &error.feedback,
        });
    }
    all.push(plain(marking::WRONG, WRONG));
    all
}

/// Declares an outcome, with its value to begin with.
pub(super) fn outcome(
    xml: &mut Xml,
    identifier: &str,
    base_type: &str,
    default: Option<&str>,
    more: &[Attribute<'_>],
) -> io::Result<()> {
    let mut attributes = Vec::from([
        ("identifier", identifier),
        ("cardinality", "single"),
        ("base-type", base_type),
    ]);
    attributes.extend(more);
    let name = "qti-outcome-declaration";
    match default {
        None => xml.empty(name, &attributes)?,
        Some(value) => xml.element(name, &attributes, |xml| {
            xml.element("qti-default-value", &[], |xml| {
                xml.leaf("qti-value", &[], value)
            })
        })?,
    }
    xml.new_line()
}

fn write_entry(index: usize, entry: &ItemEntry<'_>, xml: &mut Xml) -> io::Result<()> {
    match &entry.answer {
        EntryAnswer::Choice(choice) => write_choice(index, entry, choice, xml),
        _ => xml.element("p", &[], |xml| {
            prose::write_inline(xml, &entry.label)?;
            xml.text(": ")?;
            write_gap(index, entry, xml)?;
            if !entry.unit.is_empty() {
                xml.text("\u{a0}")?;
                xml.text(&entry.unit)?;
            }
            Ok(())
        }),
    }
}

/// Writes the place where a number or a spelling is entered.
fn write_gap(index: usize, entry: &ItemEntry<'_>, xml: &mut Xml) -> io::Result<()> {
    let length = match &entry.answer {
        EntryAnswer::Spelling(_) => "24",
        _ => "10",
    };
    let response = marking::response(index);
    let attributes = [
        ("response-identifier", &*response),
        ("expected-length", length),
    ];
    xml.empty("qti-text-entry-interaction", &attributes)
}

fn write_choice(
    index: usize,
    entry: &ItemEntry<'_>,
    choice: &ChoiceAnswer<'_>,
    xml: &mut Xml,
) -> io::Result<()> {
    let response = marking::response(index);
    let attributes = [
        ("response-identifier", &*response),
        ("shuffle", "false"),
        ("max-choices", "1"),
    ];
    xml.element("qti-choice-interaction", &attributes, |xml| {
        if !entry.label.is_empty() {
            xml.element("qti-prompt", &[], |xml| {
                prose::write_inline(xml, &entry.label)
            })?;
        }
        for (index, option) in choice.options.iter().enumerate() {
            let name = marking::choice_name(index);
            xml.element("qti-simple-choice", &[("identifier", &*name)], |xml| {
                prose::write_inline(xml, option)
            })?;
        }
        Ok(())
    })
}

/// The title of an item, which says nothing of its answer.
pub(super) fn title(problem: &Exercise) -> String {
    let title = sentence(&format!(
        "{}, level {}",
        problem.kind().words(),
        problem.level().number()
    ));
    title.trim_end_matches('.').into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::{Exercises, Kind};

    #[test]
    fn an_item_has_a_prompt_an_entry_and_its_mark() {
        let set = Exercises::new(1)
            .kinds([Kind::PercentWater])
            .set(1)
            .unwrap();
        let problem = &set.problems()[0];
        let style = ItemStyle {
            comma: false,
            options: false,
        };
        let item = ProblemItem::of(problem, "item_1".into(), style);
        let text = String::from_utf8(item.write().unwrap()).unwrap();
        assert!(text.contains("response-identifier=\"ENTRY_1\""), "{text}");
        assert!(
            text.contains("<qti-set-outcome-value identifier=\"MARK_1\">"),
            "{text}"
        );
    }
}
