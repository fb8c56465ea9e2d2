//! `factor`: the gravimetric factor, and the content of a sample.

use super::solved::{Pointer, Solved};
use crate::element::{AtomicWeights, Element};
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::gravimetry::{Content, GravimetricFactor};
use crate::number::Reading;

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    request.only(&["sought", "weighed", "by", "weighed_mass", "sample_mass"])?;
    let (sought, weighed) = (request.formula("sought")?, request.formula("weighed")?);
    let factor = match request.get("by") {
        Some(_) => {
            let element = request.parsed("by", str::parse::<Element>)?;
            GravimetricFactor::linked_by(element, sought, weighed, weights)?
        }
        None => GravimetricFactor::new(sought, weighed, weights)?,
    };
    let mass = |name: &str| -> Result<Option<Reading>, Error> {
        let given = request.get(name);
        given.map(|_| request.reading(name)).transpose()
    };
    let sample = mass("sample_mass")?;
    let content = match mass("weighed_mass")? {
        Some(weighed) => Some(factor.content(weighed, sample)?),
        None => None,
    };
    let value = match pointer.steps() {
        ["factor"] => Some(factor.value()),
        ["sought_mass"] => content.as_ref().map(Content::sought_mass),
        ["percent"] => content.as_ref().and_then(Content::percent),
        ["sought_per_weighed", index] => {
            Pointer::index(index).and_then(|index| factor.sought_per_weighed().get(index))
        }
        _ => None,
    };
    Ok(value.cloned().map(Solved::Number))
}
