//! `read_sheet`: a class sheet as CSV, with its answers marked.

use effloresce::class::{Marked, Sheet};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::marking::{MARKING, Marking};
use crate::options;
use crate::reply::{self, Failure};

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    reply::result(&marked(request)?)
}

pub(crate) fn marked(request: &Object<'_>) -> Result<Marked, Failure> {
    request.only(&[&["text"], &MARKING, &options::METHOD, &options::ENVELOPE])?;
    let marking = Marking::read(request)?;
    let text = request.required("text", Json::text)?;
    let sheet =
        Sheet::read(text.as_bytes()).map_err(|error| Failure::from(error).within("text"))?;
    Ok(marking.marker.mark(&sheet).with_notes(marking.notes))
}
