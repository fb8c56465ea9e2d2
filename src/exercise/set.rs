//! A set of problems: each from the seed, its kind and its place.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::course::Exercises;
use super::draft::Refusal;
use super::draw::{Draw, DrawSource};
use super::error::{Error, ErrorKind, wrong};
use super::kind::{Kind, Level};
use super::kinds::KindRow;
use super::problem::Exercise;
use super::proof::prove;
use super::sampler::Sampler;

/// The generator of problems. With another name, the same seed gives other problems.
pub(super) const GENERATOR: &str = "effloresce exercise 1 (ChaCha20), pool 1";
/// The largest number of problems of a set.
const MOST_PROBLEMS: usize = 10_000;
/// A problem is drawn at most so often.
const MOST_DRAWS: u32 = 200;

/// Problems with what they were made from.
#[derive(Debug, Clone, PartialEq)]
pub struct ExerciseSet {
    exercises: Exercises,
    problems: Vec<Exercise>,
}

impl ExerciseSet {
    /// Returns the problems, in order.
    #[must_use]
    pub fn problems(&self) -> &[Exercise] {
        &self.problems
    }

    /// Returns what the author chose.
    #[must_use]
    pub fn exercises(&self) -> &Exercises {
        &self.exercises
    }

    /// Returns the name and the version of the generator and of its pool. Sets with the same name have the same
    /// problems for the same choices.
    #[must_use]
    pub fn generator(&self) -> &'static str {
        GENERATOR
    }
}

impl Exercises {
    /// Returns the problems of a set.
    ///
    /// # Errors
    /// As [`problem`](Self::problem). Also if the number of problems is not from 1 to 10,000.
    pub fn set(&self, count: usize) -> Result<ExerciseSet, Error> {
        if !(1..=MOST_PROBLEMS).contains(&count) {
            let message = format!("a set cannot have {count} problems");
            let help = format!("give a number from 1 to {MOST_PROBLEMS}");
            return Err(wrong(ErrorKind::Count, message, help));
        }
        let source = DrawSource::new(self);
        let problems = (0..count).map(|place| self.at(place, &source));
        Ok(ExerciseSet {
            problems: problems.collect::<Result<_, _>>()?,
            exercises: self.clone(),
        })
    }

    /// Returns one problem of a set. The places count from zero.
    ///
    /// # Errors
    /// Returns an error if the kind at this place does not have the level, if the salts to take and to avoid
    /// leave nothing to draw from, or if no draw gives a problem that can be solved.
    pub fn problem(&self, place: usize) -> Result<Exercise, Error> {
        self.at(place, &DrawSource::new(self))
    }

    fn at(&self, place: usize, source: &DrawSource<'_>) -> Result<Exercise, Error> {
        let kinds = &self.kinds;
        let kind = kinds
            .get(place % kinds.len().max(1))
            .copied()
            .unwrap_or(Kind::PercentWater);
        let row = KindRow::of(kind);
        let mut sampler = Sampler::new(self.seed, kind.code(), place as u64);
        let level = level(self.level, kind, row, &mut sampler)?;
        let id = format!("{}-{}-{}", kind.code(), self.seed, place + 1);
        let mut draw = Draw {
            source,
            sampler,
            level,
        };
        let mut last = "";
        for _ in 0..MOST_DRAWS {
            let drawn =
                (row.draw)(&mut draw).and_then(|draft| prove(draft, &mut draw, id.clone(), kind));
            match drawn {
                Ok(problem) => return Ok(problem),
                Err(Refusal::Exhausted(error)) => return Err(error),
                Err(Refusal::Again(reason)) => last = reason,
            }
        }
        Err(self.no_problem(kind, last))
    }

    fn no_problem(&self, kind: Kind, reason: &str) -> Error {
        let message = format!(
            "{MOST_DRAWS} draws gave no problem of the kind `{kind}`; the last because {reason}"
        );
        let help = match self.is_free() && self.readability.is_none() {
            true => "give another seed or another level",
            false => "allow more salts, or give a balance with a smaller step",
        };
        wrong(ErrorKind::NoProblem, message, help)
    }
}

/// The level that is chosen, or one of the kind's.
fn level(
    chosen: Option<Level>,
    kind: Kind,
    row: &KindRow,
    sampler: &mut Sampler,
) -> Result<Level, Error> {
    let Some(level) = chosen else {
        let drawn = sampler.one_of(row.levels).copied();
        return Ok(drawn.unwrap_or(Level::OneStep));
    };
    if row.levels.contains(&level) {
        return Ok(level);
    }
    let numbers: Vec<String> = row
        .levels
        .iter()
        .map(|level| format!("{}", level.number()))
        .collect();
    let message = format!(
        "problems of the kind `{kind}` have no level {}",
        level.number()
    );
    let help = format!(
        "give level {}",
        crate::text::list(numbers).replace(" and ", " or ")
    );
    Err(wrong(ErrorKind::Level, message, help))
}
