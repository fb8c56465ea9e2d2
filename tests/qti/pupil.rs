//! What a pupil enters in an item, and what it earns.

use std::collections::BTreeMap;

use effloresce::exercise::Exercise;

use super::opened::OpenedItem;
use super::value::{Overflow, Value, number};

/// What is entered, by response.
pub(crate) type Entered = BTreeMap<String, String>;

/// The marks by entry, and the text that is shown for each.
#[derive(Debug, PartialEq)]
pub(crate) struct Marked {
    pub(crate) marks: Vec<f64>,
    pub(crate) texts: Vec<String>,
}

impl Marked {
    pub(crate) fn total(&self) -> f64 {
        self.marks.iter().sum()
    }
}

impl OpenedItem {
    pub(crate) fn response(&self, entry: usize) -> &str {
        &self.body.entries[entry].response
    }

    pub(crate) fn count(&self) -> usize {
        self.body.entries.len()
    }

    /// What the item declares to be right for an entry.
    pub(crate) fn key(&self, entry: usize) -> String {
        match &self.item.declarations.responses[self.response(entry)].correct {
            Value::Float(value) => format!("{value}"),
            Value::Text(text) | Value::Identifier(text) => text.clone(),
            other => panic!("the key {other:?}"),
        }
    }

    pub(crate) fn all_right(&self) -> Entered {
        let entries = 0..self.count();
        entries
            .map(|entry| (self.response(entry).to_owned(), self.key(entry)))
            .collect()
    }

    /// What is entered, with another text in one entry.
    pub(crate) fn with(&self, entered: &Entered, entry: usize, text: &str) -> Entered {
        let mut entered = entered.clone();
        entered.insert(self.response(entry).into(), text.into());
        entered
    }

    pub(crate) fn alone(&self, entry: usize, text: &str) -> Entered {
        self.with(&Entered::new(), entry, text)
    }

    /// Marks what is entered. What must hold for each pupil is checked on the way.
    pub(crate) fn mark(&self, entered: &Entered) -> Marked {
        let marked =
            [Overflow::Null, Overflow::Infinite].map(|overflow| self.mark_as(entered, overflow));
        let [marked, other] = marked;
        assert_eq!(
            marked.marks, other.marks,
            "{}: {entered:?}",
            self.item.identifier
        );
        marked
    }

    fn mark_as(&self, entered: &Entered, overflow: Overflow) -> Marked {
        let name = &self.item.identifier;
        let entered: Vec<(&str, &str)> = entered.iter().map(|(a, b)| (&**a, &**b)).collect();
        let outcomes = self.item.outcomes(&entered, overflow);
        let marks: Vec<f64> = (1..=self.count())
            .map(|i| outcomes.number(&format!("MARK_{i}")))
            .collect();
        let shown = self.body.shown(&outcomes);
        let texts = (1..=self.count()).map(|i| {
            let outcome = format!("SAYS_{i}");
            let texts = shown.iter().filter(|feedback| feedback.outcome == outcome);
            let texts: Vec<&str> = texts.map(|feedback| feedback.text.as_str()).collect();
            let [text] = texts[..] else {
                panic!("{name}: entry {i} with {entered:?} shows {texts:?}")
            };
            text.to_owned()
        });
        let marked = Marked {
            texts: texts.collect(),
            marks,
        };
        assert!(
            marked.marks.iter().all(|mark| [0.0, 1.0].contains(mark)),
            "{name}"
        );
        assert_eq!(
            outcomes.number("SCORE"),
            marked.total(),
            "{name}: {entered:?}"
        );
        assert_eq!(outcomes.number("MAXSCORE"), self.count() as f64, "{name}");
        assert!(marked.total() <= outcomes.number("MAXSCORE"), "{name}");
        marked
    }

    /// Whether an entry is a number, here or in the form of a text.
    pub(crate) fn is_number(&self, entry: usize) -> bool {
        self.body.entries[entry].options.is_empty() && number(&self.key(entry)).is_some()
    }
}

/// A number as it is entered.
pub(crate) fn text_of(number: f64, comma: bool) -> String {
    let text = format!("{number}");
    if comma { text.replace('.', ",") } else { text }
}

/// A text without its unit, as it is entered.
pub(crate) fn bare(problem: &Exercise, text: &str) -> String {
    let text = text.strip_suffix(problem.unit()).unwrap_or(text);
    text.trim_end_matches(['\u{a0}', ' ']).replace('−', "-")
}
