//! `dehydration`: the degree of hydration that the readings of one bench give.

use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

/// The largest number of candidates that is read. The library has a smaller limit.
const MOST_CANDIDATES: usize = 1_000;

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    request.only(&[
        &["salt", "candidates"],
        &options::READINGS,
        &options::METHOD,
        &options::ENVELOPE,
    ])?;
    let mut method = options::method(request)?;
    let candidates = request.optional("candidates", |value| {
        let candidates = value.list(MOST_CANDIDATES, Json::number)?;
        Ok(method.clone().candidates(candidates)?)
    })?;
    method = candidates.unwrap_or(method);
    let (salt, notes) = options::formula(request, "salt")?;
    let dehydration = method
        .dehydration(&salt, &options::readings(request)?)
        .map_err(|error| options::with_field(error, "salt", "heated"))?;
    reply::result(&dehydration.with_notes(notes))
}
