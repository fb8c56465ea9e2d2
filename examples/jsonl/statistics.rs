//! `statistics`: centre, spread, the interval of the mean and the outliers of a list of values, or
//! what follows from a summary of one.

use effloresce::Ratio;
use effloresce::class::Statistics;
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

/// As many values, and values summed up, as the library takes.
const MOST_VALUES: usize = 10_000;
const MOST_SUMMARISED: u32 = 1_000_000;

/// What is taken where no level is given.
const LEVEL: f64 = 0.95;

struct Request {
    data: Data,
    level: f64,
}

enum Data {
    Values(Vec<Ratio>),
    Summary { mean: Ratio, sd: f64, n: usize },
}

/// A quantity as decimals; a fraction may be long, and many long ones have no short sum.
fn decimal(value: Json<'_>) -> Result<Ratio, Failure> {
    Ok(value.quantity()?.value())
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[&["values", "mean", "sd", "n", "level"], &options::ENVELOPE])?;
        let values = request.optional("values", |list| list.list(MOST_VALUES, decimal))?;
        let level = request.optional("level", decimal)?;
        Ok(Request {
            data: match values {
                Some(values) => Data::values(request, values)?,
                None => Data::summary(request)?,
            },
            level: level.map_or(LEVEL, |level| level.to_f64()),
        })
    }

    fn work_out(self) -> Result<Statistics, Failure> {
        match self.data {
            Data::Values(values) => Statistics::of(&values, self.level),
            Data::Summary { mean, sd, n } => Statistics::from_summary(mean, sd, n, self.level),
        }
        // What is wrong with the values has been said: the level is left.
        .map_err(|error| Failure::from(error).within("level"))
    }
}

impl Data {
    fn values(request: &Object<'_>, values: Vec<Ratio>) -> Result<Data, Failure> {
        if let Some(name) = ["mean", "sd", "n"].iter().find(|name| request.has(name)) {
            return Err(
                Failure::new("bad_request", "the values say what their summary is")
                    .within(name)
                    .help("give `values`, or `mean`, `sd` and `n`"),
            );
        }
        if values.is_empty() {
            return Err(Failure::new("bad_request", "there is no value")
                .within("values")
                .help("give at least one value"));
        }
        Ok(Data::Values(values))
    }

    fn summary(request: &Object<'_>) -> Result<Data, Failure> {
        if !["mean", "sd", "n"].iter().any(|name| request.has(name)) {
            return Err(Failure::missing("values", "there is nothing to sum up")
                .help("give `values`, or `mean`, `sd` and `n`"));
        }
        let mean = request.required("mean", decimal)?;
        let sd = request.required("sd", |sd| {
            let sd = decimal(sd)?;
            if sd.is_negative() {
                return Err(
                    Failure::new("out_of_range", format!("{sd} is no standard deviation"))
                        .help("give a number that is not negative, such as 0.037"),
                );
            }
            Ok(sd.to_f64())
        })?;
        let n = request.required("n", |n| n.count(2, MOST_SUMMARISED))?;
        Ok(Data::Summary {
            mean,
            sd,
            n: usize::try_from(n).unwrap_or(usize::MAX),
        })
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    reply::result(&Request::read(request)?.work_out()?)
}
