//! A problem that has been solved.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::answer_part::AnswerPart;
use super::kind::{Kind, Level};
use super::request::Request;
use super::skill::Skill;
use crate::gravimetry::Interval;
use crate::working::Working;

/// A problem with its answer, its options, its help and its working.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind};
/// let problem = Exercises::new(1).kinds([Kind::PercentWater]).problem(0)?;
/// assert!(problem.prompt().ends_with("significant figures."));
/// assert_eq!(problem.unit(), "%");
/// assert_eq!(problem.options().len(), 4);
/// let right = problem.options().iter().find(|option| option.wrong_step().is_none()).unwrap();
/// assert_eq!(right.text(), format!("{}\u{a0}%", problem.answer()));
/// # Ok::<(), effloresce::exercise::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Exercise {
    pub(super) id: String,
    pub(super) kind: Kind,
    pub(super) level: Level,
    pub(super) form: String,
    pub(super) skills: Vec<Skill>,
    pub(super) prompt: String,
    pub(super) request: Request,
    pub(super) pointers: Vec<String>,
    pub(super) answers: Vec<String>,
    pub(super) unit: Cow<'static, str>,
    pub(super) tolerance: Option<Interval>,
    pub(super) options: Vec<Choice>,
    pub(super) parts: Vec<AnswerPart>,
    pub(super) help: [String; 3],
    pub(super) working: Working,
}

/// One option of a problem.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Choice {
    pub(super) text: String,
    pub(super) wrong_step: Option<String>,
    pub(super) feedback: String,
}

impl Choice {
    /// Returns the text of the option, with its unit.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Returns the code of the wrong step that gives the option; `None` for the right one.
    #[must_use]
    pub fn wrong_step(&self) -> Option<&str> {
        self.wrong_step.as_deref()
    }

    /// Returns what a pupil reads who chose it.
    #[must_use]
    pub fn feedback(&self) -> &str {
        &self.feedback
    }
}

impl Exercise {
    /// Returns a name that no other problem of a set has: kind, seed and number.
    #[must_use]
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Returns the kind.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// Returns the level.
    #[must_use]
    pub fn level(&self) -> Level {
        self.level
    }

    /// Returns the code of the wording: what is given, and what is asked.
    #[must_use]
    pub fn form(&self) -> &str {
        &self.form
    }

    /// Returns what the problem practises.
    #[must_use]
    pub fn skills(&self) -> &[Skill] {
        &self.skills
    }

    /// Returns the problem in plain words. Formulas are in canonical plain text.
    #[must_use]
    pub fn prompt(&self) -> &str {
        &self.prompt
    }

    /// Returns the request of the JSON-lines contract that solves the problem.
    #[must_use]
    pub fn request(&self) -> &Request {
        &self.request
    }

    /// Returns the JSON Pointers of the answer in the result of the request, one for each part.
    #[must_use]
    pub fn asks(&self) -> &[String] {
        &self.pointers
    }

    /// Returns the parts of the answer as printed, without unit. Only `error_analysis` has several.
    #[must_use]
    pub fn answers(&self) -> &[String] {
        &self.answers
    }

    /// Returns the answer as printed, without unit. Parts are joined by semicolons.
    #[must_use]
    pub fn answer(&self) -> String {
        self.answers.join("; ")
    }

    /// Returns the unit of the answer; empty if it has none.
    #[must_use]
    pub fn unit(&self) -> &str {
        &self.unit
    }

    /// Returns the least and the greatest number that count as right; `None` if the answer is not a number.
    ///
    /// They are what careful work can give, widened by half a unit of the last place asked for.
    #[must_use]
    pub fn tolerance(&self) -> Option<&Interval> {
        self.tolerance.as_ref()
    }

    /// Returns the options, the right one among them; empty if the problem has none.
    #[must_use]
    pub fn options(&self) -> &[Choice] {
        &self.options
    }

    /// Returns what may be chosen for each part of the answer, in the order of [`answers`](Self::answers); empty if
    /// nothing is listed. Only `error_analysis` has parts.
    #[must_use]
    pub fn parts(&self) -> &[AnswerPart] {
        &self.parts
    }

    /// Returns help in three stages: the relation, the numbers put in, the whole. Each line is a step.
    #[must_use]
    pub fn help(&self) -> &[String; 3] {
        &self.help
    }

    /// Returns the steps from the numbers given to the answer.
    #[must_use]
    pub fn working(&self) -> &Working {
        &self.working
    }
}

/// A number or a text with its unit after a no-break space.
pub(super) fn with_unit(text: &str, unit: &str) -> String {
    match unit {
        "" => text.into(),
        unit => format!("{text}\u{a0}{unit}"),
    }
}
