//! The file of marks that are given by hand: read, or written to be filled in.

use std::path::Path;

use effloresce::class::{Answer, HandMarks, Marked, MarkedRow};
use effloresce::report;

use crate::command_line::explain;
use crate::files::Output;
use crate::input;

/// The most open answers that are named.
const MOST_NAMED: usize = 5;

/// The file of the option `--by-hand`, if it was given.
pub(crate) struct ByHand<'a> {
    path: Option<&'a Path>,
    /// `None` if there is no file yet.
    marks: Option<HandMarks>,
}

impl<'a> ByHand<'a> {
    pub(crate) fn read(path: Option<&'a Path>) -> Result<Self, String> {
        let marks = match path.filter(|path| path.symlink_metadata().is_ok()) {
            None => None,
            Some(path) => {
                let read = HandMarks::read(input::open(path)?);
                Some(read.map_err(|error| failure(path, error))?)
            }
        };
        Ok(ByHand { path, marks })
    }

    /// The class with the marks of the file.
    pub(crate) fn given_to(&self, marked: Marked) -> Result<Marked, String> {
        match (self.path, &self.marks) {
            (Some(path), Some(marks)) => {
                let given = marked.with_hand_marks(marks);
                given.map_err(|error| failure(path, error))
            }
            _ => Ok(marked),
        }
    }

    /// The class by an older policy, with those marks of the file that it admits.
    pub(crate) fn fitted_to(&self, marked: Marked) -> Marked {
        match &self.marks {
            Some(marks) => marked.with_fitting_hand_marks(marks),
            None => marked,
        }
    }

    /// The file to fill in, if there is none yet and an answer is open.
    pub(crate) fn to_fill_in(&self, marked: &Marked) -> Result<Option<Output>, String> {
        let (Some(path), None) = (self.path, &self.marks) else {
            return Ok(None);
        };
        if open(marked).next().is_none() {
            return Ok(None);
        }
        let mut bytes = Vec::new();
        report::write_open_answers(marked, &mut bytes)
            .map_err(|error| format!("--by-hand: the file could not be written: {error}"))?;
        Ok(Some(Output::new("--by-hand", path, bytes)))
    }

    /// What to do about the answers that are still open, if there are any and marks are given by hand.
    pub(crate) fn still_open(&self, marked: &Marked) -> Option<String> {
        let path = self.path?.display();
        let (count, first) = (open(marked).count(), named(marked));
        let answers = match count {
            0 => return None,
            1 => "1 answer is".to_string(),
            _ => format!("{count} answers are"),
        };
        let what = format!("{answers} still to be marked by hand: {first}.");
        Some(match self.marks {
            None => format!("{what} Fill in the marks in {path}, and run this again."),
            Some(_) => format!("{what} Give each a row with its marks in {path}."),
        })
    }
}

fn open(marked: &Marked) -> impl Iterator<Item = (&MarkedRow, &Answer)> {
    let rows = marked.rows().iter();
    rows.flat_map(|row| row.open_answers().map(move |answer| (row, answer)))
}

/// The first open answers.
fn named(marked: &Marked) -> String {
    let names = open(marked).take(MOST_NAMED).map(|(row, answer)| {
        let names = [Some(row.bench()), row.pupil()];
        let names: Vec<&str> = names.into_iter().flatten().collect();
        format!("the {} of {}", answer.quantity(), names.join(", "))
    });
    let mut names: Vec<String> = names.collect();
    let others = open(marked).count() - names.len();
    names.extend((others > 0).then(|| format!("{others} more")));
    names.join("; ")
}

fn failure(path: &Path, error: effloresce::class::Error) -> String {
    format!("{}: {}", path.display(), explain(&error.into()))
}
