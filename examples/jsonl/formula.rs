//! `formula`: what a formula is made of, what it weighs, and how it is written.

use std::borrow::Cow;

use effloresce::{AtomicWeights, Formula};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

struct Request<'a> {
    formula: Cow<'a, str>,
    weights: AtomicWeights,
    strict: bool,
}

impl<'a> Request<'a> {
    fn read(request: &Object<'a>) -> Result<Self, Failure> {
        request.only(&[&["formula"], &options::ENVELOPE])?;
        Ok(Request {
            formula: request.required("formula", Json::text)?,
            weights: options::weights(request)?,
            strict: options::strict(request)?,
        })
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let describe = || {
        let (formula, notes) = if request.strict {
            (request.formula.parse()?, Vec::new())
        } else {
            Formula::read(&request.formula)?
        };
        Ok(formula.describe(&request.weights)?.with_notes(notes))
    };
    let description = describe()
        .map_err(|error: effloresce::formula::Error| Failure::from(error).within("formula"))?;
    reply::result(&description)
}
