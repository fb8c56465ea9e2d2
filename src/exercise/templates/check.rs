//! What is wrong with a template.

use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::exercise::author::{OwnValues, Placeholder, Template};
use crate::exercise::course::Exercises;
use crate::exercise::draft::{DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, DrawSource, to_figures};
use crate::exercise::numbers;
use crate::exercise::options::Right;
use crate::exercise::problem::{Exercise, with_unit};
use crate::exercise::proof::{NOT_CAREFUL, TOO_WIDE, prove};
use crate::exercise::sampler::Sampler;
use crate::exercise::solve::Solved;
use crate::exercise::wrong_step::WrongStep;
use crate::gravimetry::{HeatingSafety, Severity};
use crate::number::{Reading, TieRule};
use crate::text::{Note, sentence};

/// The number of draws that a check looks at.
const DRAWS: u32 = 200;
/// What happens in this share of the draws or less is left to drawing again.
const RARE: u32 = DRAWS / 20;
/// A problem needs this number of wrong options.
const WRONG_OPTIONS: usize = 3;

impl Template {
    /// Returns what is wrong with the template, after 200 draws: nothing for a good one.
    ///
    /// | code | what is wrong |
    /// | --- | --- |
    /// | `quantity_unused` | a quantity is in neither the wording nor the request nor the working |
    /// | `number_not_in_request` | the wording gives a number that no field of the request has |
    /// | `number_not_in_wording` | the request has a number that the wording does not give |
    /// | `unsolvable` | the request is refused, or its result has no such value |
    /// | `draw_refused` | draws fail for a reason, such as a tolerance that is too wide, or working that gives another answer |
    /// | `draws_fail` | more than half of the draws fail |
    /// | `rounding_tie` | the answer is half-way between two printed values |
    /// | `too_many_figures` | the answer has more significant figures than the least exact number of the wording |
    /// | `error_is_right` | a wrong step gives a value that counts as right |
    /// | `errors_collide` | two wrong steps give the same option |
    /// | `error_unused` | a wrong step never gives an option |
    /// | `too_few_options` | there are fewer than four options |
    /// | `exhausted` | nothing is left to draw from |
    /// | `hazard` | the problem heats a solid that is heated only in a fume cupboard |
    ///
    /// ```
    /// use effloresce::exercise::Template;
    /// # let good = include_str!("../../../examples/data/template_precipitate.toml");
    /// let bad = good.replace("Work out the mass", "The solution is at 25 °C. Work out the mass");
    /// let notes = Template::read(&bad)?.check();
    /// assert_eq!(notes[0].code(), "number_not_in_request");
    /// assert_eq!(
    ///     notes[0].text(),
    ///     "The wording gives the number 25, and no field of the request has it. Remove it, or add it to the request.",
    /// );
    /// # Ok::<(), effloresce::exercise::Error>(())
    /// ```
    #[must_use]
    pub fn check(&self) -> Vec<Note> {
        let mut tally = CheckTally::default();
        tally.notes.extend(self.unused());
        tally.notes.extend(self.hazards());
        let exercises = Exercises::new(0)
            .templates([self.clone()])
            .without_options();
        let Ok(source) = DrawSource::new(&exercises) else {
            return tally.notes;
        };
        for seed in 0..DRAWS {
            let mut draw = self.draw(&source, seed);
            match self.draft(&mut draw) {
                Ok(draft) => {
                    tally.drawn = self.drawn(&source, seed);
                    tally.draft(self, draft, &mut draw);
                }
                Err(Refusal::Again(reason)) => tally.refused(reason),
                Err(Refusal::Refused(reason)) => tally.refused(&reason),
                Err(Refusal::Exhausted(error)) => {
                    let help = error.help().unwrap_or("change the lists");
                    let text = format!("{} {}", sentence(&error.to_string()), sentence(help));
                    tally.notes.push(Note::new("exhausted", text));
                    return tally.notes;
                }
            }
        }
        tally.finished(self)
    }

