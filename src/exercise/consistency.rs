//! Whether a problem that was saved, and perhaps edited, contradicts itself.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::numbers;
use super::problem::{Choice, Exercise, with_unit};
use super::solve::Solved;
use crate::gravimetry::Interval;
use crate::number::{DecimalMark, Ratio, Reading};
use crate::text::Detail;

/// The fields of a request that are not quantities of its problem: waters to choose from, and settings.
const SETTINGS: [&str; 4] = ["candidates", "coverage", "readability", "repeatability"];

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
        self.check_parts()?;
        self.check_request()?;
        self.check_prompt(comma)?;
        self.check_working(comma)
    }

    /// Refuses parts that do not belong to the answers, and a part without its answer. A set may have none.
    fn check_parts(&self) -> Result<(), Detail> {
        if self.parts.is_empty() {
            return Ok(());
        }
        if self.parts.len() != self.answers.len() {
            return Err(wrong(
                "`parts` and `answer` do not have the same number of parts",
                "give what may be chosen for each part of the answer",
            ));
        }
        for (part, answer) in self.parts.iter().zip(&self.answers) {
            let right = part
                .choices()
                .iter()
                .filter(|choice| choice.code() == answer);
            let count = right.count();
            if count != 1 {
                let message = format!(
                    "{count} choices of the part `{}` have the code of the answer, `{answer}`",
                    part.what()
                );
                return Err(wrong(message, "give it to exactly one choice"));
            }
        }
        Ok(())
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

    /// Refuses a prompt without a quantity of the request.
    fn check_prompt(&self, comma: bool) -> Result<(), Detail> {
        let fields = self.request.fields().iter();
        let quantities = fields.filter(|(name, _)| !SETTINGS.contains(&name.as_str()));
        let [quantities, _] = numbers::of_fields(quantities);
        let printed = match comma {
            true => numbers::of_text(&self.prompt.replace(',', ".")),
            false => numbers::of_text(&self.prompt),
        };
        let is_printed = |quantity: &String| numbers::of_text(quantity).is_subset(&printed);
        match quantities.iter().find(|quantity| !is_printed(quantity)) {
            None => Ok(()),
            Some(quantity) => {
                let quantity = match comma {
                    true => quantity.replace('.', ","),
                    false => quantity.clone(),
                };
                let message = format!("its request has {quantity}, and its prompt does not");
                Err(wrong(message, "write the same number in both"))
            }
        }
    }

    /// Refuses working that ends with another result than the answer. A number may have more figures.
    fn check_working(&self, comma: bool) -> Result<(), Detail> {
        let ([answer], Some(last)) = (&self.answers[..], self.working.steps().last()) else {
            // A class sheet has several answers, and its working ends with one of them.
            return Ok(());
        };
        let right = Reading::read(answer, DecimalMark::CommaOrPoint).ok();
        let fits = match (right, number(last.result(), comma)) {
            (Some(right), Some(result)) => (right.value() - result).abs() * 2 <= right.last_place(),
            // A number before a text, such as a ratio before the formula.
            (None, Some(_)) => true,
            (_, None) => last.result() == answer,
        };
        match fits {
            true => Ok(()),
            false => {
                let message = format!(
                    "the last step of its working gives {}, and the answer is {answer}",
                    last.result()
                );
                Err(wrong(message, "correct the step or the answer"))
            }
        }
    }
}

fn wrong(message: impl Into<String>, help: &'static str) -> Detail {
    Detail::new(message.into()).help(help)
}

fn number(text: &str, comma: bool) -> Option<Ratio> {
    let text = text.replace('−', "-");
    match comma {
        true => text.replace(',', ".").parse().ok(),
        false => text.parse().ok(),
    }
}

fn lies_in(tolerance: &Interval, value: &Ratio) -> bool {
    tolerance.low() <= value && value <= tolerance.high()
}

#[cfg(test)]
mod tests {
    use alloc::string::ToString;

    use super::*;
    use crate::exercise::{Exercises, Kind, Level, Template};

    /// Checks a set, and a set in which the last step of a problem is another.
    fn check(exercises: &Exercises, count: usize) {
        let comma = exercises.comma;
        let mut set = exercises.set(count).unwrap();
        for problem in &mut set.problems {
            problem
                .check(comma)
                .unwrap_or_else(|error| panic!("{}: {}", problem.id, error.message));
            let [answer] = &problem.answers[..] else {
                continue;
            };
            assert!(!problem.working.steps().is_empty(), "{}", problem.id);
            let (last, mark) = (
                answer.chars().next_back().unwrap_or_default(),
                answer.len() - 1,
            );
            let other = format!(
                "{}{}",
                answer.get(..mark).unwrap_or_default(),
                if last == '7' { '4' } else { '7' }
            );
            if last.is_ascii_digit() {
                problem.working = core::mem::take(&mut problem.working).ending(other);
                let error = problem.check(comma).unwrap_err();
                assert!(
                    error.message.contains("last step"),
                    "{}: {}",
                    problem.id,
                    error.message
                );
            }
        }
    }

    #[test]
    fn no_problem_of_the_pool_is_refused() {
        for kind in Kind::ALL {
            check(&Exercises::new(3).kinds([kind]).without_options(), 20);
            check(&Exercises::new(4).kinds([kind]).decimal_comma(), 10);
            for grams in ["0.0001", "0.002", "0.1"] {
                let fine = Exercises::new(5)
                    .kinds([kind])
                    .readability(Reading::literal(grams));
                let fine = fine.unwrap();
                if fine.problem(0).is_ok() && fine.problem(1).is_ok() {
                    check(&fine, 2);
                }
            }
        }
        for level in Level::ALL {
            let free =
                Exercises::new(6).salts(["CoCl2".parse().unwrap(), "CuSO4".parse().unwrap()]);
            for kind in Kind::ALL {
                let set = free.clone().kinds([kind]).level(level);
                if set.set(3).is_ok() {
                    check(&set, 3);
                }
            }
        }
    }

    #[test]
    fn no_problem_of_the_templates_is_refused() {
        for toml in [
            include_str!("../../examples/data/template_precipitate.toml"),
            include_str!("../../examples/data/template_water.toml"),
        ] {
            check(
                &Exercises::new(1).templates([Template::read(toml).unwrap()]),
                20,
            );
        }
    }

    #[test]
    fn each_number_of_a_request_is_in_the_prompt() {
        for comma in [false, true] {
            let exercises = Exercises::new(1).kinds([Kind::FormulaFromMasses]);
            let exercises = if comma {
                exercises.decimal_comma()
            } else {
                exercises
            };
            for mut problem in exercises.set(20).unwrap().problems {
                let mass = problem
                    .request
                    .members()
                    .text("hydrate_mass")
                    .unwrap()
                    .to_string();
                let printed = if comma { mass.replace('.', ",") } else { mass };
                assert!(problem.prompt.contains(&printed));
                let other = format!("{printed}1");
                problem.prompt = problem.prompt.replace(&printed, &other);
                let error = problem.check(comma).unwrap_err();
                assert_eq!(
                    error.message,
                    format!("its request has {printed}, and its prompt does not")
                );
            }
        }
    }
}
