//! The errors of a problem at its last entries, as far as what is entered tells them.

use core::mem::discriminant;

use super::builder::EntryBuilder;
use crate::qti::answer;
use crate::qti::entry::{EntryAnswer, ShownBy};

impl EntryBuilder<'_> {
    /// Adds the errors of the problem to the entries from this index on.
    pub(super) fn name_errors(&mut self, first: usize) {
        let (problem, comma) = (self.problem, self.comma);
        // One count does not tell an error from a slip.
        let entries = self.entries.iter_mut().skip(first);
        for entry in entries.filter(|entry| !entry.label.starts_with("atoms of ")) {
            if let EntryAnswer::Choice(choice) = &entry.answer {
                entry.errors = answer::errors(problem, |_, option| {
                    let mut options = choice.options.iter();
                    let at = options.position(|shown| shown == option.text())?;
                    Some(ShownBy::Chosen(at))
                });
                continue;
            }
            let whole = answer::entry(problem, comma);
            if discriminant(&whole.answer) == discriminant(&entry.answer) {
                entry.errors = whole.errors;
            }
        }
    }
}
