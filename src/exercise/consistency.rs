//! Whether a problem that was saved, and perhaps edited, contradicts itself.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::problem::{Choice, Exercise, with_unit};
use super::solve::Solved;
use crate::gravimetry::Interval;
use crate::number::Ratio;
use crate::text::Detail;

impl Exercise {
    /// Refuses a problem that contradicts itself. `comma` is whether its texts have decimal commas.
    pub(super) fn check(&self, comma: bool) -> Result<(), Detail> {
        if self.prompt.trim().is_empty() {
            return Err(wrong("it has no prompt", "write one"));
        }
        if self.pointers.is_empty() || self.pointers.len() != self.answers.len() {
            return Err(wrong(
                "`asks` and `answer` do not have the same number of parts",
                "give one answer for each pointer",
            ));
        }
        if let Some(tolerance) = &self.tolerance {
            self.check_number(tolerance, comma)?;
        }
        self.check_options(comma)?;
        self.check_request()
    }

    fn check_number(&self, tolerance: &Interval, comma: bool) -> Result<(), Detail> {
        let answer = self.answer();
        let Some(value) = number(&answer, comma) else {
            return Err(wrong(
                format!("the answer `{answer}` is not a number"),
                "write digits and the decimal mark of the set, or set `tolerance` to null",
            ));
        };
        match lies_in(tolerance, &value) {
            true => Ok(()),
            false => Err(wrong(
                format!("the answer {answer} is not in its tolerance"),
                "correct the answer or the tolerance",
            )),
        }
    }

    fn check_options(&self, comma: bool) -> Result<(), Detail> {
        if self.options.is_empty() {
            return Ok(());
        }
        let right: Vec<&Choice> = self
            .options
            .iter()
            .filter(|option| option.wrong_step.is_none())
            .collect();
        let [right] = right[..] else {
            let message = format!("{} of its options are right", right.len());
            return Err(wrong(message, "set `slip` to null for exactly one option"));
        };
        let plain = |text: &str| text.replace('\u{a0}', " ");
        if plain(&right.text) != plain(&with_unit(&self.answer(), &self.unit)) {
            let message = format!(
                "the right option `{}` is not the answer with its unit",
                right.text
            );
            return Err(wrong(message, "write both alike"));
        }
        for (index, option) in self.options.iter().enumerate() {
            let mut earlier = self.options.iter().take(index);
            if earlier.any(|other| plain(&other.text) == plain(&option.text)) {
                let message = format!("the option `{}` is given twice", option.text);
                return Err(wrong(message, "change one of the two"));
            }
        }
        let counts = |option: &&Choice| {
            let text = option.text.trim_end_matches(&*self.unit).trim_end();
            let value = number(text, comma).filter(|_| option.wrong_step.is_some());
            let tolerance = self.tolerance.as_ref().zip(value);
            tolerance.is_some_and(|(tolerance, value)| lies_in(tolerance, &value))
        };
        match self.options.iter().find(counts) {
            None => Ok(()),
            Some(option) => {
                let message = format!("the wrong option `{}` is in the tolerance", option.text);
                Err(wrong(message, "change it, because it counts as right"))
            }
        }
    }

    /// Refuses an answer that is not that of the request.
    fn check_request(&self) -> Result<(), Detail> {
        for (pointer, answer) in self.pointers.iter().zip(&self.answers) {
            let solved = self.request.answer(pointer);
            let solved = solved.map_err(|error| {
                let help = error.help().map(String::from);
                let detail = Detail::new(format!("its request cannot be solved: {error}"));
                match help {
                    Some(help) => detail.help(help),
                    None => detail,
                }
            })?;
            let (fits, gives) = match &solved {
                Solved::Text(text) => (text == answer, text.clone()),
                Solved::Number(value) => {
                    let tolerance = self.tolerance.as_ref();
                    let fits = tolerance.is_none_or(|tolerance| lies_in(tolerance, value));
                    (fits, value.to_plain())
                }
            };
            if !fits {
                let message = format!("the answer is {answer}, and its request gives {gives}");
                return Err(wrong(message, "correct the answer or the request"));
            }
        }
        Ok(())
    }
}

fn wrong(message: impl Into<String>, help: &'static str) -> Detail {
    Detail::new(message.into()).help(help)
}

fn number(text: &str, comma: bool) -> Option<Ratio> {
    match comma {
        true => text.replace(',', ".").parse().ok(),
        false => text.to_string().parse().ok(),
    }
}

fn lies_in(tolerance: &Interval, value: &Ratio) -> bool {
    tolerance.low() <= value && value <= tolerance.high()
}
