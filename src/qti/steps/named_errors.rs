//! The errors of a problem at its last entries, as far as what is entered tells them.

use alloc::vec::Vec;
use core::mem::discriminant;

use super::builder::EntryBuilder;
use crate::exercise::Choice;
use crate::formula::Formula;
use crate::number::Ratio;
use crate::qti::answer;
use crate::qti::entry::{ChoiceAnswer, EntryAnswer, ItemEntry, NamedError, NumberAnswer, ShownBy};

impl EntryBuilder<'_> {
    /// Adds the errors of the problem to the entries from this index on.
    pub(super) fn name_errors(&mut self, first: usize) {
        let wrong = self.problem.options().iter();
        let wrong: Vec<&Choice> = wrong
            .filter(|option| option.wrong_step().is_some())
            .collect();
        for entry in self.entries.iter_mut().skip(first) {
            let shown = match (&entry.answer, element_of(entry)) {
                (EntryAnswer::Number(number), Some(element)) => by_count(number, &wrong, &element),
                (EntryAnswer::Choice(choice), _) => by_choice(choice, &wrong),
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

/// The element that an entry counts.
fn element_of(entry: &ItemEntry<'_>) -> Option<Formula> {
    let (element, _) = entry.label.strip_prefix("atoms of ")?.split_once(' ')?;
    element.parse().ok()
}

/// How many atoms of an element a formula has.
fn atoms(formula: &str, element: &Formula) -> Option<Ratio> {
    let (formula, _) = Formula::read(formula).ok()?;
    let composition = element.composition().ok()?;
    let (atom, _) = composition.iter().next()?;
    Some(formula.composition().ok()?.count(atom))
}

/// The counts of each wrong formula, if no other formula has the same.
fn by_count(
    number: &NumberAnswer<'_>,
    wrong: &[&Choice],
    element: &Formula,
) -> Vec<Option<ShownBy>> {
    let counts = wrong.iter().map(|wrong| atoms(wrong.text(), element));
    let counts: Vec<Option<Ratio>> = counts.collect();
    let alone = |own: &Ratio| {
        let others = counts.iter().flatten();
        others.filter(|other| *other == own).count() == 1 && *own != number.low
    };
    let shown = counts.iter().map(|own| {
        let own = own.as_ref().filter(|own| alone(own))?;
        Some(ShownBy::Between(own.clone(), own.clone()))
    });
    shown.collect()
}
