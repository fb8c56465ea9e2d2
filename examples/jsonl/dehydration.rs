//! `dehydration`: the degree of hydration that the readings of one bench give.

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The largest number of candidates that the library takes.
const MOST_CANDIDATES: usize = 50;

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[
        &["salt", "candidates"],
        &options::READINGS,
        &options::METHOD,
        &options::ENVELOPE,
    ])?;
    let method = options::method(request)?;
    let method = request.set("candidates", method, |method, value| {
        Ok(method.candidates(value.list(MOST_CANDIDATES, Json::number)?)?)
    })?;
    let (salt, notes) = options::formula(request, "salt")?;
    let (weighings, numbers) = options::noted_readings(request)?;
    let dehydration = method.dehydration(&salt, &weighings).map_err(|error| {
        let reading = options::impossible_reading(&error, request, &options::READINGS);
        options::with_field(error, "salt", "heated").within_any(reading.as_deref())
    })?;
    Ok(reply::result(
        dehydration.with_notes(notes.into_iter().chain(numbers)),
    ))
}
