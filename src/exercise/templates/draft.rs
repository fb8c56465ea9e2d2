//! A problem drawn from a template, before it is proved.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::exercise::author::{
    DrawnValue, DrawnValues, Evaluation, OwnField, OwnQuantity, OwnRequest, OwnValues,
    OwnWrongValue, StepResult, Template, TemplateText,
};
use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, to_figures, written};
use crate::exercise::error::{ErrorKind, wrong};
use crate::exercise::field::Field;
use crate::exercise::problem::with_unit;
use crate::exercise::request::Request;
use crate::exercise::solve::Solved;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::number::{Ratio, Reading};
use crate::working::{Step, Working};

/// An intermediate value is printed to this number of figures more than the answer.
const GUARD_FIGURES: u32 = 2;

const NO_VALUE: Refusal = Refusal::Again(
    "an expression of the template divides by zero, or a formula of it has no molar mass",
);

impl Template {
    /// Draws a problem. Its form is set after the proof, because it is not one of the crate's own.
    pub(in crate::exercise) fn draft(&self, draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
        let values = self.values(draw)?;
        let worded = self
            .wording
            .filled(|placeholder| values.worded(placeholder));
        let request = request(&self.request, &values, draw)?;
        let exact = self.evaluated(&values, draw.exact())?;
        let (asked, working) = match self.answer.figures {
            Some(figures) => {
                let careful = self.evaluated(&values, draw.careful(figures))?;
                let last = careful.results.last().ok_or(NO_VALUE)?;
                let asked = Asked::Number {
                    pointer: self.answer.pointer.clone(),
                    unit: self.answer.unit,
                    figures,
                    careful: last.value.clone(),
                };
                (asked, self.working(&values, draw.exact(), figures, "")?)
            }
            None => {
                // The proof says why if there is no text.
                let text = match request.answer(&self.answer.pointer) {
                    Ok(Solved::Text(text)) => text,
                    _ => String::new(),
                };
                let pointer = self.answer.pointer.clone();
                let asked = match self.errors.is_empty() {
                    true => Asked::Texts {
                        pointers: [pointer].into(),
                        parts: Vec::new(),
                    },
                    false => Asked::Formula { pointer },
                };
                (asked, self.working(&values, draw.exact(), 4, &text)?)
            }
        };
        Ok(DraftProblem {
            form: "",
            skills: self.skills.clone(),
            prompt: worded.ok_or(NO_VALUE)?,
            wrong: self.wrong(&exact, &request, draw),
            request,
            asked,
            working,
        })
    }

    /// Gives each quantity a value.
    pub(super) fn values<'t>(&'t self, draw: &mut Draw<'_>) -> Result<DrawnValues<'t>, Refusal> {
        let exercises = draw.source.exercises;
        let mut is_asked_for = exercises.salts.is_empty();
        let mut values = Vec::with_capacity(self.quantities.len());
        for quantity in &self.quantities {
            let value = match &quantity.values {
                OwnValues::Hydrate { least_waters } => {
                    is_asked_for = true;
                    let heats = self.heats();
                    let row = draw.hydrate_that(
                        match heats {
                            true => "no salt that a school may heat and that the template can use",
                            false => "no salt that the template can use",
                        },
                        |row| row.waters >= *least_waters && (row.heated || !heats),
                    );
                    let row = row.map_err(|refusal| match exercises.draws_from_all_of_the_pool() {
                        true => Refusal::Exhausted(wrong(
                            ErrorKind::Exhausted,
                            format!("the pool has no hydrate with at least {least_waters} waters for the template"),
                            "make `least_waters` smaller",
                        )),
                        false => refusal,
                    })?;
                    DrawnValue::Formula(row.hydrate.clone().into(), Some(row.name.clone()))
                }
                OwnValues::Formulas(formulas) => {
                    let (formula, asked_for) = one_formula(formulas, draw)?;
                    is_asked_for |= asked_for;
                    DrawnValue::Formula(formula.into(), None)
                }
                _ => number_or_word(quantity, draw)?,
            };
            values.push((quantity, value));
        }
        match is_asked_for {
            true => Ok(DrawnValues(values)),
            false => Err(Refusal::Exhausted(
                exercises.exhausted("no formula of the template"),
            )),
        }
    }

