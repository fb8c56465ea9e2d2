//! `mixture`: the fractions of two components, from the mass that a mixture loses on heating.

use effloresce::gravimetry::{Component, ErrorKind, Method, Net, Weighings};
use effloresce::{AtomicWeights, Note};

use crate::json::{Json, Object};
use crate::numbers::Numbers;
use crate::options;
use crate::reply::{self, Failure, Reply};

const MASSES: [&str; 2] = ["sample_mass", "residue_mass"];

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["components"], &MASSES, &options::ENVELOPE])?;
    let strict = options::strict(request)?;
    let weights = options::weights(request)?;
    let mut notes = Vec::new();
    let components = request.required("components", |value| {
        let components = value.list(2, |one| component(one, &weights, strict, &mut notes))?;
        <[Component; 2]>::try_from(components).map_err(|given| {
            let message = format!("a mixture has two components here, not {}", given.len());
            let help = "give two components, each with `formula` and `residue`";
            Failure::new("bad_request", message).help(help)
        })
    })?;
    let sample = request.required("sample_mass", Json::mass)?;
    let residue = request.required("residue_mass", Json::mass)?;
    let mut numbers = Numbers::default();
    numbers.add_fields(request, &MASSES);
    notes.extend(numbers.note(""));
    let mixture = Method::new()
        .weights(weights)
        .mixture(components, &Weighings::net(sample, residue, Net::Tared))
        .map_err(|error| {
            let alike = error.kind() == ErrorKind::SameLoss;
            let reading = options::impossible_reading(&error, request, &MASSES);
            let field = alike.then_some("components").or(reading.as_deref());
            Failure::from(error).within_any(field)
        })?;
    Ok(reply::result(mixture.with_notes(notes)))
}

fn component(
    value: Json<'_>,
    weights: &AtomicWeights,
    strict: bool,
    notes: &mut Vec<Note>,
) -> Result<Component, Failure> {
    let component = value.object()?;
    component.only(&[&["formula", "residue"]])?;
    let (formula, more) = options::substance_of(&component, "formula", weights, strict)?;
    notes.extend(more);
    let (residue, more) = options::substance_of(&component, "residue", weights, strict)?;
    notes.extend(more);
    Component::new(formula, residue).map_err(|error| Failure::from(error).within("residue"))
}
