//! The entries of a problem while they are made.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::freedom::half_unit;
use super::line::{LineReader, WorkedLine};
use super::printed::{PrintedNumber, with_points};
use super::source::{ValueSource, ValueSources};
use crate::exercise::{Exercise, Field};
use crate::gravimetry::Interval;
use crate::number::{Ratio, Reading};
use crate::qti::entry::{
    Carry, ChoiceAnswer, EntryAnswer, Extreme, Follows, ItemEntry, NumberAnswer, SpellingAnswer,
    with_mark, with_point,
};
use crate::working::Step;

/// The figures of intermediate values if the answer is a formula or has fewer.
const LEAST_FIGURES: u32 = 3;

pub(super) struct EntryBuilder<'a> {
    pub(super) problem: &'a Exercise,
    /// Whether the set writes decimal commas.
    pub(super) comma: bool,
    /// The significant figures that intermediate values keep: as many as the answer has.
    pub(super) figures: u32,
    pub(super) sources: ValueSources,
    pub(super) entries: Vec<ItemEntry<'a>>,
    /// What a choice among residues stands for in the last step.
    pub(super) chosen_residue: Option<ValueSource>,
}

/// A number that is to be entered.
pub(super) struct AskedNumber<'a> {
    pub(super) label: Cow<'a, str>,
    /// As printed, without its unit.
    pub(super) printed: Cow<'a, str>,
    pub(super) unit: Cow<'a, str>,
    pub(super) symbol: String,
    /// Whether it is the answer of the problem.
    pub(super) is_answer: bool,
}

