//! `class`: the benches of a class, sent row by row, with their answers marked.
//!
//! A row without readings shares those of another row of its bench, as in a sheet. A row may have
//! its own `issued`, `readability` and `stand_in`.

use effloresce::class::{Entry, Sheet};

use crate::json::{Json, Object};
use crate::marking::{self, Class, MARKING, Marking};
use crate::numbers::Numbers;
use crate::options;
use crate::reply::{Failure, Reply};

/// The largest number of rows: more than a school has benches.
const MOST_ROWS: usize = 10_000;

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    Ok(read(request)?.reply())
}

pub(crate) fn read(request: &Object<'_>) -> Result<Class, Failure> {
    request.only(&[&["rows"], &MARKING, &options::METHOD, &options::ENVELOPE])?;
    let mut marking = Marking::read(request)?;
    let strict = options::strict(request)?;
    let known = request.has("readability");
    let mut numbers = Numbers::default();
    let entries = request.required("rows", |value| {
        let mut index = 0..;
        value.list(MOST_ROWS, |row| {
            let row = row.object()?;
            let index = index.next().unwrap_or_default();
            if !known && !row.has("readability") {
                numbers.add_readings(&row, &format!("rows[{index}]."));
            }
            entry(&row, &marking, strict)
        })
    })?;
    marking
        .notes
        .extend(numbers.note(", or give `readability`"));
    Ok(marking.class(Sheet::of(entries)))
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
    let name = |value: Json<'_>| Ok(marking::short(value.text_or_digits()?)?.into_owned());
    let bench = row.required("bench", name)?;
    if bench.trim().is_empty() {
        let failure = Failure::missing("bench", "`bench` is empty");
        return Err(failure.help("name the bench, as in `\"bench\": \"Heron\"`"));
    }
    let mut entry = Entry::new(bench);
    entry = row.set("pupil", entry, |entry, value| Ok(entry.pupil(name(value)?)))?;
    entry = row.set("balance", entry, |entry, value| {
        Ok(entry.balance(name(value)?))
    })?;
    entry = row.set("period", entry, |entry, value| {
        Ok(entry.period(name(value)?))
    })?;
    if row.has("issued") {
        options::hydrate_of(row, "issued", &marking.method, strict)?;
        // The class reads it once more, with its notes.
        entry = row.set("issued", entry, |entry, value| {
            Ok(entry.issued(value.text()?))
        })?;
    }
    entry = row.set("readability", entry, |entry, value| {
        Ok(entry.readability(options::readability(value)?))
    })?;
    entry = row.set("stand_in", entry, |entry, value| {
        Ok(entry.stand_in(value.boolean()?))
    })?;
    if options::READINGS.iter().any(|name| row.has(name)) {
        entry = entry.weighings(options::readings(row)?);
    }
    row.set("reported", entry, |entry, value| {
        marking::reported(entry, &value.object()?)
    })
}
