//! `balance`: the coefficients of an equation, or why it has none or several.

use effloresce::reaction::{self, Balancer, Equation, Species};
use effloresce::{Note, Ratio};
use serde::Serialize;
use serde_json::value::RawValue;

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The most bytes by which the reasons and balances of a failure are longer than the equation. A reply
/// may be longer, because of its envelope.
pub(crate) const MOST_LONGER: usize = reply::MOST_LONGER - 2_000;

/// The largest number of species. The equation has the same limit in the library.
pub(crate) const MOST_SPECIES: usize = 64;

#[derive(Serialize)]
struct Answer {
    balanced: String,
    coefficients: Vec<Box<RawValue>>,
    species: Vec<String>,
    as_written: Option<AsWritten>,
    notes: Vec<Note>,
}

/// The check of the coefficients in the request.
#[derive(Serialize)]
struct AsWritten {
    balanced: bool,
    off: Vec<Off>,
}

#[derive(Serialize)]
struct Off {
    what: String,
    reactants: String,
    products: String,
}

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["equation", "fixed"], &options::ENVELOPE])?;
    // No mass is calculated here, but a table of weights must be readable everywhere.
    options::weights(request)?;
    let strict = options::strict(request)?;
    let (equation, notes) = options::equation(request)?;
    let longest = equation.text().len() + MOST_LONGER;
    let balancer = request.set("fixed", Balancer::of(&equation), |balancer, value| {
        value
            .object()?
            .fold(MOST_SPECIES, balancer, |balancer, name, value| {
                let (formula, _) = options::read_formula(name, strict)?;
                Ok(balancer.fix(&formula, value.number()?)?)
            })
    })?;
    let balanced = balancer
        .run()
        .map_err(|error| unbalanced(&error, longest))?;
    let species = equation.species().iter();
    let answer = Answer {
        balanced: equation.with(&balanced).to_string(),
        coefficients: integers(balanced.coefficients())?,
        species: species.map(Species::name).collect(),
        as_written: check(&equation)?,
        notes,
    };
    Ok(reply::result(answer))
}

/// Whole numbers of any length as JSON.
fn integers(numbers: &[Ratio]) -> Result<Vec<Box<RawValue>>, Failure> {
    let each = numbers.iter().map(|number| {
        RawValue::from_string(number.to_string())
            .map_err(|_| Failure::new("out_of_range", format!("{number} is not a whole number")))
    });
    each.collect()
}

/// The check of an equation; `None` if it has no coefficients.
fn check(equation: &Equation) -> Result<Option<AsWritten>, Failure> {
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
    Ok(Some(AsWritten {
        balanced: checked.is_balanced(),
        off: off.collect(),
    }))
}

/// The failure for an equation that has no balance or several, with its reasons and its basis.
pub(crate) fn unbalanced(error: &reaction::Error, longest: usize) -> Failure {
    let given = |note: &Note| matches!(note.code(), "fixed" | "fraction");
    let field = match error.reasons().iter().any(given) {
        true => "fixed",
        false => "equation",
    };
    let basis: Result<Vec<_>, Failure> = error.basis().iter().map(|one| integers(one)).collect();
    let failure = Failure::from(error.clone()).within(field);
    failure.with_balances(error.reasons(), basis.unwrap_or_default(), longest)
}
