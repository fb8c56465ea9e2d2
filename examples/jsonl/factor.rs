//! `factor`: the gravimetric factor of a substance sought and a form weighed, and the content of a
//! sample.

use effloresce::Element;
use effloresce::gravimetry::{ErrorKind, GravimetricFactor};

use crate::json::{Json, Object};
use crate::numbers::Numbers;
use crate::options;
use crate::reply::{self, Failure, Reply};

const MASSES: [&str; 2] = ["sample_mass", "weighed_mass"];

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["sought", "weighed", "by"], &MASSES, &options::ENVELOPE])?;
    let weights = options::weights(request)?;
    let (sought, mut notes) = options::substance(request, "sought", &weights)?;
    let (weighed, more) = options::substance(request, "weighed", &weights)?;
    notes.extend(more);
    let by: Option<Element> = request.optional("by", Json::code)?;
    let factor = match by {
        Some(element) => GravimetricFactor::linked_by(element, sought, weighed, &weights),
        None => GravimetricFactor::new(sought, weighed, &weights),
    };
    let factor = factor.map_err(|error| {
        let by = [ErrorKind::NotALink, ErrorKind::AmbiguousFactor].contains(&error.kind());
        Failure::from(error).within_any(by.then_some("by"))
    })?;
    let sample = request.optional("sample_mass", Json::mass)?;
    let mass = request.optional("weighed_mass", Json::mass)?;
    let mut numbers = Numbers::default();
    numbers.add_fields(request, &MASSES);
    notes.extend(numbers.note(""));
    let factor = factor.with_notes(notes);
    match (mass, sample) {
        (Some(mass), sample) => {
            let content = factor.content(mass, sample).map_err(|error| {
                let reading = options::impossible_reading(&error, request, &MASSES);
                Failure::from(error).within_any(reading.as_deref())
            })?;
            Ok(reply::result(content))
        }
        (None, None) => Ok(reply::result(factor)),
        (None, Some(_)) => {
            let message = "a percentage needs the mass that was weighed";
            Err(Failure::missing("weighed_mass", message)
                .help("give `weighed_mass`, or leave `sample_mass` out"))
        }
    }
}
