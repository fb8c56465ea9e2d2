//! What a kind draws, before it is proved.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::Display;

use super::answer_part::AnswerPart;
use super::request::Request;
use super::skill::Skill;
use super::wrong_step::WrongStep;
use crate::gravimetry::Interval;
use crate::number::Ratio;
use crate::working::Working;

/// A problem that nobody has solved yet.
pub(super) struct DraftProblem {
    /// The code of the wording: what is given and what is asked.
    pub(super) form: &'static str,
    pub(super) skills: Vec<Skill>,
    /// The problem in plain words, without the sentence on significant figures.
    pub(super) prompt: String,
    pub(super) request: Request,
    pub(super) asked: Asked,
    pub(super) working: Working,
    /// The wrong steps and their values; the better ones first.
    pub(super) wrong: Vec<(WrongStep, WrongValue)>,
}

/// What is asked for.
pub(super) enum Asked {
    Number {
        /// The place of the answer in the result of the request.
        pointer: String,
        /// Empty if the number has none.
        unit: &'static str,
        /// How many significant figures the answer has.
        figures: u32,
        /// Every value that careful work can give.
        careful: Interval,
    },
    /// A formula.
    Formula { pointer: String },
    /// Texts without options: an equation, or the codes of what went wrong.
    Texts {
        pointers: Vec<String>,
        /// What may be chosen for each; empty if nothing is listed.
        parts: Vec<AnswerPart>,
    },
}

/// The value of a wrong step.
pub(super) enum WrongValue {
    Number(Ratio),
    /// A formula in canonical plain text.
    Text(String),
}

/// Why a draw gave no problem.
#[derive(Debug)]
pub(super) enum Refusal {
    /// These numbers do not do: draw again. The words say why.
    Again(&'static str),
    /// Another module refuses these numbers: draw again. The words are its own.
    Refused(String),
    /// Nothing is left to draw from.
    Exhausted(super::error::Error),
}

impl Refusal {
    /// For a value that another module refuses for the numbers drawn.
    pub(super) fn refused<E: Display>(error: E) -> Refusal {
        Refusal::Refused(format!("{error}"))
    }
}
