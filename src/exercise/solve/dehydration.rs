//! `dehydration`: the degree of hydration that the readings of one bench give.

use alloc::format;
use alloc::vec::Vec;

use super::readings::{METHOD, READINGS, method, readings};
use super::solved::{Pointer, Solved};
use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::gravimetry::{Dehydration, Weighings};
use crate::number::Reading;

/// Works a request out, and returns the readings with what they give.
pub(in crate::exercise) fn run(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
) -> Result<(Weighings, Dehydration), Error> {
    let own = ["salt", "candidates"].into_iter();
    let fields = own.chain(READINGS).chain(METHOD);
    request.only(&fields.collect::<Vec<&str>>())?;
    let weighings = readings(request)?;
    let mut method = method(request, weights)?;
    if request.get("candidates").is_some() {
        let degrees = request.readings("candidates")?;
        method = method.candidates(degrees.iter().map(Reading::value))?;
    }
    let run = method.dehydration(&request.formula("salt")?, &weighings)?;
    Ok((weighings, run))
}

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    let (_, run) = run(request, weights)?;
    Ok(value(&run, pointer))
}

/// The value at a place of the result.
fn value(run: &Dehydration, pointer: &Pointer<'_>) -> Option<Solved> {
    let text = |text: &str| Some(Solved::Text(text.into()));
    match pointer.steps() {
        ["formula"] => text(&format!("{}", run.outcome().formula()?)),
        ["nearest_formula"] => text(&format!("{}", run.nearest_formula())),
        ["nearest"] => Some(Solved::Number(run.nearest().clone())),
        ["outcome"] => text(run.outcome().code()),
        ["constant_mass", of] => {
            let constancy = run.constant_mass()?;
            match *of {
                "reached" => text(if constancy.reached()? {
                    "true"
                } else {
                    "false"
                }),
                "last_change" => Some(Solved::Number(constancy.last_change()?.value())),
                "criterion" => Some(Solved::Number(constancy.criterion().clone())),
                _ => None,
            }
        }
        ["candidates", index, of] => {
            let candidate = run.candidates().get(Pointer::index(index)?)?;
            match *of {
                "formula" => text(&format!("{}", candidate.formula())),
                "waters" => Some(Solved::Number(candidate.waters().clone())),
                "expected_percent_water" => {
                    Some(Solved::Number(candidate.expected_percent_water().clone()))
                }
                "expected_residue_mass" => candidate
                    .expected_residue_mass()
                    .cloned()
                    .map(Solved::Number),
                _ => None,
            }
        }
        [quantity] => run.value(quantity.parse().ok()?).map(Solved::Number),
        _ => None,
    }
}
