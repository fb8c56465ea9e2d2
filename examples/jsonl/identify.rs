//! `identify`: what an unknown hydrate may be, from its percentage of water or from readings.

use effloresce::{AtomicWeights, Formula, Note};

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The largest number of hydrates in a list, all of which a reply shows.
const MOST_HYDRATES: usize = 100;

/// The rules of the method without the residue, which is not known for an unknown.
const METHOD: [&str; 5] = [
    "readability",
    "constant_mass",
    "weighing_used",
    "repeatability",
    "coverage",
];

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["among"], &options::READINGS, &METHOD, &options::ENVELOPE])?;
    let strict = options::strict(request)?;
    let method = options::method(request)?;
    let mut notes = Vec::new();
    let among = request.optional("among", |value| {
        let hydrate = |one| hydrate(one, method.atomic_weights(), strict, &mut notes);
        value.list(MOST_HYDRATES, hydrate)
    })?;
    let (weighings, numbers) = options::noted_readings(request)?;
    let found = match among {
        Some(list) if list.is_empty() => {
            return Err(Failure::missing("among", "the list of hydrates is empty")
                .help("give the hydrates that are possible, or leave `among` out"));
        }
        Some(list) => method.identify_among(list, &weighings),
        None => method.identify(&weighings),
    };
    let found = found.map_err(|error| {
        let reading = options::impossible_reading(&error, request, &options::READINGS);
        options::with_field(error, "among", "heated").within_any(reading.as_deref())
    })?;
    Ok(reply::result(
        found.with_notes(notes.into_iter().chain(numbers)),
    ))
}

/// A hydrate whose percentage of water is known.
fn hydrate(
    value: Json<'_>,
    weights: &AtomicWeights,
    strict: bool,
    notes: &mut Vec<Note>,
) -> Result<Formula, Failure> {
    let (hydrate, more) = options::read_formula_or_name(&value.text()?, strict)?;
    notes.extend(more);
    match hydrate.percent_water(weights)? {
        Some(_) => Ok(hydrate),
        None => Err(
            Failure::new("bad_request", format!("{hydrate} is not a hydrate"))
                .help("give hydrates with their number of waters, such as MgSO4·7H2O"),
        ),
    }
}
