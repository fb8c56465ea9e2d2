//! `check`: what a bench should do next, from its readings so far, and which faults explain them.

use effloresce::mistake::{DiagnosedCheck, Priors};

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure, Reply};

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[
        &["issued"],
        &options::READINGS,
        &options::METHOD,
        &options::ENVELOPE,
    ])?;
    let (issued, notes) = options::formula_or_name(request, "issued")?;
    let (weighings, numbers) = options::noted_readings(request)?;
    let method = options::method(request)?;
    let check = DiagnosedCheck::new(&issued, &method, &Priors::new(), &weighings)
        .map_err(|error| options::with_field(error, "issued", "crucible"))?;
    Ok(reply::result(
        check.with_notes(notes.into_iter().chain(numbers)),
    ))
}
