//! Fields that the operations which mark share: the hydrate issued, the rules, and the answers.

use std::borrow::Cow;

use effloresce::class::{Entry, Marked, Marker, Reported, Sheet};
use effloresce::gravimetry::{Method, Quantity};
use effloresce::{Note, visible};
use serde::{Serialize, Serializer};

use crate::json::Object;
use crate::options;
use crate::policy;
use crate::reply::{self, Failure, Reply};

/// The fields that say how to mark.
pub(crate) const MARKING: [&str; 2] = ["issued", "policy"];

/// The rules by which the answers of a request are marked.
pub(crate) struct Marking {
    pub(crate) marker: Marker,
    pub(crate) method: Method,
    /// The notes on the text of the issued formula.
    pub(crate) notes: Vec<Note>,
}

impl Marking {
    pub(crate) fn read(request: &Object<'_>) -> Result<Self, Failure> {
        let method = options::method(request)?;
        let (issued, notes) = options::hydrate(request, "issued", &method)?;
        let left = method.waters_left(&issued);
        left.map_err(|error| options::with_field(error, "issued", "heated"))?;
        let policy = policy::read(request)?;
        Ok(Marking {
            marker: Marker::new(issued, method.clone()).policy(policy),
            method,
            notes,
        })
    }
}

/// A class that is marked when its reply is written.
pub(crate) struct Class {
    marker: Marker,
    sheet: Sheet,
    /// The notes on the request, not those on the sheet.
    pub(crate) notes: Vec<Note>,
}

impl Marking {
    pub(crate) fn class(self, sheet: Sheet) -> Class {
        Class {
            marker: self.marker,
            sheet,
            notes: self.notes,
        }
    }
}

impl Class {
    pub(crate) fn rows(&self) -> usize {
        self.sheet.rows().len()
    }

    pub(crate) fn marked(&self) -> Marked {
        self.marker.mark(&self.sheet)
    }

    pub(crate) fn reply(self) -> Reply {
        let surely_short = self.is_surely_short();
        reply::of_class(self.rows(), self).surely_short(surely_short)
    }

    /// Whether the reply has at most 8 kB a row, however its texts are quoted.
    ///
    /// Without its own texts a row has at most 6 kB, even if every answer is wrong. A name or an
    /// answer is quoted at most eight times, and JSON may double each byte of it.
    fn is_surely_short(&self) -> bool {
        const MOST_QUOTED: usize = 2_000 / 16;
        const A_PROBLEM: usize = 20;
        let texts = self.sheet.rows().iter().flat_map(|row| {
            let names = [row.pupil(), row.balance(), row.period(), row.issued()];
            let answers = row.reported().iter().map(Reported::text);
            names
                .into_iter()
                .flatten()
                .chain([row.bench()])
                .chain(answers)
        });
        let quoted: usize = texts.map(|text| visible(text).len()).sum();
        let remarks = self.sheet.problems().len() + self.sheet.notes().len();
        quoted + A_PROBLEM * remarks <= MOST_QUOTED * self.rows()
    }
}

impl Serialize for Class {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let rows = self.marker.mark_rows(&self.sheet);
        rows.with_notes(self.notes.iter().cloned())
            .serialize(serializer)
    }
}

/// Adds the answers, quantity by quantity.
///
/// An answer that cannot be read costs nobody else anything: it stays open, and a problem says why.
pub(crate) fn reported(entry: Entry, given: &Object<'_>) -> Result<Entry, Failure> {
    given.only(&[&Quantity::ALL.map(Quantity::code)])?;
    Quantity::ALL
        .into_iter()
        .try_fold(entry, |entry, quantity| {
            given.set(quantity.code(), entry, |entry, value| {
                let text = match quantity {
                    Quantity::Formula => value.text()?,
                    _ => value.text_or_digits()?,
                };
                Ok(entry.reported(quantity, short(text)?))
            })
        })
}

/// A name or an answer, which a reply quotes several times. It may be as long as in a sheet.
pub(crate) fn short(text: Cow<'_, str>) -> Result<Cow<'_, str>, Failure> {
    if text.len() <= Sheet::LONGEST_CELL {
        return Ok(text);
    }
    let most = Sheet::LONGEST_CELL;
    let message = format!(
        "the text has {} bytes, and at most {most} are read",
        text.len()
    );
    Err(Failure::new("too_large", message).help("send only the name or the answer"))
}
