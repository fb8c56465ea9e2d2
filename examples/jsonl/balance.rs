//! `balance`: the coefficients of an equation, or why it has none or several.

use std::borrow::Cow;

use effloresce::reaction::{self, Balancer, Equation, Species};
use effloresce::{Formula, Note, Ratio};
use serde::Serialize;
use serde_json::value::RawValue;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, shown};

/// A reply is at most 20 kB longer than its request; this leaves room for the envelope.
pub(crate) const MOST_LONGER: usize = 18_000;

struct Request<'a> {
    equation: Cow<'a, str>,
    strict: bool,
    fixed: Vec<(String, Formula, Ratio)>,
}

#[derive(Serialize)]
struct Answer {
    balanced: String,
    coefficients: Vec<Box<RawValue>>,
    species: Vec<String>,
    as_written: Option<Written>,
    notes: Vec<Note>,
}

/// What the coefficients written in the request come to.
#[derive(Serialize)]
struct Written {
    balanced: bool,
    off: Vec<Off>,
}

#[derive(Serialize)]
struct Off {
    what: String,
    reactants: String,
    products: String,
}

impl<'a> Request<'a> {
    fn read(request: &Object<'a>) -> Result<Self, Failure> {
        request.only(&[&["equation", "fixed"], &options::ENVELOPE])?;
        // Nothing is weighed, but a table that cannot be read is still an error.
        options::weights(request)?;
        let strict = options::strict(request)?;
        let fixed = request.optional("fixed", |value| fixed(&value.object()?, strict))?;
        Ok(Request {
            equation: request.required("equation", Json::text)?,
            strict,
            fixed: fixed.unwrap_or_default(),
        })
    }

    fn equation(&self) -> Result<(Equation, Vec<Note>), Failure> {
        let read = match self.strict {
            true => self.equation.parse().map(|equation| (equation, Vec::new())),
            false => Equation::read(&self.equation),
        };
        read.map_err(|error| Failure::from(error).within("equation"))
    }
}

fn fixed(object: &Object<'_>, strict: bool) -> Result<Vec<(String, Formula, Ratio)>, Failure> {
    let each = object.members().map(|(name, value)| {
        let one = || -> Result<(Formula, Ratio), Failure> {
            let formula = match strict {
                true => name.parse()?,
                false => Formula::read(name)?.0,
            };
            Ok((formula, value.number()?))
        };
        let (formula, count) = one().map_err(|failure| failure.within(&shown(name)))?;
        Ok((name.to_owned(), formula, count))
    });
    each.collect()
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let (equation, notes) = request.equation()?;
    let longest = request.equation.len() + MOST_LONGER;
    let mut balance = Balancer::of(&equation);
    for (name, formula, count) in &request.fixed {
        let fixed = balance.fix(formula, count.clone());
        balance =
            fixed.map_err(|error| Failure::from(error).within(&shown(name)).within("fixed"))?;
    }
    let balanced = balance.run().map_err(|error| refused(&error, longest))?;
    let species = equation.species().iter();
    let answer = Answer {
        balanced: equation.with(&balanced).to_string(),
        coefficients: whole(balanced.coefficients())?,
        species: species.map(Species::name).collect(),
        as_written: written(&equation)?,
        notes,
    };
    let result = reply::result(&answer)?;
    match result.get().len() <= longest {
        true => Ok(result),
        false => Err(Failure::new(
            "too_large",
            "the balanced equation is too long to be written back",
        )
        .within("equation")
        .help("send an equation of fewer or shorter species")),
    }
}

/// Whole numbers as JSON writes them, however long they are.
fn whole(numbers: &[Ratio]) -> Result<Vec<Box<RawValue>>, Failure> {
    let each = numbers.iter().map(|number| {
        RawValue::from_string(number.to_string())
            .map_err(|_| Failure::new("out_of_range", format!("{number} is no whole number")))
    });
    each.collect()
}

/// `None` where no coefficient was written, so that there is nothing to check.
fn written(equation: &Equation) -> Result<Option<Written>, Failure> {
    let mut species = equation.species().iter();
    if !species.any(|one| one.coefficient().is_some()) {
        return Ok(None);
    }
    let checked = equation.check()?;
    let off = checked.off().map(|total| Off {
        what: total.what().to_string(),
        reactants: total.left().to_plain(),
        products: total.right().to_plain(),
    });
    Ok(Some(Written {
        balanced: checked.is_balanced(),
        off: off.collect(),
    }))
}

/// An equation without one balance, with its reasons and its basis as far as there is room.
pub(crate) fn refused(error: &reaction::Error, longest: usize) -> Failure {
    let given = |note: &Note| matches!(note.code(), "fixed" | "fraction");
    let field = match error.reasons().iter().any(given) {
        true => "fixed",
        false => "equation",
    };
    let basis: Result<Vec<_>, Failure> = error.basis().iter().map(|one| whole(one)).collect();
    let failure = Failure::from(error.clone()).within(field);
    failure.because(error.reasons(), basis.unwrap_or_default(), longest)
}
