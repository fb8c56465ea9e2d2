//! `exercise`: problems from a seed, with their answers, their options and the requests that solve them.

use effloresce::exercise::{self, ExerciseSet, Exercises, Kind, Level};
use effloresce::{Formula, Note};
use serde::Serialize;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The largest number of kinds that take turns.
const MOST_KINDS: usize = 100;

/// The largest number of salts to take or to avoid.
const MOST_SALTS: usize = 200;

/// The largest number of problems that the library makes.
const MOST_PROBLEMS: u32 = 10_000;

/// The most bytes of a reply for each problem. A class sheet with its marks is the longest.
const MOST_A_PROBLEM: usize = 16_000;

/// The problems, and what was noted about the names of salts.
#[derive(Serialize)]
struct NotedSet {
    #[serde(flatten)]
    set: ExerciseSet,
    notes: Vec<Note>,
}

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[
        &[
            "kind",
            "kinds",
            "seed",
            "level",
            "count",
            "salts",
            "avoid",
            "readability",
            "decimal_mark",
        ],
        &options::ENVELOPE,
    ])?;
    let kinds = kinds(request)?;
    let exercises = Exercises::new(request.required("seed", Json::seed)?)
        .kinds(kinds)
        .weights(options::weights(request)?);
    let exercises = request.set("level", exercises, |exercises, value| {
        Ok(exercises.level(Level::new(value.count(1, 3)?)?))
    })?;
    let mut notes = Vec::new();
    let taken = salts(request, "salts", &mut notes)?;
    let avoided = salts(request, "avoid", &mut notes)?;
    let exercises = exercises.salts(taken).avoid(avoided);
    let exercises = request.set("readability", exercises, |exercises, value| {
        Ok(exercises.readability(value.mass()?)?)
    })?;
    let exercises = request.set("decimal_mark", exercises, |exercises, value| {
        let comma =
            value.choice(&[(".", false), (",", true), ("point", false), ("comma", true)])?;
        Ok(match comma {
            true => exercises.decimal_comma(),
            false => exercises,
        })
    })?;
    let count = request.optional("count", |value| value.count(1, MOST_PROBLEMS))?;
    let count = count.unwrap_or(1) as usize;
    let set = exercises.set(count);
    let set = set.map_err(|error| with_field(error, request))?;
    Ok(reply::of_list(
        count,
        MOST_A_PROBLEM,
        NotedSet { set, notes },
    ))
}

fn kinds(request: &Object<'_>) -> Result<Vec<Kind>, Failure> {
    let missing = Failure::missing("kind", "the kind of problem is missing");
    let help = "give `kind`, such as \"percent_water\", or `kinds` for several in turn";
    match request.one_of(&["kind", "kinds"], missing, help)? {
        "kind" => Ok(vec![request.required("kind", Json::code)?]),
        _ => {
            let kinds = request.required("kinds", |value| value.list(MOST_KINDS, Json::code))?;
            match kinds.is_empty() {
                true => Err(Failure::missing("kinds", "the list of kinds is empty").help(help)),
                false => Ok(kinds),
            }
        }
    }
}

/// The salts in a field, as formulas or names.
fn salts(
    request: &Object<'_>,
    field: &str,
    notes: &mut Vec<Note>,
) -> Result<Vec<Formula>, Failure> {
    let strict = options::strict(request)?;
    let salts = request.optional(field, |value| {
        value.list(MOST_SALTS, |salt| {
            let (formula, more) = options::read_formula_or_name(&salt.text()?, strict)?;
            notes.extend(more);
            Ok(formula)
        })
    })?;
    Ok(salts.unwrap_or_default())
}

/// The failure, with the field that the error is about.
fn with_field(error: exercise::Error, request: &Object<'_>) -> Failure {
    use exercise::ErrorKind::{Exhausted, Level, Readability, UnknownSalt};
    let field = match error.kind() {
        Level => Some("level"),
        Readability => Some("readability"),
        Exhausted | UnknownSalt if request.has("salts") => Some("salts"),
        Exhausted | UnknownSalt => Some("avoid"),
        _ => None,
    };
    Failure::from(error).within_any(field)
}