    fn draw<'d>(&self, source: &'d DrawSource<'d>, seed: u32) -> Draw<'d> {
        Draw {
            source,
            sampler: Sampler::new(seed.into(), self.kind.code(), 0, 0, 0),
            level: self.level,
            wanted: None,
        }
    }

    /// The values of a draw, in words.
    fn drawn(&self, source: &DrawSource<'_>, seed: u32) -> String {
        let values = self.values(&mut self.draw(source, seed));
        let words = values.map(|values| {
            let each = self.quantities.iter().filter_map(|own| {
                let placeholder = Placeholder {
                    name: own.name.clone(),
                    part: None,
                };
                Some(format!("{} {}", own.name, values.worded(&placeholder)?))
            });
            crate::text::list(each)
        });
        words.unwrap_or_default()
    }

    /// Quantities that nothing uses.
    fn unused(&self) -> impl Iterator<Item = Note> + '_ {
        let used = self.used_names();
        let unused = self
            .quantities
            .iter()
            .filter(move |own| !used.contains(own.name.as_str()));
        unused.map(|own| {
            let text = format!(
                "The quantity `{}` is in neither the wording nor the request nor the working. Remove it, or use it.",
                own.name
            );
            Note::new("quantity_unused", text).with("quantity", own.name.clone())
        })
    }

    /// Listed formulas that are heated and may only be heated in a fume cupboard.
    fn hazards(&self) -> impl Iterator<Item = Note> + '_ {
        let listed = self.quantities.iter().flat_map(|own| match &own.values {
            OwnValues::Formulas(formulas) => formulas.as_slice(),
            _ => &[],
        });
        let heats = self.heats();
        let grave = listed.filter(move |formula| {
            heats && HeatingSafety::of(formula).severity() == Severity::FumeCupboard
        });
        grave.map(|formula| {
            let text = format!(
                "The problem speaks of heating, and {formula} is heated only in a fume cupboard. Take another salt."
            );
            Note::new("hazard", text).with("formula", formula.to_string())
        })
    }
}

/// What all draws together show.
#[derive(Default)]
struct CheckTally {
    notes: Vec<Note>,
    /// The values of this draw, in words.
    drawn: String,
    /// How many draws failed for each reason.
    refused: BTreeMap<String, u32>,
    failed: u32,
    solved: u32,
    ties: u32,
    too_many_figures: u32,
    too_few_options: u32,
    /// The first problem with too few options: its values, and why.
    too_few_because: String,
    not_in_request: BTreeSet<String>,
    not_in_wording: BTreeSet<String>,
    unsolvable: Option<String>,
    /// By the code of the wrong step: how often its value counts as right, and how often it can be an option.
    right: BTreeMap<String, u32>,
    usable: BTreeMap<String, u32>,
    /// By the code of the wrong step: the first problem in which it gives no option, and why.
    unfit: BTreeMap<String, String>,
    collisions: BTreeMap<[String; 2], u32>,
}

impl CheckTally {
    fn refused(&mut self, reason: &str) {
        self.failed += 1;
        *self.refused.entry(reason.into()).or_default() += 1;
    }

    /// Looks at one draw.
    fn draft(&mut self, template: &Template, mut draft: DraftProblem, draw: &mut Draw<'_>) {
        let wrong = core::mem::take(&mut draft.wrong);
        let said = numbers::of_wording(&draft.prompt);
        let [fields, others] = numbers::of_fields(draft.request.fields());
        let nowhere = said
            .iter()
            .filter(|number| !fields.contains(*number) && !others.contains(*number));
        self.not_in_request.extend(nowhere.cloned());
        self.not_in_wording
            .extend(fields.difference(&said).cloned());
        let exact = match draft.request.answer(&template.answer.pointer) {
            Ok(solved) => solved,
            Err(error) => {
                self.failed += 1;
                let help = error.help().unwrap_or("correct the request");
                let text = format!("{} {}", sentence(&error.to_string()), sentence(help));
                self.unsolvable.get_or_insert(text);
                return;
            }
        };
        if let (Solved::Number(exact), Some(figures)) = (&exact, template.answer.figures) {
            let rounded = exact.to_figures(figures, TieRule::Even);
            self.ties += u32::from(rounded.ties_differ());
            let readings = fields
                .iter()
                .filter_map(|number| number.parse::<Reading>().ok());
            let least = readings.map(|reading| reading.figures().at_most()).min();
            self.too_many_figures += u32::from(least.is_some_and(|least| figures > least));
        }
        match prove(draft, draw, String::new(), template.kind) {
            Ok(problem) => {
                self.solved += 1;
                self.options(template, &problem, &exact, &wrong);
            }
            Err(Refusal::Again(reason)) => self.refused(reason),
            Err(Refusal::Refused(reason)) => self.refused(&reason),
            Err(Refusal::Exhausted(error)) => self.refused(&error.to_string()),
        }
    }

