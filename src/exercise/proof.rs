//! The proof of a problem: it is solved before it is let out.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::decimal_comma::with_commas;
use super::draft::{Asked, DraftProblem, Refusal};
use super::draw::Draw;
use super::kind::Kind;
use super::options::{Right, options};
use super::problem::{Choice, Exercise};
use super::request::Request;
use super::solve::Solved;
use crate::gravimetry::Interval;
use crate::number::{Ratio, TieRule};
use crate::working::Working;

/// A range of right answers that is wider than this, compared with the answer, proves nothing.
const WIDEST_PERCENT: i64 = 4;

pub(super) const NOT_CAREFUL: &str = "the answer is not among the values of careful work";
pub(super) const TOO_WIDE: &str = "too many answers would be right";

/// The answer of a draft.
struct Proved {
    pointers: Vec<String>,
    answers: Vec<String>,
    unit: &'static str,
    tolerance: Option<Interval>,
    options: Vec<Choice>,
    /// The sentence that says how to write the answer; empty if there is none.
    instruction: String,
}

/// Solves a draft and makes a problem of it.
pub(super) fn prove(
    draft: DraftProblem,
    draw: &mut Draw<'_>,
    id: String,
    kind: Kind,
) -> Result<Exercise, Refusal> {
    let proved = match draft.asked {
        Asked::Number { .. } => number(&draft, draw)?,
        Asked::Formula { .. } => formula(&draft, draw)?,
        Asked::Texts { ref pointers, .. } => texts(&draft.request, pointers)?,
    };
    let parts = match draft.asked {
        Asked::Texts { parts, .. } => parts,
        _ => Vec::new(),
    };
    let help = help(&draft.working, &proved.answers)?;
    let mut prompt = draft.prompt;
    if !proved.instruction.is_empty() {
        prompt.push(' ');
        prompt.push_str(&proved.instruction);
    }
    let mut problem = Exercise {
        id,
        kind,
        level: draw.level,
        form: draft.form.into(),
        skills: draft.skills,
        prompt,
        request: draft.request,
        pointers: proved.pointers,
        answers: proved.answers,
        unit: proved.unit.into(),
        tolerance: proved.tolerance,
        options: proved.options,
        parts,
        help,
        working: draft.working,
    };
    if draw.source.exercises.comma {
        problem.use_commas();
    }
    Ok(problem)
}

/// The answer of a draft that asks for a number.
fn number(draft: &DraftProblem, draw: &mut Draw<'_>) -> Result<Proved, Refusal> {
    let Asked::Number {
        pointer,
        unit,
        figures,
        careful,
    } = &draft.asked
    else {
        return Err(Refusal::Again("no number is asked for"));
    };
    let Solved::Number(exact) = draft.request.answer(pointer).map_err(Refusal::refused)? else {
        return Err(Refusal::Again("the answer is not a number"));
    };
    let (answer, tolerance) = rounded(&exact, *figures, careful)?;
    let right = Right {
        text: &answer,
        unit,
        number: Some((&exact, &tolerance)),
        figures: *figures,
    };
    Ok(Proved {
        options: options_of(&right, draft, draw)?,
        pointers: [pointer.clone()].into(),
        unit,
        instruction: format!("Give your answer to {figures} significant figures."),
        answers: [answer].into(),
        tolerance: Some(tolerance),
    })
}

/// The answer of a draft that asks for a formula.
fn formula(draft: &DraftProblem, draw: &mut Draw<'_>) -> Result<Proved, Refusal> {
    let Asked::Formula { pointer } = &draft.asked else {
        return Err(Refusal::Again("no formula is asked for"));
    };
    let mut proved = texts(&draft.request, core::slice::from_ref(pointer))?;
    let right = Right {
        text: &proved.answers.concat(),
        unit: "",
        number: None,
        figures: 0,
    };
    proved.options = options_of(&right, draft, draw)?;
    Ok(proved)
}