impl<'a> EntryBuilder<'a> {
    pub(super) fn new(problem: &'a Exercise, comma: bool) -> EntryBuilder<'a> {
        let figures = match (problem.tolerance(), problem.answers()) {
            (Some(_), [answer, ..]) => {
                let read = with_point(answer).parse::<Reading>().ok();
                read.map_or(LEAST_FIGURES, |read| read.figures().at_most())
            }
            _ => LEAST_FIGURES,
        };
        EntryBuilder {
            problem,
            comma,
            figures: figures.max(LEAST_FIGURES),
            sources: ValueSources {
                all: Vec::new(),
                prompt: with_points(problem.prompt()),
            },
            entries: Vec::new(),
            chosen_residue: None,
        }
    }

    /// Reads a line of a step.
    pub(super) fn line(&self, step: &Step, numbers: &str) -> Option<WorkedLine> {
        let reader = LineReader {
            sources: &self.sources,
            what: step.what(),
            figures: self.figures,
            // The molar masses of elements are those of the table.
            rounds_molar_masses: step.symbols().contains("M("),
        };
        reader.read(numbers, &with_points(step.symbols()))
    }

    /// Adds an entry for a number, with what follows from earlier entries if the line gives the number. Returns
    /// whether the line does; `None` if it is not a number.
    pub(super) fn number(
        &mut self,
        asked: AskedNumber<'a>,
        line: Option<WorkedLine>,
    ) -> Option<bool> {
        let printed = with_points(&asked.printed);
        let read = PrintedNumber::read(&printed)?;
        let proved = line.and_then(|line| {
            let exact = line.exact().filter(|exact| read.is_of(exact))?;
            Some((line.careful()?, exact, line))
        });
        let is_proved = proved.is_some();
        let line = proved.as_ref().map(|(.., line)| line);
        let is_difference = line.is_some_and(WorkedLine::is_difference);
        let (exact, careful) = match &proved {
            Some((careful, exact, _)) => (exact.clone(), careful.clone()),
            None => (read.value.clone(), Interval::point(read.value.clone())),
        };
        let right = match self.problem.tolerance().filter(|_| asked.is_answer) {
            Some(tolerance) => tolerance.clone(),
            None => {
                let all = careful.clone().join(Interval::point(read.value.clone()));
                all.widened(&half_unit(&exact, self.figures))
            }
        };
        let follows = proved.and_then(|(_, exact, line)| {
            let rounding = match asked.is_answer {
                true => read.half.clone(),
                false => half_unit(&exact, self.figures),
            };
            Some(Follows {
                slack: line.slack(&exact, self.figures)?,
                value: line.carry()?,
                rounding,
            })
        });
        self.sources.all.push(ValueSource {
            printed: match &*asked.unit {
                "" => printed.clone(),
                unit => format!("{printed} {unit}"),
            },
            symbol: asked.symbol,
            what: asked.label.clone().into_owned(),
            carry: Carry::Entry(self.entries.len()),
            exact,
            careful,
            is_rounded: !is_difference,
        });
        self.push(
            asked.label,
            asked.unit,
            EntryAnswer::Number(NumberAnswer {
                printed: asked.printed,
                low: right.low().clone(),
                high: right.high().clone(),
                follows,
            }),
        );
        Some(is_proved)
    }

    /// Adds an entry for a number that is not rounded: one of atoms, or of waters.
    pub(super) fn count(
        &mut self,
        label: impl Into<Cow<'a, str>>,
        unit: &'static str,
        count: &Ratio,
        symbol: String,
        follows: Option<Carry>,
    ) {
        let label = label.into();
        let printed = format!("{count}");
        self.sources.all.push(ValueSource {
            printed: printed.clone(),
            symbol,
            what: label.clone().into_owned(),
            carry: Carry::Entry(self.entries.len()),
            exact: count.clone(),
            careful: Interval::point(count.clone()),
            is_rounded: false,
        });
        let answer = NumberAnswer {
            printed: with_mark(printed, self.comma).into(),
            low: count.clone(),
            high: count.clone(),
            follows: follows.map(|value| Follows {
                value,
                slack: Ratio::ZERO,
                rounding: Ratio::ZERO,
            }),
        };
        self.push(label, unit.into(), EntryAnswer::Number(answer));
    }

    /// Adds an entry for a formula that is written down.
    pub(super) fn spelling(&mut self, label: impl Into<Cow<'a, str>>, formula: Cow<'a, str>) {
        let answer = SpellingAnswer {
            accepted: crate::qti::spelling::accepted(&formula),
            printed: formula,
        };
        self.push(label.into(), "".into(), EntryAnswer::Spelling(answer));
    }

    /// Adds a choice, and returns its index. `None` if the right option is not among them.
    pub(super) fn choice(
        &mut self,
        label: &'a str,
        options: Vec<Cow<'a, str>>,
        right: &str,
        follows: Option<(Extreme, Vec<Carry>)>,
    ) -> Option<usize> {
        let right = options.iter().position(|option| option == right)?;
        let answer = ChoiceAnswer {
            options,
            right,
            follows,
        };
        self.push(label.into(), "".into(), EntryAnswer::Choice(answer));
        Some(self.entries.len() - 1)
    }

    /// Forgets the sources that entries from this index on would have given.
    pub(super) fn forget(&mut self, from: usize) {
        self.sources.all.retain(|source| {
            let mut used = Vec::new();
            source.carry.used(&mut used);
            used.iter().all(|index| *index < from)
        });
    }

    fn push(&mut self, label: Cow<'a, str>, unit: Cow<'a, str>, answer: EntryAnswer<'a>) {
        self.entries.push(ItemEntry {
            label,
            unit,
            answer,
            errors: Vec::new(),
        });
    }

    /// The texts of a list in the request.
    pub(super) fn listed(&self, name: &str) -> Vec<&'a str> {
        let mut fields = self.problem.request().fields().iter();
        let list = fields.find(|(own, _)| own == name).map(|(_, field)| field);
        match list {
            Some(Field::List(list)) => list.iter().filter_map(text_of).collect(),
            _ => Vec::new(),
        }
    }
}

/// A text, or the formula of an object.
fn text_of(field: &Field) -> Option<&str> {
    match field {
        Field::Text(text) => Some(text),
        Field::Object(members) => {
            let (_, formula) = members.iter().find(|(name, _)| name == "formula")?;
            text_of(formula)
        }
        Field::List(_) => None,
    }
}
