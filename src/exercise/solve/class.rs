//! `class`: the benches of a class, marked against their own readings.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::readings::{METHOD, READINGS, method, readings};
use super::solved::{Pointer, Solved};
use crate::class::{Answer, Entry, Marked, MarkedRow, Marker, Pooled, Sheet};
use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::{Field, RequestMembers};
use crate::gravimetry::Dehydration;
use crate::mistake::{Diagnosis, FaultHypothesis};

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    Ok(value(&marked(request, weights)?, pointer))
}

/// A value of the result.
pub(super) fn value(marked: &Marked, pointer: &Pointer<'_>) -> Option<Solved> {
    match pointer.steps() {
        ["rows", index, steps @ ..] => {
            let row = Pointer::index(index).and_then(|index| marked.rows().get(index));
            row.and_then(|row| of_row(row, steps))
        }
        ["pooled", "at_constant_mass", name] => of_pool(marked.at_constant_mass(), name),
        ["pooled", name] => of_pool(marked.pooled(), name),
        _ => None,
    }
}

/// Marks the class of a request.
pub(in crate::exercise) fn marked(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
) -> Result<Marked, Error> {
    let own = ["issued", "rows"].into_iter().chain(METHOD);
    request.only(&own.collect::<Vec<&str>>())?;
    let marker = Marker::new(request.formula("issued")?, method(request, weights)?);
    let rows = request.objects("rows")?;
    let entries = rows
        .iter()
        .map(entry)
        .collect::<Result<Vec<Entry>, Error>>()?;
    Ok(marker.mark(&Sheet::of(entries)))
}

fn entry(row: &RequestMembers<'_>) -> Result<Entry, Error> {
    let own = ["bench", "reported"].into_iter().chain(READINGS);
    row.only(&own.collect::<Vec<&str>>())?;
    let mut entry = Entry::new(row.text("bench")?).weighings(readings(row)?);
    if row.get("reported").is_some() {
        let reported = row.object("reported")?;
        for (name, value) in reported.iter() {
            let quantity = name.parse().map_err(|error: crate::gravimetry::Error| {
                let help = error.help().unwrap_or("correct it").to_string();
                reported.wrong(name, "is not a quantity", help)
            })?;
            let Field::Text(text) = value else {
                return Err(reported.wrong(name, "is not a text", "write it in quotation marks"));
            };
            entry = entry.reported(quantity, text);
        }
    }
    Ok(entry)
}

fn of_row(row: &MarkedRow, steps: &[&str]) -> Option<Solved> {
    let text = |text: &str| Some(Solved::Text(text.into()));
    match steps {
        ["bench"] => text(row.bench()),
        ["ratio"] => Some(Solved::Number(row.dehydration()?.ratio().clone())),
        ["percent_water"] => Some(Solved::Number(row.percent_water()?.clone())),
        ["outcome"] => text(row.dehydration()?.outcome().code()),
        ["formula"] => {
            let formula = row.dehydration().map(Dehydration::outcome)?.formula()?;
            Some(Solved::Text(formula.to_string()))
        }
        ["faults", index, steps @ ..] => {
            let faults = row.diagnosis().map(Diagnosis::likely)?;
            let fault = faults.get(Pointer::index(index)?)?;
            text(of_fault(fault, steps)?)
        }
        ["answers", index, steps @ ..] => {
            let answer = row.answers().get(Pointer::index(index)?)?;
            of_answer(answer, steps).map(Solved::Text)
        }
        _ => None,
    }
}

fn of_fault(fault: &FaultHypothesis, steps: &[&str]) -> Option<&'static str> {
    match steps {
        ["code"] => Some(fault.fault().code()),
        ["evidence", "code"] => Some(fault.evidence().code()),
        ["next", "code"] => Some(fault.next().code()),
        _ => None,
    }
}

fn of_answer(answer: &Answer, steps: &[&str]) -> Option<String> {
    match steps {
        ["quantity"] => Some(answer.quantity().code().into()),
        ["verdict"] => Some(answer.verdict().code().into()),
        ["expected"] => answer.expected(),
        ["slips", index] => {
            let slip = answer.slips().get(Pointer::index(index)?)?;
            Some(slip.code().into())
        }
        ["carried_from"] => Some(answer.carried_from()?.code().into()),
        _ => None,
    }
}

fn of_pool(pooled: &Pooled, name: &str) -> Option<Solved> {
    match name {
        "n" => Some(Solved::Number(i64::try_from(pooled.n()).ok()?.into())),
        "mean" => pooled.mean().cloned().map(Solved::Number),
        "median" => pooled.median().cloned().map(Solved::Number),
        _ => None,
    }
}