/// An answer of texts, without options.
fn texts(request: &Request, pointers: &[String]) -> Result<Proved, Refusal> {
    let solved = request.answers(pointers).map_err(Refusal::refused)?;
    let answers = solved.into_iter().map(|solved| match solved {
        Solved::Text(text) => Ok(text),
        Solved::Number(_) => Err(Refusal::Again("the answer is a number, not a text")),
    });
    Ok(Proved {
        answers: answers.collect::<Result<_, Refusal>>()?,
        pointers: pointers.to_vec(),
        unit: "",
        tolerance: None,
        options: Vec::new(),
        instruction: String::new(),
    })
}

fn options_of(
    right: &Right<'_>,
    draft: &DraftProblem,
    draw: &mut Draw<'_>,
) -> Result<Vec<Choice>, Refusal> {
    match draw.source.exercises.options {
        true => options(right, &draft.wrong, &mut draw.sampler),
        false => Ok(Vec::new()),
    }
}

/// The answer as printed, and the range of right answers: what careful work can give, widened by half a unit of
/// the last place.
fn rounded(exact: &Ratio, figures: u32, careful: &Interval) -> Result<(String, Interval), Refusal> {
    if exact < careful.low() || careful.high() < exact {
        return Err(Refusal::Again(NOT_CAREFUL));
    }
    let rounded = exact.to_figures(figures, TieRule::Even);
    if rounded.decimal_places() < 0 {
        return Err(Refusal::Again(
            "the answer does not show its significant figures",
        ));
    }
    let half =
        Ratio::new(1, 2).unwrap_or_default() * Ratio::power_of_ten(-rounded.decimal_places());
    let tolerance = careful.widened(&half);
    let width = tolerance.high() - tolerance.low();
    if width.abs() * 100 > exact.abs() * WIDEST_PERCENT {
        return Err(Refusal::Again(TOO_WIDE));
    }
    Ok((rounded.to_string(), tolerance))
}

/// The three stages of help. The first two must not hold an answer.
fn help(working: &Working, answers: &[String]) -> Result<[String; 3], Refusal> {
    let mut stages: [String; 3] = Default::default();
    for step in working.steps() {
        let [relation, numbers, whole] = &mut stages;
        let what = step.what();
        add_line(relation, &[what, ": ", step.symbols()]);
        add_line(numbers, &[what, ": ", step.numbers()]);
        let joined = match step.relation() {
            "so" => ", so ",
            _ => " = ",
        };
        add_line(whole, &[what, ": ", step.numbers(), joined, step.result()]);
        if !step.unit().is_empty() {
            whole.push('\u{a0}');
            whole.push_str(step.unit());
        }
    }
    let [relation, numbers, _] = &stages;
    for answer in answers {
        if holds(relation, answer) || holds(numbers, answer) {
            return Err(Refusal::Again("an early stage of help holds the answer"));
        }
    }
    Ok(stages)
}

/// Adds a line of these parts.
fn add_line(text: &mut String, parts: &[&str]) {
    if !text.is_empty() {
        text.push('\n');
    }
    text.extend(parts.iter().copied());
}

/// Whether a text holds a number or a formula that is not part of a longer one.
fn holds(text: &str, answer: &str) -> bool {
    let inside = |c: char| c.is_alphanumeric() || matches!(c, '·' | '(' | '[');
    text.match_indices(answer).any(|(start, _)| {
        let before = text[..start].chars().next_back();
        let mut after = text[start + answer.len()..].chars();
        let next = after.next();
        let longer =
            next.is_some_and(inside) || (next == Some('.') && after.next().is_some_and(inside));
        !longer && !before.is_some_and(|c| inside(c) || c == '.')
    })
}

impl Exercise {
    /// Writes decimal commas in all that people read.
    fn use_commas(&mut self) {
        self.prompt = with_commas(&self.prompt);
        for text in self.answers.iter_mut().chain(&mut self.help) {
            *text = with_commas(text);
        }
        for choice in &mut self.options {
            choice.text = with_commas(&choice.text);
            choice.feedback = with_commas(&choice.feedback);
        }
        self.working = core::mem::take(&mut self.working).rewritten(with_commas);
    }
}
