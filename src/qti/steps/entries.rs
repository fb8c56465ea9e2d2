//! The entries of a problem: one or more for each step of its working.

use alloc::vec::Vec;

use super::builder::EntryBuilder;
use crate::exercise::Exercise;
use crate::qti::answer;
use crate::qti::entry::ItemEntry;

/// Returns the entries of a problem of several steps, and one entry if its steps do not lead to its answer or give
/// nothing but that.
pub(in crate::qti) fn entries(problem: &Exercise, comma: bool) -> Vec<ItemEntry<'_>> {
    let mut builder = EntryBuilder::new(problem, comma);
    let mut first_of_last = None;
    if let [earlier @ .., last] = problem.working().steps() {
        let all = earlier.iter().map(|step| (step, false));
        for (step, is_last) in all.chain([(last, true)]) {
            let before = builder.entries.len();
            let made = match step.relation() {
                "so" => builder.concluded(step, is_last),
                _ => builder.calculated(step, is_last).map(|_| ()),
            };
            if made.is_none() {
                builder.entries.truncate(before);
                builder.forget(before);
            }
            let is_answer = is_last && made.is_some() && builder.entries.len() > before;
            first_of_last = is_answer.then_some(before);
        }
    }
    // The name of an only step may tell what the problem asks to find out.
    let is_only_number = builder.entries.len() == 1 && problem.tolerance().is_some();
    match first_of_last.filter(|_| !is_only_number) {
        Some(first) => {
            builder.name_errors(first);
            builder.entries
        }
        None => Vec::from([answer::entry(problem, comma)]),
    }
}
