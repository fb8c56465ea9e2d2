//! What may be chosen for a part of an answer.

use alloc::string::String;
use alloc::vec::Vec;

/// A part of an answer, and what may be chosen for it.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind};
/// let problem = Exercises::new(1).kinds([Kind::ErrorAnalysis]).problem(0)?;
/// for (part, answer) in problem.parts().iter().zip(problem.answers()) {
///     let right = part.choices().iter().filter(|choice| choice.code() == answer);
///     assert_eq!(right.count(), 1, "{}", part.what());
/// }
/// # Ok::<(), effloresce::exercise::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct AnswerPart {
    pub(super) what: String,
    pub(super) choices: Vec<PartChoice>,
}

/// One of the things that may be chosen for a part of an answer.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct PartChoice {
    pub(super) code: String,
    pub(super) words: String,
    pub(super) feedback: String,
}

impl AnswerPart {
    /// Returns what is chosen, such as "Bench with the fault".
    #[must_use]
    pub fn what(&self) -> &str {
        &self.what
    }

    /// Returns what may be chosen, in the order of the prompt.
    #[must_use]
    pub fn choices(&self) -> &[PartChoice] {
        &self.choices
    }
}

impl PartChoice {
    /// Returns the code; it is the answer if this is the right choice.
    #[must_use]
    pub fn code(&self) -> &str {
        &self.code
    }

    /// Returns the words of the prompt.
    #[must_use]
    pub fn words(&self) -> &str {
        &self.words
    }

    /// Returns what a pupil reads who chose it wrongly. It does not tell the right choice.
    #[must_use]
    pub fn feedback(&self) -> &str {
        &self.feedback
    }
}