    /// The values of all steps along some paths of careful work. Intermediate values may be rounded, unless they
    /// are only sums.
    fn evaluated<'a, 't>(
        &'t self,
        values: &'a DrawnValues<'t>,
        work: &'a CarefulWork,
    ) -> Result<Evaluation<'a, 't>, Refusal> {
        let mut evaluation = Evaluation {
            values,
            work,
            results: Vec::with_capacity(self.working.len()),
        };
        for (index, step) in self.working.iter().enumerate() {
            let Some(expression) = &step.expression else {
                continue;
            };
            let value = evaluation.value(expression, &|_| None).ok_or(NO_VALUE)?;
            let is_last = index + 1 == self.working.len();
            let value = match is_last || expression.is_sum() {
                true => value,
                false => work.kept(&value).ok_or(NO_VALUE)?,
            };
            evaluation.results.push(StepResult {
                name: &step.name,
                what: String::new(),
                printed: String::new(),
                value,
            });
        }
        Ok(evaluation)
    }

    /// The steps as printed.
    fn working(
        &self,
        values: &DrawnValues<'_>,
        exact: &CarefulWork,
        figures: u32,
        conclusion: &str,
    ) -> Result<Working, Refusal> {
        let mut working = Working::default();
        let mut evaluation = Evaluation {
            values,
            work: exact,
            results: Vec::with_capacity(self.working.len()),
        };
        for (index, step) in self.working.iter().enumerate() {
            let what = worded(&step.what, values)?;
            let symbols = step
                .symbols
                .as_ref()
                .map(|text| worded(text, values))
                .transpose()?;
            let Some(expression) = &step.expression else {
                let symbols = symbols.unwrap_or_default();
                let concluded =
                    Step::new(what, symbols.clone(), symbols, conclusion.into(), step.unit);
                working.push(concluded.concluded());
                continue;
            };
            let value = evaluation.value(expression, &|_| None).ok_or(NO_VALUE)?;
            let is_last = index + 1 == self.working.len();
            let result = match is_last {
                true => to_figures(value.low(), figures),
                false => printed(value.low(), figures),
            };
            let relation = match symbols {
                Some(symbols) => symbols,
                None => evaluation.symbols(expression).ok_or(NO_VALUE)?,
            };
            let numbers = evaluation.numbers(expression).ok_or(NO_VALUE)?;
            evaluation.results.push(StepResult {
                name: &step.name,
                what: what.clone(),
                printed: with_unit(&result, step.unit),
                value,
            });
            working.push(Step::new(what, relation, numbers, result, step.unit));
        }
        Ok(working)
    }

    /// The wrong steps with their values. One without a value gives no option.
    fn wrong(
        &self,
        exact: &Evaluation<'_, '_>,
        request: &Request,
        draw: &Draw<'_>,
    ) -> Vec<(WrongStep, WrongValue)> {
        let at = |pointer: &str| match request.answer(pointer) {
            Ok(Solved::Number(number)) => Some(number),
            _ => None,
        };
        let wrong = self.errors.iter().filter_map(|own| {
            let value = match &own.value {
                OwnWrongValue::Expression(expression) => {
                    WrongValue::Number(exact.value(expression, &at)?.low().clone())
                }
                OwnWrongValue::Formula(text) => {
                    WrongValue::Text(exact.values.formula(text)?.to_string())
                }
                OwnWrongValue::Request(other, pointer) => {
                    let other = self::request(other, exact.values, draw).ok()?;
                    match other.answer(pointer).ok()? {
                        Solved::Number(number) => WrongValue::Number(number),
                        Solved::Text(text) => WrongValue::Text(text),
                    }
                }
            };
            Some((own.step.clone(), value))
        });
        wrong.collect()
    }
}

fn worded(text: &TemplateText, values: &DrawnValues<'_>) -> Result<String, Refusal> {
    text.filled(|placeholder| values.worded(placeholder))
        .ok_or(NO_VALUE)
}

