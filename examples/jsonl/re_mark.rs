//! `re_mark`: what changes between two markings of a class.
//!
//! `before` and `after` are whole requests of `class` or `read_sheet`. Their `op` may be left out:
//! `rows` or `text` tells which it is. `weights` and `strict` beside them hold for both, where they
//! do not say otherwise themselves.

use effloresce::class::{MarkChanges, Marked};
use serde_json::value::RawValue;

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure};
use crate::{class, read_sheet};

/// How a class is marked that was sent in one way or the other.
type Marking = fn(&Object<'_>) -> Result<Marked, Failure>;

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    request.only(&[&["before", "after"], &options::ENVELOPE])?;
    // What is wrong with them is then told once, and where it stands.
    options::weights(request)?;
    options::strict(request)?;
    let marked = |field| {
        request.required(field, |value| {
            let mut class = value.object()?;
            class.inherit(request, &["weights", "strict"]);
            operation(&class)?(&class)
        })
    };
    reply::result(&MarkChanges::between(&marked("before")?, &marked("after")?))
}

fn operation(class: &Object<'_>) -> Result<Marking, Failure> {
    let named = class.optional("op", |value| {
        value.choice::<Marking>(&[("class", class::marked), ("read_sheet", read_sheet::marked)])
    })?;
    match (named, class.has("rows"), class.has("text")) {
        (Some(named), ..) => Ok(named),
        (None, true, false) => Ok(class::marked),
        (None, false, true) => Ok(read_sheet::marked),
        (None, both, _) => Err(Failure::missing(
            "op",
            if both {
                "`rows` and `text` are two classes, and `op` does not tell which is meant"
            } else {
                "there is no class here: neither `rows` nor `text`"
            },
        )
        .help("give a whole request of `class` (with `rows`) or of `read_sheet` (with `text`)")),
    }
}
