//! `statistics`: centre, spread, the interval of the mean and the outliers of a list of values, or
//! the interval from a summary of one.

use effloresce::Ratio;
use effloresce::class::Statistics;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The limits of the library: the number of values in a list, and in a summary.
const MOST_VALUES: usize = 10_000;
const MOST_SUMMARISED: u32 = 1_000_000;

/// The level of confidence if the request gives none.
const DEFAULT_LEVEL: f64 = 0.95;

const SUMMARY: [&str; 3] = ["mean", "sd", "n"];
const HELP: &str = "give `values`, or `mean`, `sd` and `n`";

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["values", "level"], &SUMMARY, &options::ENVELOPE])?;
    let values = request.optional("values", |list| list.list(MOST_VALUES, decimal))?;
    let level = request.optional("level", level)?.unwrap_or(DEFAULT_LEVEL);
    let summary = SUMMARY.iter().find(|name| request.has(name));
    let statistics = match (values, summary) {
        (Some(_), Some(name)) => {
            let message = "the summary follows from the values, so only one of the two is read";
            return Err(Failure::new("bad_request", message).within(name).help(HELP));
        }
        (Some(values), None) if values.is_empty() => {
            return Err(Failure::new("bad_request", "the list is empty")
                .within("values")
                .help("give at least one value"));
        }
        (Some(values), None) => Statistics::of(&values, level),
        (None, None) => {
            return Err(Failure::missing("values", "there are no values").help(HELP));
        }
        (None, Some(_)) => {
            let mean = request.required("mean", decimal)?;
            let sd = request.required("sd", standard_deviation)?;
            let n = request.required("n", |n| n.count(2, MOST_SUMMARISED))?;
            let n = usize::try_from(n).unwrap_or(usize::MAX);
            Statistics::from_summary(mean, sd, n, level)
        }
    };
    // The values have been checked, so that only the level can be wrong.
    Ok(reply::result(
        statistics.map_err(|error| Failure::from(error).within("level"))?,
    ))
}

/// A number in decimals. Fractions are not read here: the sum of many long ones would be longer
/// than any reply.
fn decimal(value: Json<'_>) -> Result<Ratio, Failure> {
    Ok(value.quantity()?.value())
}

fn level(value: Json<'_>) -> Result<f64, Failure> {
    let level = decimal(value)?;
    let nearest = level.to_f64();
    if nearest >= 1.0 && level < 1.into() {
        // The library would see 1, which is not what was sent.
        let message = format!("{level} is too high for a level of confidence");
        let failure = Failure::new("out_of_range", message);
        return Err(failure.help("give a number above 0 and at most 0.999999, usually 0.95"));
    }
    Ok(nearest)
}

fn standard_deviation(value: Json<'_>) -> Result<f64, Failure> {
    let sd = decimal(value)?;
    if sd.is_negative() {
        let message = format!("{sd} is not a standard deviation");
        return Err(Failure::new("out_of_range", message)
            .help("give a number that is not negative, such as 0.037"));
    }
    Ok(sd.to_f64())
}
