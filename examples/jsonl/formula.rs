//! `formula`: the composition of a formula, its molar mass, and its forms in writing.

use serde_json::value::RawValue;

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure};

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    request.only(&[&["formula"], &options::ENVELOPE])?;
    let weights = options::weights(request)?;
    let (formula, notes) = options::formula(request, "formula")?;
    let description = formula
        .describe(&weights)
        .map_err(|error| Failure::from(error).within("formula"))?;
    reply::result(&description.with_notes(notes))
}
