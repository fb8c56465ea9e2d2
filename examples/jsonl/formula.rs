//! `formula`: the composition of a formula, its molar mass, and its forms in writing.

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure, Reply};

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["formula"], &options::ENVELOPE])?;
    let weights = options::weights(request)?;
    let (formula, notes) = options::formula(request, "formula")?;
    let description = formula
        .describe(&weights)
        .map_err(|error| Failure::from(error).within("formula"))?;
    Ok(reply::result(description.with_notes(notes)))
}
