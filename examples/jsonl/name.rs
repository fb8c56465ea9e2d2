//! `name`: names of ionic salts and their hydrates, from a name or from a formula.

use std::borrow::Cow;

use effloresce::Formula;
use effloresce::formula::{Error, HydrateName};
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure};

struct Request<'a> {
    from: From<'a>,
    strict: bool,
}

enum From<'a> {
    Name(Cow<'a, str>),
    Formula(Cow<'a, str>),
}

impl<'a> Request<'a> {
    fn read(request: &Object<'a>) -> Result<Self, Failure> {
        request.only(&[&["name", "formula"], &options::ENVELOPE])?;
        let name = request.optional("name", Json::text)?;
        let formula = request.optional("formula", Json::text)?;
        // No mass is worked out, but a table that cannot be read is still an error.
        options::weights(request)?;
        Ok(Request {
            from: match (name, formula) {
                (Some(name), None) => From::Name(name),
                (None, Some(formula)) => From::Formula(formula),
                (None, None) => {
                    return Err(Failure::missing("name", "nothing says what to name")
                        .help("give one of `name` and `formula`"));
                }
                (Some(_), Some(_)) => {
                    return Err(Failure::new(
                        "bad_request",
                        "a name and a formula are two questions",
                    )
                    .help("give one of `name` and `formula`"));
                }
            },
            strict: options::strict(request)?,
        })
    }
}

impl From<'_> {
    fn field(&self) -> &'static str {
        match self {
            From::Name(_) => "name",
            From::Formula(_) => "formula",
        }
    }

    fn named(&self, strict: bool) -> Result<HydrateName, Error> {
        let (formula, notes) = match self {
            From::Name(name) => Formula::from_name(name)?,
            From::Formula(formula) if strict => (formula.parse()?, Vec::new()),
            From::Formula(formula) => Formula::read(formula)?,
        };
        Ok(formula.name()?.with_notes(notes))
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let from = &request.from;
    let named = from.named(request.strict);
    reply::result(&named.map_err(|error| Failure::from(error).within(from.field()))?)
}
