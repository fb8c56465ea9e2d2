//! `re_mark`: the changes between two markings of a class.
//!
//! `before` and `after` are whole requests of `class` or `read_sheet`. Their `op` may be left out,
//! because `rows` or `text` shows which it is. `weights` and `strict` of the outer request hold for
//! both, unless they have their own.

use effloresce::class::MarkChanges;

use crate::json::{Object, refuse_more};
use crate::marking::Class;
use crate::options;
use crate::reply::{self, Failure, Reply};
use crate::{class, read_sheet};

/// A function that reads the class of a request.
type ReadClass = fn(&Object<'_>) -> Result<Class, Failure>;

/// The largest number of rows of a class: both classes are held whole, at some 10 kB a row.
const MOST_ROWS: usize = 1_000;

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["before", "after"], &options::ENVELOPE])?;
    // An error in them is reported as that of the outer request.
    options::weights(request)?;
    options::strict(request)?;
    let read = |field| {
        request.required(field, |value| {
            let mut class = value.object()?;
            class.inherit(request, &["weights", "strict"]);
            let class = operation(&class)?(&class)?;
            refuse_more(MOST_ROWS, class.rows(), "rows")?;
            Ok(class)
        })
    };
    let (before, after) = (read("before")?, read("after")?);
    let rows = before.rows().max(after.rows());
    let changes = MarkChanges::between(&before.marked(), &after.marked());
    // What is noted about both is said once.
    let notes = after
        .notes
        .iter()
        .filter(|note| !before.notes.contains(note));
    let notes: Vec<_> = before.notes.iter().chain(notes).cloned().collect();
    Ok(reply::of_class(rows, changes.with_notes(notes)))
}

fn operation(class: &Object<'_>) -> Result<ReadClass, Failure> {
    let named = class.optional("op", |value| {
        value.choice::<ReadClass>(&[("class", class::read), ("read_sheet", read_sheet::read)])
    })?;
    match (named, class.has("rows"), class.has("text")) {
        (Some(named), ..) => Ok(named),
        (None, true, false) => Ok(class::read),
        (None, false, true) => Ok(read_sheet::read),
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