    /// Looks at the wrong values of one problem.
    fn options(
        &mut self,
        template: &Template,
        problem: &Exercise,
        exact: &Solved,
        wrong: &[(WrongStep, WrongValue)],
    ) {
        let answer = problem.answer();
        let right = Right {
            text: &answer,
            unit: problem.unit(),
            number: match exact {
                Solved::Number(exact) => problem.tolerance().map(|tolerance| (exact, tolerance)),
                Solved::Text(_) => None,
            },
            figures: template.answer.figures.unwrap_or(0),
        };
        let mut texts: Vec<(&str, String)> = Vec::with_capacity(wrong.len());
        let mut unfit: Vec<String> = Vec::new();
        for own in &template.errors {
            let code = own.step.code();
            let value = wrong.iter().find(|(step, _)| step.code() == code);
            let why = match value.map(|(step, value)| (value, right.text_of(step, value))) {
                None => "has no value".into(),
                Some((_, Ok(Ok(text)))) if text != answer => {
                    *self.usable.entry(code.into()).or_default() += 1;
                    let same = texts.iter().find(|(_, other)| *other == text);
                    unfit.extend(
                        same.map(|(other, _)| format!("`{code}` gives the same as `{other}`")),
                    );
                    texts.push((code, text));
                    continue;
                }
                Some((value, Ok(Err(unfit)))) => {
                    let value = shown(value, &right);
                    format!(
                        "gives {value}, {}, and the answer is {}",
                        unfit.why(),
                        with_unit(&answer, right.unit)
                    )
                }
                Some(_) => {
                    *self.right.entry(code.into()).or_default() += 1;
                    continue;
                }
            };
            let of_problem = format!("With {}, it {why}.", self.drawn);
            self.unfit.entry(code.into()).or_insert(of_problem);
            unfit.push(format!("`{code}` {why}"));
        }
        let different = self.collide(&texts);
        if different < WRONG_OPTIONS && !template.errors.is_empty() {
            self.too_few_options += 1;
            if self.too_few_because.is_empty() {
                self.too_few_because = format!("With {}, {}.", self.drawn, unfit.join("; "));
            }
        }
    }

    /// Counts the options that are the same, and returns the number of different ones.
    fn collide(&mut self, texts: &[(&str, String)]) -> usize {
        for (index, (code, text)) in texts.iter().enumerate() {
            for (other, same) in texts.iter().skip(index + 1) {
                if text == same {
                    let pair = [*code, *other].map(String::from);
                    *self.collisions.entry(pair).or_default() += 1;
                }
            }
        }
        let different: BTreeSet<&String> = texts.iter().map(|(_, text)| text).collect();
        different.len()
    }

