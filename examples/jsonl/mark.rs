//! `mark`: the answers of one bench, marked against its own readings.
//!
//! `stand_in` says that the readings are stand-ins. The result says so too.

use effloresce::class::Entry;

use crate::json::{Json, Object};
use crate::marking::{self, MARKING, Marking};
use crate::options;
use crate::reply::{self, Failure, Reply};

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[
        &["reported", "stand_in"],
        &MARKING,
        &options::READINGS,
        &options::METHOD,
        &options::ENVELOPE,
    ])?;
    let marking = Marking::read(request)?;
    let stand_in = request.optional("stand_in", Json::boolean)?;
    let (weighings, numbers) = options::noted_readings(request)?;
    let entry = Entry::new("")
        .weighings(weighings)
        .stand_in(stand_in.unwrap_or(false));
    let entry = request.required("reported", |value| {
        marking::reported(entry, &value.object()?)
    })?;
    let marked = marking.marker.mark_entry(entry);
    match marked.row().and_then(|row| row.error()) {
        Some(error) => {
            let reading = options::impossible_reading(error, request, &options::READINGS);
            let failure = options::with_field(error.clone(), "issued", "heated");
            Err(failure.within_any(reading.as_deref()))
        }
        None => Ok(reply::result(
            marked.with_notes(marking.notes.into_iter().chain(numbers)),
        )),
    }
}
