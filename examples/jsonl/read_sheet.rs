//! `read_sheet`: a class sheet as CSV, each bench worked out and each answer marked.

use std::borrow::Cow;

use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::Method;
use effloresce::{Formula, Note};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

struct Request<'a> {
    text: Cow<'a, str>,
    issued: Formula,
    notes: Vec<Note>,
    method: Method,
}

impl<'a> Request<'a> {
    fn read(request: &Object<'a>) -> Result<Self, Failure> {
        request.only(&[
            &["text", "issued", "policy"],
            &options::METHOD,
            &options::ENVELOPE,
        ])?;
        // A teacher's own marks must not be ignored silently.
        request.optional("policy", |_| -> Result<(), Failure> {
            Err(
                Failure::new("bad_request", "this version marks by one policy only")
                    .help("leave `policy` out"),
            )
        })?;
        let method = options::method(request)?;
        let (issued, notes) = options::hydrate(request, "issued", &method)?;
        Ok(Request {
            text: request.required("text", Json::text)?,
            issued,
            notes,
            method,
        })
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let sheet = Sheet::read(request.text.as_bytes())
        .map_err(|error| Failure::from(error).within("text"))?;
    let marked = Marker::new(request.issued, request.method).mark(&sheet);
    reply::result(&marked.with_notes(request.notes))
}
