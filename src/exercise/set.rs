//! A set of problems: each from the seed, its kind and its place.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::author::Template;
use super::course::Exercises;
use super::draft::{DraftProblem, Refusal};
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
/// A problem that must be like that of another version is drawn at most so often.
const MOST_VERSION_DRAWS: u32 = 4_000;

/// Problems with what they were made from.
#[derive(Debug, Clone, PartialEq)]
pub struct ExerciseSet {
    pub(super) exercises: Exercises,
    pub(super) problems: Vec<Exercise>,
    pub(super) generator: Cow<'static, str>,
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
    pub fn generator(&self) -> &str {
        &self.generator
    }

    /// A set without problems yet.
    pub(super) fn of(exercises: &Exercises) -> ExerciseSet {
        ExerciseSet {
            exercises: exercises.clone(),
            problems: Vec::new(),
            generator: Cow::Borrowed(GENERATOR),
        }
    }
}

impl Exercises {
    /// Returns the problems of a set.
    ///
    /// # Errors
    /// As [`problem`](Self::problem). Also if the number of problems is not from 1 to 10,000.
    pub fn set(&self, count: usize) -> Result<ExerciseSet, Error> {
        self.set_with(count, |_| {})
    }

    /// As [`set`](Self::set). Also calls a function with each problem as soon as it is solved, such as to show how
    /// much is done.
    ///
    /// # Errors
    /// As [`set`](Self::set).
    pub fn set_with(
        &self,
        count: usize,
        mut done: impl FnMut(&Exercise),
    ) -> Result<ExerciseSet, Error> {
        check_count(count)?;
        let source = DrawSource::new(self)?;
        let problems = (0..count).map(|place| self.at(place, &source, &[]).inspect(&mut done));
        Ok(ExerciseSet {
            problems: problems.collect::<Result<_, _>>()?,
            ..ExerciseSet::of(self)
        })
    }

    /// Returns one problem of a set. The places count from zero.
    ///
    /// # Errors
    /// Returns an error if the kind at this place does not have the level, if the salts to take and to avoid
    /// leave nothing to draw from, or if no draw gives a problem that can be solved. Returns an error for atomic
    /// weights that are rounded with halves to even, because no request can state them.
    pub fn problem(&self, place: usize) -> Result<Exercise, Error> {
        self.at(place, &DrawSource::new(self)?, &[])
    }

    /// The problem at a place of the version that follows these. They have theirs at the same place. If no level is
    /// chosen, what the choices leave decides it.
    pub(super) fn at(
        &self,
        place: usize,
        source: &DrawSource<'_>,
        earlier: &[&Exercise],
    ) -> Result<Exercise, Error> {
        let (kind, template) = self.kind_at(place)?;
        let row = KindRow::of(kind);
        let fixed = self.level.is_some() || template.is_some() || !earlier.is_empty();
        let level = match (earlier.first(), template) {
            (Some(first), _) => first.level,
            (None, Some(template)) => template.level(),
            (None, None) => level(self.level, kind, row, &mut self.sampler(kind, 0, place, 0))?,
        };
        let at_level = |level| self.at_level(place, source, earlier, (kind, template), level);
        let drawn = at_level(level);
        match &drawn {
            Err(error) if !fixed && may_change_with_level(error) => {}
            _ => return drawn,
        }
        let others = Level::ALL.into_iter();
        let mut others = others.filter(|other| *other != level && row.levels.contains(other));
        others
            .find_map(|other| at_level(other).ok())
            .map_or(drawn, Ok)
    }

    fn sampler(&self, kind: Kind, level: u32, place: usize, version: usize) -> Sampler {
        let level = u8::try_from(level).unwrap_or_default();
        let version = u8::try_from(version).unwrap_or(u8::MAX);
        Sampler::new(self.seed, kind.code(), level, place as u64, version)
    }

