//! `round`: a value rounded to significant figures, to decimal places or to a step, by either tie
//! rule.

use effloresce::Ratio;
use effloresce::number::{Rounded, TieRule};
use serde::Serialize;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The largest number of figures or decimal places.
const MOST_DIGITS: u32 = 100;

const HELP: &str = "give one of `figures`, `places` and `step`";

#[derive(Serialize)]
struct Answer {
    rounded: String,
    ties_differ: bool,
}

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[
        &["value", "figures", "places", "step", "ties"],
        &options::ENVELOPE,
    ])?;
    let figures = request.optional("figures", |n| n.count(1, MOST_DIGITS))?;
    let decimal_places = request.optional("places", |n| n.count(0, MOST_DIGITS))?;
    let step = request.optional("step", Json::number)?;
    let ties: Option<TieRule> = request.optional("ties", Json::code)?;
    let ties = ties.unwrap_or_default();
    let value = request.required("value", Json::number)?;
    let rounded = match (figures, decimal_places, step) {
        (Some(figures), None, None) => value.to_figures(figures, ties),
        (None, Some(n), None) => value.to_places(i32::try_from(n).unwrap_or(0), ties),
        (None, None, Some(step)) => to_step(&value, &step, ties)?,
        (None, None, None) => {
            let message = "there is no `figures`, `places` or `step`";
            return Err(Failure::missing("figures", message).help(HELP));
        }
        _ => {
            let message = "several of `figures`, `places` and `step` are given";
            return Err(Failure::new("bad_request", message).help(HELP));
        }
    };
    Ok(reply::result(Answer {
        rounded: rounded.to_string(),
        ties_differ: rounded.ties_differ(),
    }))
}

fn to_step(value: &Ratio, step: &Ratio, ties: TieRule) -> Result<Rounded, Failure> {
    let positive = step.is_positive();
    let rounded = positive.then(|| value.to_multiple(step, ties)).flatten();
    rounded.ok_or_else(|| {
        let message = format!("{step} cannot be a step to round to");
        Failure::new("out_of_range", message)
            .within("step")
            .help("give a positive decimal, such as 0.002")
    })
}
