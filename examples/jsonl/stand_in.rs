//! `stand_in`: stand-in readings for a pupil who was absent, marked as such.

use effloresce::class::StandIn;
use effloresce::gravimetry::Method;
use effloresce::mistake::{self, Fault};

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[
        &[
            "issued",
            "seed",
            "readability",
            "sample_mass",
            "residue",
            "fault",
        ],
        &options::ENVELOPE,
    ])?;
    let method = Method::new().weights(options::weights(request)?);
    let method = options::residue(request, method)?;
    let (issued, notes) = options::hydrate(request, "issued", &method)?;
    let left = method.waters_left(&issued);
    left.map_err(|error| options::with_field(error, "issued", "heated"))?;
    let seed = request.required("seed", Json::seed)?;
    let readability = request.required("readability", Json::mass)?;
    let stand_in = StandIn::new(issued, seed, readability).method(method);
    let stand_in = request.set("sample_mass", stand_in, |stand_in, value| {
        Ok(stand_in.sample_mass(value.mass()?))
    })?;
    let fault: Option<Fault> = request.optional("fault", Json::code)?;
    let stand_in = stand_in.fault(fault);
    Ok(reply::result(
        stand_in.readings().map_err(with_field)?.with_notes(notes),
    ))
}

/// The failure, with the field that the error is about.
fn with_field(error: mistake::Error) -> Failure {
    use mistake::ErrorKind::{
        FaultNotShown, NoStandardWeight, NotAHydrate, Readability, Sample, UnknownDegree,
    };
    let field = match error.kind() {
        NotAHydrate | NoStandardWeight | UnknownDegree => Some("issued"),
        Readability => Some("readability"),
        Sample => Some("sample_mass"),
        FaultNotShown => Some("fault"),
        _ => None,
    };
    Failure::from(error).within_any(field)
}