    fn at_level(
        &self,
        place: usize,
        source: &DrawSource<'_>,
        earlier: &[&Exercise],
        (kind, template): (Kind, Option<&Template>),
        level: Level,
    ) -> Result<Exercise, Error> {
        let row = KindRow::of(kind);
        let draws = match earlier {
            [] => MOST_DRAWS,
            _ => MOST_VERSION_DRAWS,
        };
        let id = id(kind, self.seed, place, earlier.len());
        let mut draw = Draw {
            source,
            sampler: self.sampler(kind, level.number(), place, earlier.len()),
            level,
            wanted: match template {
                None => earlier.first().map(|first| first.form.as_ref()),
                Some(_) => None,
            },
        };
        let mut last = String::new();
        for _ in 0..draws {
            draw.level = level;
            let drawn = match template {
                None => (row.draw)(&mut draw),
                Some(template) => template.draft(&mut draw),
            };
            let drawn = drawn.and_then(|draft| {
                if template.is_none() {
                    same_form(&draft, earlier)?;
                }
                let mut problem = prove(draft, &mut draw, id.clone(), kind)?;
                if let Some(template) = template {
                    problem.form = template.form().into();
                }
                same_pattern(problem, earlier)
            });
            match drawn {
                Ok(problem) => return Ok(problem),
                Err(Refusal::Exhausted(error)) => return Err(error),
                Err(Refusal::Again(reason)) => last = reason.into(),
                Err(Refusal::Refused(reason)) => last = reason,
            }
        }
        Err(self.no_problem(kind, earlier.len(), &last))
    }

    fn no_problem(&self, kind: Kind, version: usize, reason: &str) -> Error {
        let message = match version {
            0 => format!("{MOST_DRAWS} draws gave no problem of the kind `{kind}`"),
            _ => format!(
                "{MOST_VERSION_DRAWS} draws gave no problem of the kind `{kind}` for version {} that is like the other \
                 versions and has another answer",
                letter(version)
            ),
        };
        let help = match (version, self.is_free() && self.readability.is_none()) {
            (1.., _) => "allow more salts, or ask for fewer versions",
            (_, true) => "give another seed or another level",
            _ => "allow more salts, or give a balance with a smaller step",
        };
        wrong(
            ErrorKind::NoProblem,
            format!("{message}; the last because {reason}"),
            help,
        )
    }
}

/// Whether a problem of another level may have what this one lacks: what the choices leave, or numbers that do.
fn may_change_with_level(error: &Error) -> bool {
    matches!(error.kind(), ErrorKind::Exhausted | ErrorKind::NoProblem)
}

/// Refuses a number of problems that no set has.
pub(super) fn check_count(count: usize) -> Result<(), Error> {
    if (1..=MOST_PROBLEMS).contains(&count) {
        return Ok(());
    }
    let message = format!("a set cannot have {count} problems");
    let help = format!("give a number from 1 to {MOST_PROBLEMS}");
    Err(wrong(ErrorKind::Count, message, help))
}

/// The name of a problem. Those of the first version have no letter.
fn id(kind: Kind, seed: u64, place: usize, version: usize) -> String {
    let id = format!("{}-{seed}-{}", kind.code(), place + 1);
    match version {
        0 => id,
        version => format!("{id}-{}", letter(version)),
    }
}

/// The letter of a version: `A` is the first.
fn letter(version: usize) -> char {
    let letter = u32::try_from(version).ok();
    let letter = letter.and_then(|version| char::from_u32(u32::from('A') + version));
    letter.unwrap_or('?')
}

/// Refuses a draft of another form than the problems of earlier versions.
fn same_form(draft: &DraftProblem, earlier: &[&Exercise]) -> Result<(), Refusal> {
    match earlier.iter().all(|other| other.form == draft.form) {
        true => Ok(()),
        false => Err(Refusal::Again("the form is not that of the other versions")),
    }
}

/// The number of steps of a problem, and that of the significant figures of a number that it asks for.
fn pattern(problem: &Exercise) -> (usize, Option<usize>) {
    let digits = |answer: &String| {
        let digits = answer.chars().filter(char::is_ascii_digit);
        digits.skip_while(|digit| *digit == '0').count()
    };
    let figures = problem.tolerance.as_ref();
    let figures = figures.map(|_| problem.answers.iter().map(digits).sum());
    (problem.working.steps().len(), figures)
}

/// Refuses a problem with another number of steps or figures than those of earlier versions, or with their answer.
fn same_pattern(problem: Exercise, earlier: &[&Exercise]) -> Result<Exercise, Refusal> {
    let pattern = pattern(&problem);
    for other in earlier {
        if other.answers == problem.answers {
            return Err(Refusal::Again("the answer is that of another version"));
        }
        if other.level != problem.level {
            return Err(Refusal::Again(
                "the level is not that of the other versions",
            ));
        }
        if self::pattern(other) != pattern {
            return Err(Refusal::Again(
                "the steps or the figures are not those of the other versions",
            ));
        }
    }
    Ok(problem)
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
