//! `stand_in`: readings for somebody who was absent, which say what they are.

use effloresce::class::StandIn;
use effloresce::gravimetry::Method;
use effloresce::mistake::{self, Fault};
use effloresce::{Formula, Note, Reading};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

struct Request {
    issued: Formula,
    notes: Vec<Note>,
    method: Method,
    seed: u64,
    readability: Reading,
    sample_mass: Option<Reading>,
    fault: Option<Fault>,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[
            &["issued", "seed", "readability", "sample_mass", "fault"],
            &options::ENVELOPE,
        ])?;
        let method = Method::new().weights(options::weights(request)?);
        let (issued, notes) = options::hydrate(request, "issued", &method)?;
        let faults = Fault::ALL.map(|fault| (fault.code(), fault));
        Ok(Request {
            issued,
            notes,
            method,
            seed: request.required("seed", Json::seed)?,
            readability: request.required("readability", Json::mass)?,
            sample_mass: request.optional("sample_mass", Json::mass)?,
            fault: request.optional("fault", |word| word.choice(&faults))?,
        })
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let mut stand_in = StandIn::new(request.issued, request.seed, request.readability)
        .method(request.method)
        .fault(request.fault);
    if let Some(mass) = request.sample_mass {
        stand_in = stand_in.sample_mass(mass);
    }
    let readings = stand_in.readings().map_err(blame)?;
    reply::result(&readings.with_notes(request.notes))
}

/// Which field an error is about.
fn blame(error: mistake::Error) -> Failure {
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
    let failure = Failure::from(error);
    match field {
        Some(field) => failure.within(field),
        None => failure,
    }
}
