//! `re_mark`: the changes between two markings of a class.
//!
//! `before` and `after` are whole requests of `class` or `read_sheet`. Their `op` may be left out,
//! because `rows` or `text` shows which it is. `weights` and `strict` of the outer request hold for
//! both, unless they have their own.

use effloresce::class::{MarkChanges, Marked};
use serde_json::value::RawValue;

use crate::json::Object;
use crate::options;
use crate::reply::{self, Failure};
use crate::{class, read_sheet};

/// A function that marks the class of a request.
type MarkClass = fn(&Object<'_>) -> Result<Marked, Failure>;

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    request.only(&[&["before", "after"], &options::ENVELOPE])?;
    // An error in them is reported as that of the outer request.
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

fn operation(class: &Object<'_>) -> Result<MarkClass, Failure> {
    let named = class.optional("op", |value| {
        value.choice::<MarkClass>(&[("class", class::marked), ("read_sheet", read_sheet::marked)])
    })?;
    match (named, class.has("rows"), class.has("text")) {
        (Some(named), ..) => Ok(named),
        (None, true, false) => Ok(class::marked),
        (None, false, true) => Ok(read_sheet::marked),
        (None, both, _) => Err(Failure::missing(
            "op",
            if both {
                "`rows` and `text` are two classes, and `op` is missing"
            } else {
                "there is no class: `rows` and `text` are missing"
            },
        )
        .help("give a whole request of `class` (with `rows`) or of `read_sheet` (with `text`)")),
    }
}
