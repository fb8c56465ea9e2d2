//! Versions of a set: alike, place by place, and with other answers.

use alloc::format;
use alloc::vec::Vec;

use super::course::Exercises;
use super::draw::DrawSource;
use super::error::{Error, ErrorKind, wrong};
use super::problem::Exercise;
use super::set::{ExerciseSet, check_count};

/// The largest number of versions: the letters from A to Z.
const MOST_VERSIONS: usize = 26;

impl Exercises {
    /// Returns versions of a set: A, B, C, and so on. Version A is the [`set`](Self::set).
    ///
    /// Place by place, the versions share kind, level, form, number of steps and number of significant figures. No
    /// two versions have the same answer at a place. A problem depends on the choices, its kind, its place and its
    /// version, not on how many problems and versions there are.
    ///
    /// ```
    /// use effloresce::exercise::{Exercises, Kind};
    /// let exercises = Exercises::new(7).kinds([Kind::PercentWater]);
    /// let versions = exercises.versions(3, 2)?;
    /// let (a, b) = (versions[0].problems(), versions[1].problems());
    /// assert_eq!(a, exercises.set(3)?.problems());
    /// assert_eq!(a[0].form(), b[0].form());
    /// assert_ne!(a[0].answer(), b[0].answer());
    /// assert_eq!(b[2].id(), "percent_water-7-3-B");
    /// # Ok::<(), effloresce::exercise::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`set`](Self::set). Also if the number of versions is not from 1 to 26, or if the salts to take and to avoid
    /// leave too few problems that differ.
    pub fn versions(&self, count: usize, versions: usize) -> Result<Vec<ExerciseSet>, Error> {
        self.versions_with(count, versions, |_| {})
    }

    /// As [`versions`](Self::versions). Also calls a function with each problem as soon as it is solved.
    ///
    /// # Errors
    /// As [`versions`](Self::versions).
    pub fn versions_with(
        &self,
        count: usize,
        versions: usize,
        mut done: impl FnMut(&Exercise),
    ) -> Result<Vec<ExerciseSet>, Error> {
        check_count(count)?;
        if !(1..=MOST_VERSIONS).contains(&versions) {
            let message = format!("a set cannot have {versions} versions");
            let help = format!("give a number from 1 to {MOST_VERSIONS}");
            return Err(wrong(ErrorKind::Count, message, help));
        }
        let source = DrawSource::new(self)?;
        let sets = (0..versions).map(|_| ExerciseSet::of(self));
        let mut sets: Vec<ExerciseSet> = sets.collect();
        for place in 0..count {
            for version in 0..versions {
                let (earlier, later) = sets.split_at_mut(version);
                let earlier: Vec<&Exercise> = earlier
                    .iter()
                    .filter_map(|set| set.problems.get(place))
                    .collect();
                let problem = self.at(place, &source, &earlier)?;
                done(&problem);
                if let Some(set) = later.first_mut() {
                    set.problems.push(problem);
                }
            }
        }
        Ok(sets)
    }
}
