//! Holds what the crate answers against what is printed.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use effloresce::Ratio;
use effloresce::number::TieRule;
use serde_json::Value;

use crate::calc::number;
use crate::data::{self, Use};
use crate::kinds::work_out;

/// A printed figure that the crate does not give, and why.
pub(crate) struct Difference {
    id: &'static str,
    key: &'static str,
    /// The most by which it may differ; empty for a text.
    by: &'static str,
    reason: &'static str,
}

impl Difference {
    pub(crate) const fn new(
        id: &'static str,
        key: &'static str,
        by: &'static str,
        reason: &'static str,
    ) -> Difference {
        Difference {
            id,
            key,
            by,
            reason,
        }
    }
}

/// How many rows ran by use, and how many figures were compared.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Tally {
    pub(crate) exact: usize,
    pub(crate) tolerance: usize,
    pub(crate) source_error: usize,
    pub(crate) definition: usize,
    /// Printed figures.
    pub(crate) printed: usize,
    /// Figures of our own arithmetic, to eight figures.
    pub(crate) recomputed: usize,
}

/// What the crate answers.
pub(crate) enum Answer {
    Number(Ratio),
    Text(String),
    /// A value, and how the crate writes it: every digit printed must be there.
    Written(Ratio, String),
    Flag(bool),
    /// A value that must not be below the printed limit.
    AtLeast(Ratio),
    /// A value that must not be above the printed limit.
    AtMost(Ratio),
}

pub(crate) type Answers = BTreeMap<String, Answer>;

/// Runs every row of a shelf.
#[track_caller]
pub(crate) fn run(shelf: &str, differences: &[Difference]) -> Tally {
    let mut tally = Tally::default();
    let mut complaints = Vec::new();
    let mut excused = BTreeSet::new();
    for example in data::examples() {
        if example.shelf != shelf {
            continue;
        }
        match example.use_ {
            Use::Exact => tally.exact += 1,
            Use::Tolerance => tally.tolerance += 1,
            Use::SourceError => tally.source_error += 1,
            Use::Definition => tally.definition += 1,
        }
        let id = &example.id;
        let answers = work_out(&example);
        let mut differing = 0;
        for (key, printed) in flat(&example.expected) {
            tally.printed += 1;
            let Some(answer) = answers.get(&key) else {
                complaints.push(format!("{id}: {key} is not worked out"));
                continue;
            };
            let found = compare(answer, &printed);
            let excuse = differences.iter().find(|d| d.id == id && d.key == key);
            match (found, excuse) {
                (Ok(()), None) => {}
                (Ok(()), Some(excuse)) => complaints.push(format!(
                    "{id}: {key} agrees with {printed} after all, against: {}",
                    excuse.reason
                )),
                (Err(gap), None) => complaints.push(format!("{id}: {key}: {gap}")),
                (Err(gap), Some(excuse)) => {
                    differing += 1;
                    excused.insert((excuse.id, excuse.key));
                    if !gap.within(excuse.by) {
                        complaints.push(format!("{id}: {key}: {gap}, more than {}", excuse.by));
                    }
                }
            }
        }
        if example.use_ == Use::SourceError && differing == 0 {
            complaints.push(format!("{id}: the source's mistake was not found"));
        }
        for (key, value) in flat(&example.recomputed) {
            if key == "method" {
                continue;
            }
            tally.recomputed += 1;
            match answers.get(&key).map(|answer| compare(answer, &value)) {
                None => complaints.push(format!("{id}: {key} (recomputed) is not worked out")),
                Some(Err(gap)) => complaints.push(format!("{id}: {key} (recomputed): {gap}")),
                Some(Ok(())) => {}
            }
        }
    }
    for difference in differences {
        if !excused.contains(&(difference.id, difference.key)) {
            complaints.push(format!(
                "{}: {} is excused, but never differed",
                difference.id, difference.key
            ));
        }
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
    tally
}

/// How an answer misses what is printed.
struct Gap {
    got: String,
    printed: String,
    by: Option<Ratio>,
}

impl Gap {
    fn within(&self, limit: &str) -> bool {
        match &self.by {
            None => limit.is_empty(),
            Some(by) => !limit.is_empty() && *by <= number(limit),
        }
    }
}

impl fmt::Display for Gap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} where {} is printed", self.got, self.printed)?;
        match &self.by {
            None => Ok(()),
            Some(by) => write!(f, " ({} apart)", by.to_f64()),
        }
    }
}

fn compare(answer: &Answer, value: &Value) -> Result<(), Gap> {
    let (got, agrees, by) = match (answer, value) {
        (Answer::Text(got), Value::String(text)) => (got.clone(), got == text, None),
        (Answer::Flag(got), Value::Bool(flag)) => (got.to_string(), got == flag, None),
        (Answer::Number(got), Value::String(text)) => {
            let printed = number(text);
            let shown = got.to_places(places(text), TieRule::Even).value();
            (
                got.to_plain(),
                shown == printed,
                Some((got - &printed).abs()),
            )
        }
        (Answer::Written(got, shown), Value::String(text)) => {
            let by = number(text);
            (shown.clone(), shown == text, Some((got - &by).abs()))
        }
        (Answer::Number(got) | Answer::Written(got, _), Value::Number(figure)) => {
            let figure = figure.as_f64().unwrap();
            let apart = (got.to_f64() - figure).abs();
            // Half a unit of the eighth figure, and a little for binary fractions.
            let unit = 10_f64.powi(figure.abs().max(1e-9).log10().floor() as i32 - 7);
            let agrees = apart <= 0.501 * unit;
            (got.to_plain(), agrees, None)
        }
        (Answer::AtLeast(got), Value::String(text)) => {
            let short = &number(text) - got;
            (got.to_plain(), !short.is_positive(), Some(short))
        }
        (Answer::AtMost(got), Value::String(text)) => {
            let over = got - &number(text);
            (got.to_plain(), !over.is_positive(), Some(over))
        }
        _ => ("an answer of another kind".to_owned(), false, None),
    };
    if agrees {
        return Ok(());
    }
    let printed = value.to_string();
    Err(Gap { got, printed, by })
}

/// The decimal places of a printed figure: `2.46e3` stands in tens.
pub(crate) fn places(text: &str) -> i32 {
    let (text, power) = match text.split_once('e') {
        Some((digits, power)) => (digits, power.parse::<i32>().unwrap()),
        None => (text, 0),
    };
    let decimals = text
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    i32::try_from(decimals).unwrap() - power
}

/// The single values in an object, lists and objects in it opened: `hydrate_percent/0`.
fn flat(value: &Value) -> Vec<(String, Value)> {
    fn open(path: &str, value: &Value, into: &mut Vec<(String, Value)>) {
        let step = |key: &str| match path {
            "" => key.to_owned(),
            _ => format!("{path}/{key}"),
        };
        match value {
            Value::Object(object) => object.iter().for_each(|(k, v)| open(&step(k), v, into)),
            Value::Array(list) => {
                let items = list.iter().enumerate();
                items.for_each(|(i, v)| open(&step(&i.to_string()), v, into));
            }
            _ => into.push((path.to_owned(), value.clone())),
        }
    }
    let mut into = Vec::new();
    open("", value, &mut into);
    into
}
