//! What the operations that mark are told in the same words: what was issued and by which rules,
//! and what a bench hands in.

use std::borrow::Cow;

use effloresce::Note;
use effloresce::class::{Entry, Marker};
use effloresce::gravimetry::{Method, Quantity};

use crate::json::{Json, Object};
use crate::options;
use crate::policy;
use crate::reply::Failure;

/// The fields that say how to mark.
pub(crate) const MARKING: [&str; 2] = ["issued", "policy"];

/// How a request wants its answers marked.
pub(crate) struct Marking {
    pub(crate) marker: Marker,
    pub(crate) method: Method,
    /// What was noted in reading the issued formula.
    pub(crate) notes: Vec<Note>,
}

impl Marking {
    pub(crate) fn read(request: &Object<'_>) -> Result<Self, Failure> {
        let method = options::method(request)?;
        let (issued, notes) = options::hydrate(request, "issued", &method)?;
        let policy = policy::read(request)?;
        Ok(Marking {
            marker: Marker::new(issued, method.clone()).policy(policy),
            method,
            notes,
        })
    }
}

/// Adds what was reported, quantity by quantity.
///
/// A text that is no number, where one is asked for, is an error of its field, as `reported.ratio`
/// in the contract: nothing was handed in that could be judged, and the program that sent it can
/// ask again. (In a sheet, which is read as a whole, it is a problem of its row.) A formula that
/// cannot be read is an answer like any other, and a wrong one.
pub(crate) fn reported(entry: Entry, given: &Object<'_>) -> Result<Entry, Failure> {
    given.only(&[&Quantity::ALL.map(Quantity::code)])?;
    Quantity::ALL
        .into_iter()
        .try_fold(entry, |entry, quantity| {
            let text = given.optional(quantity.code(), |value| match quantity {
                Quantity::Formula => short(value.text()?),
                _ => legible(quantity, short(value.written()?)?),
            })?;
            Ok(match text {
                Some(text) => entry.reported(quantity, text),
                None => entry,
            })
        })
}

/// A longer text is no answer; and what is said of an answer quotes it several times.
const LONGEST: usize = 1_000;

fn short(text: Cow<'_, str>) -> Result<Cow<'_, str>, Failure> {
    if text.len() <= LONGEST {
        return Ok(text);
    }
    let message = format!(
        "the text is {} bytes long; an answer has at most {LONGEST}",
        text.len()
    );
    Err(Failure::new("too_large", message).help("send only what was handed in for this quantity"))
}

fn legible(quantity: Quantity, text: Cow<'_, str>) -> Result<Cow<'_, str>, Failure> {
    let alone = Entry::new("").reported(quantity, &text);
    let failure = alone
        .unreadable()
        .next()
        .map(|(_, message)| Failure::new("bad_number", message));
    failure.map_or(Ok(text), Err)
}

/// A name, which may have been sent as a number.
pub(crate) fn name<'a>(value: Json<'a>) -> Result<Cow<'a, str>, Failure> {
    value.written()
}
