//! `round`: a value to figures, to places or to a step, by either tie rule.

use effloresce::Ratio;
use effloresce::number::{Rounded, TieRule};
use serde::Serialize;
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

/// As many figures or places as anybody writes.
const MOST_DIGITS: u32 = 100;

struct Request {
    value: Ratio,
    to: To,
    ties: TieRule,
}

enum To {
    Figures(u32),
    Places(u32),
    Step(Ratio),
}

#[derive(Serialize)]
struct Answer {
    rounded: String,
    ties_differ: bool,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[
            &["value", "figures", "places", "step", "ties"],
            &options::ENVELOPE,
        ])?;
        let figures = request.optional("figures", |n| n.count(1, MOST_DIGITS))?;
        let places = request.optional("places", |n| n.count(0, MOST_DIGITS))?;
        let step = request.optional("step", Json::number)?;
        let ties = request.optional("ties", |word| {
            word.choice(&[("even", TieRule::Even), ("away", TieRule::AwayFromZero)])
        })?;
        Ok(Request {
            value: request.required("value", Json::number)?,
            to: match (figures, places, step) {
                (Some(figures), None, None) => To::Figures(figures),
                (None, Some(places), None) => To::Places(places),
                (None, None, Some(step)) => To::Step(step),
                (None, None, None) => {
                    return Err(Failure::missing("figures", "nothing says where to round")
                        .help("give one of `figures`, `places` and `step`"));
                }
                _ => {
                    return Err(Failure::new(
                        "bad_request",
                        "a value is rounded to figures, to places or to a step, not to several",
                    )
                    .help("give one of `figures`, `places` and `step`"));
                }
            },
            ties: ties.unwrap_or_default(),
        })
    }

    fn rounded(&self) -> Result<Rounded, Failure> {
        match &self.to {
            To::Figures(figures) => Ok(self.value.to_figures(*figures, self.ties)),
            To::Places(places) => Ok(self
                .value
                .to_decimal_places(i32::try_from(*places).unwrap_or(0), self.ties)),
            To::Step(step) => step
                .is_positive()
                .then(|| self.value.to_multiple(step, self.ties))
                .flatten()
                .ok_or_else(|| {
                    Failure::new("out_of_range", format!("{step} is no step to round to"))
                        .within("step")
                        .help("give a decimal above 0, such as 0.002")
                }),
        }
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let rounded = Request::read(request)?.rounded()?;
    reply::result(&Answer {
        rounded: rounded.to_string(),
        ties_differ: rounded.ties_differ(),
    })
}
