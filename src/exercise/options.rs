//! The options of a problem: the right answer among the values of wrong steps.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::draft::{Refusal, WrongValue};
use super::problem::{Choice, with_unit};
use super::sampler::Sampler;
use super::wrong_step::WrongStep;
use crate::gravimetry::Interval;
use crate::number::{Ratio, TieRule};

/// The number of options of a problem, the right one included.
const OPTIONS: usize = 4;
/// A wrong value that is larger or smaller than the right one by more than this is silly, unless the wrong step
/// is in the decimal point.
const MOST_TIMES: i64 = 5;

/// Why a wrong value cannot be an option.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum UnfitOption {
    NotPositive,
    AboveHundredPercent,
    /// More than [`MOST_TIMES`] larger or smaller than the answer.
    TooFar,
    /// Its significant figures cannot be shown without a power of ten.
    FiguresNotShown,
}

impl UnfitOption {
    /// Completes "It gives the value …".
    pub(super) fn why(self) -> &'static str {
        match self {
            UnfitOption::NotPositive => "which is not positive",
            UnfitOption::AboveHundredPercent => "which is more than 100 %",
            UnfitOption::TooFar => "which is more than 5 times off",
            UnfitOption::FiguresNotShown => "which does not show its significant figures",
        }
    }
}

/// The right answer of a problem with options.
pub(super) struct Right<'a> {
    pub(super) text: &'a str,
    pub(super) unit: &'a str,
    /// The exact value and the values that count as right; `None` for a formula.
    pub(super) number: Option<(&'a Ratio, &'a Interval)>,
    pub(super) figures: u32,
}

impl Right<'_> {
    /// The text of a wrong value, or why it cannot be an option.
    pub(super) fn text_of(
        &self,
        step: &WrongStep,
        value: &WrongValue,
    ) -> Result<Result<String, UnfitOption>, Refusal> {
        let value = match (value, self.number) {
            (WrongValue::Text(text), _) => return Ok(Ok(text.clone())),
            (WrongValue::Number(value), None) => return Ok(Ok(value.to_string())),
            (WrongValue::Number(value), Some((right, careful))) => {
                if careful.low() <= value && value <= careful.high() {
                    return Err(Refusal::Again(
                        "a wrong step gives a value that counts as right",
                    ));
                }
                let times = value.abs().checked_div(&right.abs());
                let most = Ratio::from(MOST_TIMES);
                let sane = times.is_some_and(|times| times <= most && times * &most >= Ratio::ONE);
                let beyond = self.unit == "%" && *value > Ratio::from(100);
                // An error of sign is possible only if the right answer is negative.
                let signed = value.is_positive() || right.is_negative();
                if beyond {
                    return Ok(Err(UnfitOption::AboveHundredPercent));
                }
                if !signed {
                    return Ok(Err(UnfitOption::NotPositive));
                }
                if !(sane || step.moves_the_point()) {
                    return Ok(Err(UnfitOption::TooFar));
                }
                value
            }
        };
        let rounded = value.to_figures(self.figures, TieRule::Even);
        let within = self.number.is_some_and(|(_, careful)| {
            careful.low() <= &rounded.value() && &rounded.value() <= careful.high()
        });
        if within {
            return Err(Refusal::Again(
                "a wrong option is a value that counts as right",
            ));
        }
        match rounded.decimal_places() >= 0 {
            true => Ok(Ok(rounded.to_string())),
            false => Ok(Err(UnfitOption::FiguresNotShown)),
        }
    }
}

/// The options in a random order, the right one among them.
pub(super) fn options(
    right: &Right<'_>,
    wrong: &[(WrongStep, WrongValue)],
    sampler: &mut Sampler,
) -> Result<Vec<Choice>, Refusal> {
    let mut choices: Vec<Choice> = Vec::with_capacity(OPTIONS);
    let mut points_moved = 0;
    for (step, value) in wrong {
        let Ok(text) = right.text_of(step, value)? else {
            continue;
        };
        if text == right.text {
            return Err(Refusal::Again("a wrong step gives the answer as printed"));
        }
        let text = with_unit(&text, right.unit);
        let moved = usize::from(step.moves_the_point());
        let new = choices.iter().all(|choice| choice.text != text);
        if new && choices.len() + 1 < OPTIONS && points_moved + moved < 2 {
            points_moved += moved;
            choices.push(Choice {
                text,
                wrong_step: Some(step.code().into()),
                feedback: step.feedback(),
            });
        }
    }
    if choices.len() + 1 < OPTIONS {
        return Err(Refusal::Again("too few wrong steps give an option"));
    }
    sampler.shuffle(&mut choices);
    let place = sampler.below(OPTIONS as u32) as usize;
    let right = Choice {
        text: with_unit(right.text, right.unit),
        wrong_step: None,
        feedback: "This is right.".into(),
    };
    choices.insert(place, right);
    Ok(choices)
}