    /// What is wrong, the gravest first.
    fn finished(mut self, template: &Template) -> Vec<Note> {
        let solved = self.solved;
        if let Some(text) = self.unsolvable.take() {
            let text = format!("The request cannot be solved. {text}");
            self.notes.push(Note::new("unsolvable", text));
        }
        self.numbers();
        for (reason, draws) in &self.refused {
            if *draws > RARE {
                let text = format!(
                    "{draws} of {DRAWS} draws fail, because {}",
                    of_reason(reason)
                );
                let note = Note::new("draw_refused", text).with("draws", draws.to_string());
                self.notes.push(note.with("reason", reason.clone()));
            }
        }
        if self.failed > DRAWS / 2 {
            let text = format!(
                "{} of {DRAWS} draws give no problem. Change the ranges or the lists.",
                self.failed
            );
            let note = Note::new("draws_fail", text).with("draws", self.failed.to_string());
            self.notes.push(note);
        }
        let too_few = format!(
            "fewer than three wrong steps give an option. {} Add a wrong step, or change one.",
            self.too_few_because
        );
        let shares = [
            (
                "rounding_tie",
                self.ties,
                "the answer is half-way between two printed values. Change a range or a step.",
            ),
            (
                "too_many_figures",
                self.too_many_figures,
                "the answer has more significant figures than a number of the request. Ask for fewer.",
            ),
            ("too_few_options", self.too_few_options, &*too_few),
        ];
        for (code, draws, what) in shares {
            if draws > RARE {
                let note = Note::new(code, format!("In {draws} of {DRAWS} draws, {what}"));
                self.notes.push(note.with("draws", draws.to_string()));
            }
        }
        if solved > 0 {
            self.wrong_steps(template, solved);
        }
        self.notes
    }

    fn numbers(&mut self) {
        if let Some(number) = self.not_in_request.first() {
            let text = format!(
                "The wording gives {}, and no field of the request has it. Remove it, or add it to the request.",
                such_as(number, self.not_in_request.len())
            );
            let note = Note::new("number_not_in_request", text).with("number", number.clone());
            self.notes.push(note);
        }
        if let Some(number) = self.not_in_wording.first() {
            let text = format!(
                "The request has {}, and the wording does not give it. Add it to the wording.",
                such_as(number, self.not_in_wording.len())
            );
            let note = Note::new("number_not_in_wording", text).with("number", number.clone());
            self.notes.push(note);
        }
    }

    fn wrong_steps(&mut self, template: &Template, solved: u32) {
        for own in &template.errors {
            let code = own.step.code();
            let right = self.right.get(code).copied().unwrap_or_default();
            let (finding, text) = if right * DRAWS > RARE * solved {
                let text = format!(
                    "In {right} of {solved} problems, the wrong step `{code}` gives a value that counts as right. \
                     Change the ranges, or leave the wrong step out."
                );
                ("error_is_right", text)
            } else if !self.usable.contains_key(code) {
                let text = format!(
                    "The wrong step `{code}` never gives an option. {} Correct it, or leave it out.",
                    self.unfit.get(code).map_or("", String::as_str)
                );
                ("error_unused", text)
            } else {
                continue;
            };
            self.notes
                .push(Note::new(finding, text).with("error", code));
        }
        for ([one, other], draws) in &self.collisions {
            if 2 * draws > solved {
                let text = format!(
                    "In {draws} of {solved} problems, the wrong steps `{one}` and `{other}` give the same option. Leave \
                     one of them out."
                );
                let note = Note::new("errors_collide", text).with("error", one.clone());
                self.notes.push(note.with("other", other.clone()));
            }
        }
    }
}

/// A wrong value as an option would have it.
fn shown(value: &WrongValue, right: &Right<'_>) -> String {
    match value {
        WrongValue::Text(text) => text.clone(),
        WrongValue::Number(value) => {
            with_unit(&to_figures(value, right.figures.max(2)), right.unit)
        }
    }
}

/// A number, or one of several.
fn such_as(number: &str, count: usize) -> String {
    match count {
        1 => format!("the number {number}"),
        _ => format!("a number, such as {number}"),
    }
}

/// A reason why a draw gave no problem, with what an author can do about it.
fn of_reason(reason: &str) -> String {
    let advice = match reason {
        NOT_CAREFUL => "Compare the working with the request: both must give the same answer.",
        TOO_WIDE => "Name each quantity once in the working, or avoid small differences.",
        _ => "Change the ranges or the lists.",
    };
    format!("{reason}. {advice}")
}
