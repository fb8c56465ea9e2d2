//! `plan`: how much each bench of a class should weigh out.

use effloresce::number::Unit;

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The most benches that the library takes.
const MOST_BENCHES: u32 = 10_000;

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[
        &[
            "issued",
            "salt",
            "readability",
            "benches",
            "spare",
            "residue",
            "repeatability",
            "coverage",
        ],
        &options::ENVELOPE,
    ])?;
    let method = options::uncertainty_rules(request)?;
    let readability = request.required("readability", options::readability)?;
    let missing = Failure::missing("issued", "the hydrate is missing");
    let help = "give `issued`, or `salt` for its commonest hydrate";
    let field = request.one_of(&["issued", "salt"], missing, help)?;
    let (formula, notes) = options::formula_or_name(request, field)?;
    let plan = match field {
        "issued" => method.plan(&formula, readability),
        _ => method.plan_salt(&formula, readability),
    };
    let plan = plan.map_err(|error| options::with_field(error, field, "readability"))?;
    let plan = request.set("benches", plan, |plan, value| {
        Ok(plan.benches(value.count(1, MOST_BENCHES)?)?)
    })?;
    let plan = request.set("spare", plan, |plan, value| {
        Ok(plan.spare(value.quantity_in(Unit::Percent)?.value())?)
    })?;
    Ok(reply::result(plan.with_notes(notes)))
}
