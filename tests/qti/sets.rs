//! The sets that are packaged here: each kind at each of its levels, with points and with commas.

use std::sync::OnceLock;

use effloresce::exercise::{Exercise, ExerciseSet, Exercises, Kind, Level};
use effloresce::qti::Package;

use super::opened::{Opened, OpenedItem, problems};

/// How many problems each kind has at each level.
const EACH: usize = 20;

pub(crate) struct Sample {
    pub(crate) sets: Vec<ExerciseSet>,
    pub(crate) comma: bool,
    pub(crate) options: bool,
    pub(crate) opened: Opened,
}

impl Sample {
    pub(crate) fn package(&self) -> Package<'_> {
        package(&self.sets, self.options)
    }

    /// Each problem with its item.
    pub(crate) fn pairs(&self) -> impl Iterator<Item = (&Exercise, &OpenedItem)> {
        let problems = problems(&self.sets);
        assert_eq!(problems.len(), self.opened.items.len());
        problems.into_iter().zip(&self.opened.items)
    }
}

fn package(sets: &[ExerciseSet], options: bool) -> Package<'_> {
    let package = Package::new(sets).unwrap().title("Problems");
    if options {
        package.with_options()
    } else {
        package
    }
}

/// The kinds with the levels that each has.
pub(crate) fn kinds() -> Vec<(Kind, Level)> {
    let all = Kind::ALL.into_iter();
    let all = all.flat_map(|kind| Level::ALL.map(|level| (kind, level)));
    let has = |kind: Kind, level: Level| {
        Exercises::new(1)
            .kinds([kind])
            .level(level)
            .problem(0)
            .is_ok()
    };
    all.filter(|(kind, level)| has(*kind, *level)).collect()
}

/// Each kind at each of its levels, with points and with commas, with options and without. They are made once.
pub(crate) fn samples() -> &'static [Sample] {
    static SAMPLES: OnceLock<Vec<Sample>> = OnceLock::new();
    SAMPLES.get_or_init(|| {
        let mut samples = Vec::new();
        for (kind, level) in kinds() {
            let exercises = Exercises::new(22).kinds([kind]).level(level);
            for (comma, exercises) in [
                (false, exercises.clone()),
                (true, exercises.decimal_comma()),
            ] {
                for options in [false, true] {
                    let sets = vec![exercises.set(EACH).unwrap()];
                    let opened = Opened::of(&package(&sets, options));
                    samples.push(Sample {
                        sets,
                        comma,
                        options,
                        opened,
                    });
                }
            }
        }
        samples
    })
}

/// The kinds whose entries are numbers and formulas that are worked out.
pub(crate) fn is_worked_out(kind: Kind) -> bool {
    !matches!(kind, Kind::Balance | Kind::ErrorAnalysis)
}

/// Does something with each problem of these kinds and its item.
pub(crate) fn each(
    chosen: impl Fn(Kind) -> bool,
    mut check: impl FnMut(&Sample, &Exercise, &OpenedItem),
) {
    for sample in samples() {
        for (problem, item) in sample.pairs().filter(|(problem, _)| chosen(problem.kind())) {
            check(sample, problem, item);
        }
    }
}
