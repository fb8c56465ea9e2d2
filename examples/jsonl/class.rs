//! `class`: the benches of a class, sent row by row, each worked out and each answer marked.
//!
//! A row without readings shares those of another row of its bench, as in a sheet. Beside what the
//! contract names, a row may have an `issued`, a `readability` and a `stand_in` of its own, as a sheet's rows.

use effloresce::class::{Entry, Marked, Sheet};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::marking::{self, MARKING, Marking};
use crate::options;
use crate::reply::{self, Failure};

/// More rows than a school has benches.
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
    let mut entry = Entry::new(row.required("bench", marking::name)?);
    type Set = fn(Entry, &str) -> Entry;
    let names: [(&str, Set); 3] = [
        ("pupil", |entry, name| entry.pupil(name)),
        ("balance", |entry, name| entry.balance(name)),
        ("period", |entry, name| entry.period(name)),
    ];
    for (field, set) in names {
        if let Some(name) = row.optional(field, marking::name)? {
            entry = set(entry, &name);
        }
    }
    if row.has("issued") {
        let (issued, _) = options::hydrate_of(row, "issued", &marking.method, strict)?;
        entry = entry.issued(issued.to_string());
    }
    if let Some(division) = row.optional("readability", options::division)? {
        entry = entry.readability(division);
    }
    if let Some(stand_in) = row.optional("stand_in", Json::flag)? {
        entry = entry.stand_in(stand_in);
    }
    if options::READINGS.iter().any(|name| row.has(name)) {
        entry = entry.weighings(options::readings(row)?);
    }
    let reported = row.optional("reported", Json::object)?;
    match reported {
        None => Ok(entry),
        Some(reported) => {
            marking::reported(entry, &reported).map_err(|failure| failure.within("reported"))
        }
    }
}
