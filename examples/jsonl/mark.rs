//! `mark`: what one bench reported, marked against its own readings.

use effloresce::class::Entry;
use serde_json::value::RawValue;

use crate::json::Object;
use crate::marking::{self, MARKING, Marking};
use crate::options;
use crate::reply::{self, Failure};

struct Request {
    entry: Entry,
    marking: Marking,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[
            &["reported"],
            &MARKING,
            &options::READINGS,
            &options::METHOD,
            &options::ENVELOPE,
        ])?;
        let marking = Marking::read(request)?;
        let entry = Entry::new("").weighings(options::readings(request)?);
        let entry = request.required("reported", |value| {
            marking::reported(entry, &value.object()?)
        })?;
        Ok(Request { entry, marking })
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let Request { entry, marking } = Request::read(request)?;
    let marked = marking.marker.mark_entry(entry);
    match marked.row().and_then(|row| row.error()) {
        Some(error) => Err(options::blame(error.clone(), "issued", "heated")),
        None => reply::result(&marked.with_notes(marking.notes)),
    }
}
