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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::field::Field;
    use crate::exercise::request::{Operation, Request};

    fn bench() -> Request {
        Request::new(Operation::Dehydration, &AtomicWeights::default())
            .with("salt", "MgSO4")
            .with("crucible", "21.352")
            .with("crucible_hydrate", "24.018")
            .with("heated", Field::list(["22.701", "22.656", "22.655"]))
    }

    #[test]
    fn values_are_found_where_the_contract_has_them() {
        let criterion = Field::object([("absolute", "0.002")]);
        let bench = bench()
            .with("constant_mass", criterion)
            .with("candidates", Field::list(["6", "7"]));
        for (pointer, text) in [
            ("/formula", "MgSO4·7H2O"),
            ("/nearest_formula", "MgSO4·7H2O"),
            ("/outcome", "resolved"),
            ("/constant_mass/reached", "true"),
            ("/candidates/0/formula", "MgSO4·6H2O"),
        ] {
            assert_eq!(bench.answer(pointer).unwrap(), Solved::Text(text.into()));
        }
        for (pointer, number) in [
            ("/hydrate_mass", "2.666"),
            ("/residue_mass", "1.303"),
            ("/water_mass", "1.363"),
            ("/nearest", "7"),
            ("/constant_mass/last_change", "-0.001"),
            ("/constant_mass/criterion", "0.002"),
            ("/candidates/1/waters", "7"),
        ] {
            let number = number.parse().unwrap();
            assert_eq!(bench.answer(pointer).unwrap(), Solved::Number(number));
        }
        for pointer in [
            "/ratio",
            "/percent_water",
            "/mol_salt",
            "/mol_water",
            "/candidates/1/expected_percent_water",
            "/candidates/1/expected_residue_mass",
        ] {
            let solved = bench.answer(pointer).unwrap();
            assert!(matches!(solved, Solved::Number(_)), "{pointer}");
        }
        for pointer in [
            "/candidates/2/waters",
            "/constant_mass/ratio",
            "/quantity",
            "ratio",
        ] {
            assert!(bench.answer(pointer).is_err(), "{pointer}");
        }
    }

    #[test]
    fn what_is_wrong_in_a_request_is_named() {
        let two_criteria = Field::object([("absolute", "0.002"), ("relative", "0.001")]);
        for (request, place) in [
            (bench().with("percent_water", "51.1"), "`percent_water`"),
            (bench().with("net", "tared"), "`net`"),
            (
                bench().with("constant_mass", two_criteria),
                "`constant_mass.relative`",
            ),
            (bench().with("weighing_used", "first"), "`weighing_used`"),
            (
                bench().with("candidates", Field::list(["seven"])),
                "`candidates[0]`",
            ),
            (bench().with("issued", "MgSO4·7H2O"), "`issued`"),
        ] {
            let error = request.answer("/ratio").unwrap_err();
            assert!(alloc::format!("{error}").starts_with(place), "{error}");
            assert!(error.help().is_some());
        }
    }
}
