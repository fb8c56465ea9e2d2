//! `class`: the benches of a class, sent row by row, with their answers marked.
//!
//! A row without readings shares those of another row of its bench, as in a sheet. A row may have
//! its own `issued`, `readability` and `stand_in`.

use effloresce::class::{Entry, Marked, Sheet};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::marking::{self, MARKING, Marking};
use crate::options;
use crate::reply::{self, Failure};

/// The largest number of rows: more than a school has benches.
const MOST_ROWS: usize = 10_000;

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    reply::result(&marked(request)?)
}

pub(crate) fn marked(request: &Object<'_>) -> Result<Marked, Failure> {
    request.only(&[&["rows"], &MARKING, &options::METHOD, &options::ENVELOPE])?;
    let marking = Marking::read(request)?;
    let strict = options::strict(request)?;
    let entries = request.required("rows", |value| {
        value.list(MOST_ROWS, |row| entry(&row.object()?, &marking, strict))
    })?;
    let marked = marking.marker.mark(&Sheet::of(entries));
    Ok(marked.with_notes(marking.notes))
}

fn entry(row: &Object<'_>, marking: &Marking, strict: bool) -> Result<Entry, Failure> {
    row.only(&[
        &[
            "bench",
            "pupil",
            "balance",
            "period",
            "issued",
            "readability",
            "stand_in",
            "reported",
        ],
        &options::READINGS,
    ])?;
    let mut entry = Entry::new(row.required("bench", Json::text_or_digits)?);
    type Set = fn(Entry, &str) -> Entry;
    let names: [(&str, Set); 3] = [
        ("pupil", |entry, name| entry.pupil(name)),
        ("balance", |entry, name| entry.balance(name)),
        ("period", |entry, name| entry.period(name)),
    ];
    for (field, set) in names {
        if let Some(name) = row.optional(field, Json::text_or_digits)? {
            entry = set(entry, &name);
        }
    }
    if row.has("issued") {
        let (issued, _) = options::hydrate_of(row, "issued", &marking.method, strict)?;
        entry = entry.issued(issued.to_string());
    }
    if let Some(step) = row.optional("readability", options::readability)? {
        entry = entry.readability(step);
    }
    if let Some(stand_in) = row.optional("stand_in", Json::boolean)? {
        entry = entry.stand_in(stand_in);
    }
    if options::READINGS.iter().any(|name| row.has(name)) {
        entry = entry.weighings(options::readings(row)?);
    }
    let answers = row.optional("reported", |value| {
        marking::reported(entry.clone(), &value.object()?)
    })?;
    Ok(answers.unwrap_or(entry))
}
