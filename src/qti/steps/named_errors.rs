//! The errors of a problem at its last entries, as far as what is entered tells them.

use alloc::vec::Vec;
use core::mem::discriminant;

use super::builder::EntryBuilder;
use crate::exercise::Choice;
use crate::qti::answer;
use crate::qti::entry::{ChoiceAnswer, EntryAnswer, NamedError, ShownBy};

impl EntryBuilder<'_> {
    /// Adds the errors of the problem to the entries from this index on.
    pub(super) fn name_errors(&mut self, first: usize) {
        let wrong = self.problem.options().iter();
        let wrong: Vec<&Choice> = wrong
            .filter(|option| option.wrong_step().is_some())
            .collect();
        for entry in self.entries.iter_mut().skip(first) {
            // One count does not tell an error from a slip.
            if entry.label.starts_with("atoms of ") {
                continue;
            }
            let shown = match &entry.answer {
                EntryAnswer::Choice(choice) => by_choice(choice, &wrong),
                _ => {
                    let whole = answer::entry(self.problem, self.comma);
                    let are_alike = discriminant(&whole.answer) == discriminant(&entry.answer);
                    if are_alike {
                        entry.errors = whole.errors;
                    }
                    continue;
                }
            };
            for (wrong, shown_by) in wrong.iter().zip(shown) {
                if let (Some(code), Some(shown_by)) = (wrong.wrong_step(), shown_by) {
                    entry.errors.push(NamedError {
                        code: code.into(),
                        feedback: wrong.feedback().into(),
                        shown_by,
                    });
                }
            }
        }
    }
}

/// The option that each wrong answer is.
fn by_choice(choice: &ChoiceAnswer<'_>, wrong: &[&Choice]) -> Vec<Option<ShownBy>> {
    let chosen = wrong.iter().map(|wrong| {
        let mut options = choice.options.iter();
        let at = options.position(|option| option == wrong.text())?;
        Some(ShownBy::Chosen(at))
    });
    chosen.collect()
}
