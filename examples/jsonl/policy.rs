//! The field `policy`: how a teacher gives marks.
//!
//! `{"step": 1 | 0.5, "marks": {quantity: n}, "figures": "ignore" | "remark" | "one_mark",
//! "formula": "bench" | "own_ratio", "accuracy": [{"within_percent", "marks"}], "priors": {fault: probability}, "issued_percent_water",
//! "tolerance": {quantity: {"absolute"} | {"percent"} | {"nearest": "whole"} |
//! {"bands": [{"within", "marks"}]} | {"percent_bands": [{"within_percent", "marks"}]}}}`, every field
//! optional. A tolerance replaces the defensible range of its quantity, as in the library's policies
//! in TOML.

use effloresce::Reading;
use effloresce::class::{Band, MarkStep, Marks, Policy, Stock, Tolerance};
use effloresce::gravimetry::Quantity;
use effloresce::mistake::Fault;
use effloresce::number::Unit;

use crate::json::{Json, Object};
use crate::reply::{Failure, shorten};

/// The largest number of marks that is read. The library has its own limit.
const MOST_MARKS: u32 = 100;

/// The largest number of bands that is read. The library has its own limit.
const MOST_BANDS: usize = 20;

/// The policy of a request, or the default one.
pub(crate) fn read(request: &Object<'_>) -> Result<Policy, Failure> {
    let policy = request.optional("policy", |value| policy(&value.object()?))?;
    Ok(policy.unwrap_or_default())
}

fn policy(given: &Object<'_>) -> Result<Policy, Failure> {
    given.only(&[&[
        "step",
        "marks",
        "figures",
        "formula",
        "accuracy",
        "priors",
        "issued_percent_water",
        "tolerance",
    ]])?;
    // Marks are checked by the step.
    let mut policy = given.set("step", Policy::new(), |policy, value| {
        Ok(policy.step(step(value)?)?)
    })?;
    policy = by_quantity(given, "marks", policy, |policy, quantity, value| {
        Ok(policy.marks(quantity, marks(value)?)?)
    })?;
    policy = by_quantity(given, "tolerance", policy, |policy, quantity, value| {
        Ok(policy.tolerance(quantity, tolerance(&value.object()?)?)?)
    })?;
    policy = given.set("figures", policy, |policy, value| {
        Ok(policy.figures(value.code()?))
    })?;
    policy = given.set("formula", policy, |policy, value| {
        Ok(policy.formula(value.code()?))
    })?;
    policy = given.set("accuracy", policy, |policy, value| {
        Ok(policy.accuracy(bands(value, "within_percent")?)?)
    })?;
    policy = given.set("priors", policy, |policy, value| {
        let faults = value.object()?;
        faults.only(&[&Fault::ALL.map(Fault::code)])?;
        let priors = Fault::ALL.into_iter().filter_map(|fault| {
            let prior = faults.optional(fault.code(), Json::quantity).transpose()?;
            Some(prior.map(|prior| (fault, prior)))
        });
        Ok(policy.priors(priors.collect::<Result<Vec<_>, Failure>>()?)?)
    })?;
    given.set("issued_percent_water", policy, |policy, value| {
        Ok(policy.stock(Stock::PercentWater(percent_water(value)?)))
    })
}

/// The smallest difference of marks: 1 or 0.5.
fn step(value: Json<'_>) -> Result<MarkStep, Failure> {
    let size = value.quantity()?;
    MarkStep::of_size(&size.value()).ok_or_else(|| {
        let size = shorten(&size.to_string());
        let message = format!("marks cannot be given in steps of {size}");
        Failure::new("out_of_range", message).help("give 1 for whole marks or 0.5 for half marks")
    })
}

/// A number of marks, whole or with a half.
fn marks(value: Json<'_>) -> Result<Marks, Failure> {
    let whole = value
        .raw()
        .strip_suffix(".5")
        .and_then(|whole| whole.parse().ok());
    match whole.filter(|whole: &u32| *whole < MOST_MARKS) {
        Some(whole) => Ok(Marks::from(whole) + Marks::from_halves(1)),
        None => {
            let count = value.count(0, MOST_MARKS).map_err(|failure| {
                failure.help(format!(
                    "write a whole number between 0 and {MOST_MARKS} without quotes, or a half such as 1.5 \
                     with a `step` of 0.5"
                ))
            })?;
            Ok(count.into())
        }
    }
}

/// Changes a policy by an object whose keys are quantities.
fn by_quantity<'a>(
    given: &Object<'a>,
    field: &str,
    policy: Policy,
    set: impl Fn(Policy, Quantity, Json<'a>) -> Result<Policy, Failure>,
) -> Result<Policy, Failure> {
    given.set(field, policy, |policy, value| {
        let quantities = value.object()?;
        quantities.only(&[&Quantity::ALL.map(Quantity::code)])?;
        Quantity::ALL
            .into_iter()
            .try_fold(policy, |policy, quantity| {
                let set = |policy, value| set(policy, quantity, value);
                quantities.set(quantity.code(), policy, set)
            })
    })
}

fn tolerance(given: &Object<'_>) -> Result<Tolerance, Failure> {
    const KINDS: [&str; 5] = ["absolute", "percent", "nearest", "bands", "percent_bands"];
    const HELP: &str = "give one of `absolute`, `percent`, `nearest`, `bands` and `percent_bands`";
    given.only(&[&KINDS])?;
    let missing = Failure::new("bad_request", "the tolerance is empty");
    let kind = given.one_of(&KINDS, missing, HELP)?;
    given.required(kind, |value| {
        Ok(match kind {
            "absolute" => Tolerance::Absolute(value.quantity()?),
            "percent" => Tolerance::RelativePercent(value.quantity_in(Unit::Percent)?),
            "nearest" => value
                .choice(&[("whole", ())])
                .map(|()| Tolerance::NearestWhole)?,
            "bands" => Tolerance::Bands(bands(value, "within")?),
            _ => Tolerance::PercentBands(bands(value, "within_percent")?),
        })
    })
}

/// Bands, whose widths are in the field that `within` names.
fn bands(value: Json<'_>, within: &str) -> Result<Vec<Band>, Failure> {
    value.list(MOST_BANDS, |band| {
        let band = band.object()?;
        band.only(&[&[within, "marks"]])?;
        Ok(Band::new(
            band.required(within, Json::quantity)?,
            band.required("marks", marks)?,
        ))
    })
}

/// The water content of the stock, in per cent.
fn percent_water(value: Json<'_>) -> Result<Reading, Failure> {
    let percent = value.quantity_in(Unit::Percent)?;
    let number = percent.value();
    if number.is_positive() && number < 100.into() {
        return Ok(percent);
    }
    Err(Failure::new(
        "out_of_range",
        format!(
            "a hydrate cannot hold {} % of water",
            shorten(&percent.to_string())
        ),
    )
    .help("give a percentage between 0 and 100"))
}
