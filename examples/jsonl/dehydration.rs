//! `dehydration`: the degree of hydration that the readings of one bench give.

use effloresce::gravimetry::{Method, Weighings};
use effloresce::{Formula, Note};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

/// More degrees than any salt has; the library has a limit of its own.
const MOST_CANDIDATES: usize = 1_000;

struct Request {
    salt: Formula,
    notes: Vec<Note>,
    weighings: Weighings,
    method: Method,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[
            &["salt", "candidates"],
            &options::READINGS,
            &options::METHOD,
            &options::ENVELOPE,
        ])?;
        let candidates = request.optional("candidates", |value| {
            value.list(MOST_CANDIDATES, Json::number)
        })?;
        let mut method = options::method(request)?;
        if let Some(candidates) = candidates {
            method = method
                .candidates(candidates)
                .map_err(|error| Failure::from(error).within("candidates"))?;
        }
        let (salt, notes) = options::formula(request, "salt")?;
        Ok(Request {
            notes,
            salt,
            weighings: options::readings(request)?,
            method,
        })
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let dehydration = request
        .method
        .dehydration(&request.salt, &request.weighings)
        .map_err(|error| options::blame(error, "salt", "heated"))?;
    reply::result(&dehydration.with_notes(request.notes))
}
