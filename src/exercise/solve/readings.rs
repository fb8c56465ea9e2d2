//! The readings of a bench and the rules of its method, as several operations read them.

use alloc::vec::Vec;

use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::{Field, RequestMembers};
use crate::gravimetry::{ConstantMass, Method, Weighings};
use crate::number::{self, Reading};

/// The fields with the readings of a bench.
pub(super) const READINGS: [&str; 7] = [
    "crucible",
    "crucible_hydrate",
    "heated",
    "hydrate_mass",
    "residue_mass",
    "net",
    "percent_water",
];

/// The fields with the rules of a method.
pub(super) const METHOD: [&str; 6] = [
    "readability",
    "constant_mass",
    "weighing_used",
    "residue",
    "repeatability",
    "coverage",
];

/// The readings of one bench, in one of their three forms.
pub(super) fn readings(request: &RequestMembers<'_>) -> Result<Weighings, Error> {
    if request.get("hydrate_mass").is_some() {
        let net = match request.get("net") {
            Some(_) => request.parsed("net", str::parse)?,
            None => Default::default(),
        };
        let masses = [
            request.reading("hydrate_mass")?,
            request.reading("residue_mass")?,
        ];
        return Ok(Weighings::net(masses[0], masses[1], net));
    }
    if request.get("percent_water").is_some() {
        return Ok(Weighings::percent_water(request.reading("percent_water")?));
    }
    let reading = |value: &Field| match value {
        Field::Text(text) => text.parse().map_err(|error: number::Error| {
            request.wrong(
                "heated",
                &alloc::format!("cannot be read: {error}"),
                "correct it",
            )
        }),
        _ => Err(request.wrong(
            "heated",
            "is not a list of readings",
            "write each in quotation marks",
        )),
    };
    let heated = request.list("heated")?.iter().map(reading);
    Ok(Weighings::new(
        request.reading("crucible")?,
        request.reading("crucible_hydrate")?,
        heated.collect::<Result<Vec<Reading>, Error>>()?,
    ))
}

/// The rules of a method, the default ones where the request is silent.
pub(super) fn method(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
) -> Result<Method, Error> {
    let mut method = Method::new().weights(weights.clone());
    if request.get("residue").is_some() {
        method = method.residue(&request.formula("residue")?)?;
    }
    if request.get("readability").is_some() {
        method = method.readability(request.reading("readability")?)?;
    }
    if request.get("constant_mass").is_some() {
        method = method.constant_mass(criterion(&request.object("constant_mass")?)?);
    }
    if request.get("weighing_used").is_some() {
        method = method.weighing_used(request.parsed("weighing_used", str::parse)?);
    }
    if request.get("repeatability").is_some() {
        method = method.repeatability(request.reading("repeatability")?.value().to_f64())?;
    }
    if request.get("coverage").is_some() {
        method = method.coverage(request.reading("coverage")?.value().to_f64())?;
    }
    Ok(method)
}

fn criterion(rule: &RequestMembers<'_>) -> Result<ConstantMass, Error> {
    rule.only(&["absolute", "relative", "per_gram"])?;
    Ok(if rule.get("relative").is_some() {
        ConstantMass::Relative(rule.reading("relative")?)
    } else if rule.get("per_gram").is_some() {
        ConstantMass::PerGram(rule.reading("per_gram")?)
    } else {
        ConstantMass::Absolute(rule.reading("absolute")?)
    })
}
