//! `name`: names of ionic salts and their hydrates, from a name or from a formula.

use effloresce::Formula;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

const HELP: &str = "give one of `name` and `formula`";

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["name", "formula"], &options::ENVELOPE])?;
    // No mass is calculated here, but a table of weights must be readable everywhere.
    options::weights(request)?;
    let strict = options::strict(request)?;
    let name = request.optional("name", Json::text)?;
    let formula = request.optional("formula", Json::text)?;
    let (field, read) = match (name, formula) {
        (Some(name), None) => ("name", Formula::from_name(&name).map_err(Failure::from)),
        (None, Some(formula)) => ("formula", options::read_formula(&formula, strict)),
        (None, None) => {
            let message = "neither a name nor a formula is given";
            return Err(Failure::missing("name", message).help(HELP));
        }
        (Some(_), Some(_)) => {
            let message = "a name and a formula are two requests";
            return Err(Failure::new("bad_request", message).help(HELP));
        }
    };
    let named = read.and_then(|(formula, notes)| Ok(formula.name()?.with_notes(notes)));
    Ok(reply::result(named.map_err(|error| error.within(field))?))
}
