//! The readings of a bench and the rules of its method, as several operations read them.

use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::gravimetry::{ConstantMass, Method, Weighings};

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
    let [series, net, percent] = [&READINGS[..3], &READINGS[3..6], &READINGS[6..]]
        .map(|form| form.iter().find(|name| request.get(name).is_some()));
    if let Some(second) = [series, net, percent].into_iter().flatten().nth(1) {
        return Err(request.wrong(
            second,
            "is of another form than the readings before it",
            "give the weighings of the crucible, or net masses, or the percentage of water",
        ));
    }
    if net.is_some() {
        let rule = match request.get("net") {
            Some(_) => request.parsed("net", str::parse)?,
            None => Default::default(),
        };
        let hydrate = request.reading("hydrate_mass")?;
        return Ok(Weighings::net(
            hydrate,
            request.reading("residue_mass")?,
            rule,
        ));
    }
    if percent.is_some() {
        return Ok(Weighings::percent_water(request.reading("percent_water")?));
    }
    Ok(Weighings::new(
        request.reading("crucible")?,
        request.reading("crucible_hydrate")?,
        request.readings("heated")?,
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
    if let Some((second, _)) = rule.iter().nth(1) {
        let what = "is one criterion too many";
        return Err(rule.wrong(
            second,
            what,
            "give one of `absolute`, `relative` and `per_gram`",
        ));
    }
    Ok(if rule.get("relative").is_some() {
        ConstantMass::Relative(rule.reading("relative")?)
    } else if rule.get("per_gram").is_some() {
        ConstantMass::PerGram(rule.reading("per_gram")?)
    } else {
        ConstantMass::Absolute(rule.reading("absolute")?)
    })
}