/// An exact number if it is short, and otherwise one with more figures than the answer.
fn printed(value: &Ratio, figures: u32) -> String {
    let most = figures + GUARD_FIGURES;
    let plain = value.to_plain();
    let digits = plain.chars().filter(char::is_ascii_digit);
    match digits.skip_while(|digit| *digit == '0').count() <= most as usize && !plain.contains('/')
    {
        true => plain,
        false => to_figures(value, most),
    }
}

/// A formula that the choices leave, and whether it is among the salts to take.
fn one_formula(formulas: &[Formula], draw: &mut Draw<'_>) -> Result<(Formula, bool), Refusal> {
    let source = draw.source;
    let allowed = formulas.iter().filter(|formula| source.allows(formula));
    let allowed: Vec<&Formula> = allowed.collect();
    let asked = allowed.iter().filter(|formula| source.asks_for(formula));
    let asked: Vec<&Formula> = asked.copied().collect();
    let from = match asked.is_empty() {
        true => &allowed,
        false => &asked,
    };
    let drawn = draw.sampler.one_of(from).copied().cloned();
    let nothing = || Refusal::Exhausted(source.exercises.exhausted("no formula of the template"));
    Ok((drawn.ok_or_else(nothing)?, !asked.is_empty()))
}

fn number_or_word(quantity: &OwnQuantity, draw: &mut Draw<'_>) -> Result<DrawnValue, Refusal> {
    const EMPTY: Refusal = Refusal::Again("a list of the template is empty");
    match &quantity.values {
        OwnValues::Range {
            from,
            to,
            step,
            balance,
        } => {
            let readability = draw.source.exercises.readability.filter(|_| *balance);
            range([from, to, step], readability, draw).map(DrawnValue::Number)
        }
        OwnValues::Numbers(numbers) => {
            let drawn = draw.sampler.one_of(numbers).copied();
            drawn.map(DrawnValue::Number).ok_or(EMPTY)
        }
        OwnValues::Words(words) => {
            let drawn = draw.sampler.one_of(words).cloned();
            drawn.map(DrawnValue::Word).ok_or(EMPTY)
        }
        OwnValues::Formulas(_) | OwnValues::Hydrate { .. } => Err(EMPTY),
    }
}

/// A number of a range. If the balance decides, it is a multiple of what the balance shows.
fn range(
    [from, to, step]: [&Reading; 3],
    readability: Option<Reading>,
    draw: &mut Draw<'_>,
) -> Result<Reading, Refusal> {
    const COARSE: Refusal =
        Refusal::Again("the step of the balance is too large for a quantity of the template");
    if let Some(readability) = readability {
        let mass = draw.mass(&from.value(), &to.value(), &readability)?;
        return match mass.value() <= to.value() {
            true => Ok(mass),
            false => Err(COARSE),
        };
    }
    let steps = (to.value() - from.value()).checked_div(&step.value());
    let steps = steps.and_then(|steps| i64::try_from(steps.floor().to_i128()?).ok());
    let drawn = draw.sampler.between(0, steps.ok_or(COARSE)?);
    let value = from.value() + step.value() * drawn;
    written(&value, from.decimal_places().max(step.decimal_places()))
}

fn request(
    own: &OwnRequest,
    values: &DrawnValues<'_>,
    draw: &Draw<'_>,
) -> Result<Request, Refusal> {
    let mut request = Request::new(own.operation, draw.weights());
    for (name, value) in &own.fields {
        let name = name
            .filled(|placeholder| values.plain(placeholder))
            .ok_or(NO_VALUE)?;
        request = request.with(name, field(value, values)?);
    }
    Ok(request)
}

fn field(own: &OwnField, values: &DrawnValues<'_>) -> Result<Field, Refusal> {
    let plain = |text: &TemplateText| {
        text.filled(|placeholder| values.plain(placeholder))
            .ok_or(NO_VALUE)
    };
    Ok(match own {
        OwnField::Text(text) => Field::Text(plain(text)?),
        OwnField::List(list) => {
            let list = list.iter().map(|value| field(value, values));
            Field::List(list.collect::<Result<_, Refusal>>()?)
        }
        OwnField::Object(members) => {
            let members = members
                .iter()
                .map(|(name, value)| Ok((plain(name)?, field(value, values)?)));
            Field::Object(members.collect::<Result<_, Refusal>>()?)
        }
    })
}
