//! `check`: what a bench should do next, from its readings so far.

use effloresce::gravimetry::{Method, Weighings};
use effloresce::{Formula, Note};
use serde_json::value::RawValue;

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure};

struct Request {
    issued: Formula,
    notes: Vec<Note>,
    weighings: Weighings,
    method: Method,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[
            &["issued"],
            &options::READINGS,
            &options::METHOD,
            &options::ENVELOPE,
        ])?;
        let (issued, notes) = options::formula(request, "issued")?;
        Ok(Request {
            notes,
            issued,
            weighings: options::readings(request)?,
            method: options::method(request)?,
        })
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let check = request
        .method
        .check(&request.issued, &request.weighings)
        .map_err(|error| options::blame(error, "issued", "crucible"))?;
    reply::result(&check.with_notes(request.notes))
}
