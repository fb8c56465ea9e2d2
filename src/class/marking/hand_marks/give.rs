//! Marks given by hand to the answers of a class.

use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::hand_mark::{HandMark, HandMarks, bad};
use crate::class::marking::answer::{Answer, Judgement};
use crate::class::marking::marked::Marked;
use crate::class::marking::marked_row::MarkedRow;
use crate::class::marking::verdict::Verdict;
use crate::class::{Error, Marks};
use crate::gravimetry::Quantity;
use crate::text::{Note, list, one_line, shorten, visible};

/// The most pupils of a bench that a message names.
const MOST_NAMED: usize = 3;

/// The indices of the rows by bench and pupil.
type RowsByName = BTreeMap<[String; 2], Vec<usize>>;

impl Marked {
    /// Gives marks by hand to the answers that are [still to be marked by
    /// hand](crate::class::Answer::by_hand).
    ///
    /// Rows are found by bench and pupil, and by the period if it is given. Case does not matter, nor
    /// does the apostrophe that a gradebook puts before a name that would be a formula. If the answer
    /// that was marked is noted, it must still be what was handed in.
    ///
    /// The answers of a bench that could not be worked out are open, too. What was wrong with the cell of an
    /// answer that is marked is no longer a [problem](Marked::problems). If the list says out of how many marks
    /// an answer was marked, and the policy now gives another number, the note `hand_marks_out_of` says so.
    ///
    /// # Errors
    /// Fails for marks that fit no open answer of the class or several of them, that are more than the
    /// answer can earn, or that are not a multiple of the policy's
    /// [step](crate::class::Policy::step). No mark is left out silently.
    pub fn with_hand_marks(mut self, marks: &HandMarks) -> Result<Marked, Error> {
        let rows = self.rows_by_name();
        for mark in &marks.0 {
            self.give(mark, &rows)?;
        }
        self.settle_problems();
        let note = self.other_maximum(marks, &rows);
        self.notes.extend(note);
        Ok(self)
    }

    /// Gives those marks by hand that fit, and leaves the other answers open.
    ///
    /// An older policy may have had whole marks only, or fewer marks for an answer. What was given by hand
    /// under the policy of today then compares with an open answer.
    #[must_use]
    pub fn with_fitting_hand_marks(mut self, marks: &HandMarks) -> Marked {
        let rows = self.rows_by_name();
        for mark in &marks.0 {
            // What does not fit stays open, and is seen to be so.
            let _ = self.give(mark, &rows);
        }
        self.settle_problems();
        self
    }

    /// Returns the note on marks that were given out of another number than the policy now gives.
    fn other_maximum(&self, marks: &HandMarks, rows: &RowsByName) -> Option<Note> {
        let differing = marks.0.iter().filter_map(|mark| {
            let most = mark.out_of?;
            let rows = rows.get(&mark.name())?.iter();
            let rows = rows.filter_map(|index| self.rows.get(*index));
            let of_mark = rows.filter(|row| mark.is_of_period(row));
            let mut answers = of_mark.filter_map(|row| row.any_answer(mark.quantity));
            let now = answers.find(|answer| answer.marked_by_hand() && mark.is_for(answer))?;
            (now.out_of() != most).then(|| (mark, most, now.out_of()))
        });
        let differing: Vec<_> = differing.collect();
        let (mark, was, is) = differing.first()?;
        let mut text = format!(
            "Marks by hand, line {}: the {} was marked out of {was} and is now out of {is}. What was given still \
             counts. Check it.",
            mark.line, mark.quantity
        );
        match differing.len() - 1 {
            0 => {}
            1 => text += " The same is true of 1 other line.",
            others => text += &format!(" The same is true of {others} other lines."),
        }
        let note = Note::new("hand_marks_out_of", text);
        Some(
            note.with("line", mark.line.to_string())
                .with("lines", differing.len().to_string()),
        )
    }

    fn rows_by_name(&self) -> RowsByName {
        let rows = self.rows.iter().enumerate();
        let mut indices = RowsByName::new();
        for (index, row) in rows {
            let name = [row.bench(), row.pupil().unwrap_or_default()].map(comparable);
            indices.entry(name).or_default().push(index);
        }
        indices
    }

    fn give(&mut self, mark: &HandMark, rows: &RowsByName) -> Result<(), Error> {
        let rows = rows.get(&mark.name()).map_or(&[][..], Vec::as_slice);
        let index = self.row_of(mark, rows)?;
        let quantity = mark.quantity;
        let answers = self.rows.get_mut(index).map(MarkedRow::answers_mut);
        let answer = answers.and_then(|all| all.iter_mut().find(|a| a.quantity == quantity));
        if let Some(answer) = answer {
            check(mark, answer, self.step.admits(mark.marks))?;
            answer.judgement = Judgement::ByHand;
            answer.marks = mark.marks;
        }
        Ok(())
    }

    /// Removes the problems of answers that are marked by hand. Nothing is left to do about them.
    fn settle_problems(&mut self) {
        let marked = self.rows.iter().flat_map(|row| {
            let answers = row
                .answers()
                .iter()
                .filter(|answer| answer.marked_by_hand());
            answers.map(|answer| (row.line(), answer.quantity()))
        });
        let marked: BTreeSet<(u64, Quantity)> = marked.collect();
        self.problems.retain(|problem| {
            let answer = problem
                .quantity()
                .map(|quantity| (problem.line(), quantity));
            !answer.is_some_and(|answer| marked.contains(&answer))
        });
    }

    /// Returns the index of the only one of these rows with the open answer that was marked.
    fn row_of(&self, mark: &HandMark, indices: &[usize]) -> Result<usize, Error> {
        let rows = indices
            .iter()
            .filter_map(|index| Some((*index, self.rows.get(*index)?)));
        let rows: Vec<(usize, &MarkedRow)> =
            rows.filter(|(_, row)| mark.is_of_period(row)).collect();
        let answers = rows.iter().filter_map(|(index, row)| {
            let answer = row.any_answer(mark.quantity)?;
            row.awaits_a_person(answer).then_some((*index, answer))
        });
        let open: Vec<(usize, &Answer)> = answers.collect();
        let same = open.iter().filter(|(_, answer)| mark.is_for(answer));
        match same.map(|(index, _)| *index).collect::<Vec<usize>>()[..] {
            [index] => Ok(index),
            [] if rows.is_empty() => Err(mark.fits_no_row(&self.rows)),
            [] => Err(mark.fits_nothing(&rows, &open)),
            [..] => {
                let what = format!("several rows of {} have an open answer", mark.owner());
                let help = "name each pupil in the sheet and here, and mark each answer";
                Err(bad(mark.line, "pupil", &what, help))
            }
        }
    }
}

fn check(mark: &HandMark, answer: &Answer, whole_steps: bool) -> Result<(), Error> {
    let (marks, quantity, out_of) = (mark.marks, mark.quantity, answer.out_of());
    if marks > out_of || marks < Marks::ZERO {
        let what = format!("the {quantity} can earn at most {out_of}, not {marks}");
        let help = format!("give a number of marks from 0 to {out_of}");
        return Err(bad(mark.line, "marks", &what, help));
    }
    if !whole_steps {
        let what = format!("the policy has whole marks only, not {marks}");
        let help = "give whole marks, or allow halves in the policy with `step = 0.5`";
        return Err(bad(mark.line, "marks", &what, help));
    }
    Ok(())
}

impl HandMark {
    /// Returns the bench and the pupil as they are compared.
    fn name(&self) -> [String; 2] {
        [&self.bench, &self.pupil].map(|name| comparable(name))
    }

    fn is_of_period(&self, row: &MarkedRow) -> bool {
        let period = self.period.as_deref().map(comparable);
        period.is_none_or(|period| period == comparable(row.period().unwrap_or_default()))
    }

    /// Returns whether this answer is the one that was marked.
    fn is_for(&self, answer: &Answer) -> bool {
        let reported = self.reported.as_deref().map(comparable);
        reported.is_none_or(|reported| reported == comparable(answer.reported()))
    }

    /// Returns the reason why no row has this bench, pupil and period.
    fn fits_no_row(&self, rows: &[MarkedRow]) -> Error {
        let bench = comparable(&self.bench);
        let of_bench = rows.iter().filter(|row| comparable(row.bench()) == bench);
        let pupils: BTreeSet<&str> = of_bench.filter_map(MarkedRow::pupil).collect();
        let first = pupils.iter().take(MOST_NAMED);
        let names = list(first.map(|pupil| format!("`{}`", shorten(pupil))));
        if !pupils.is_empty() && self.pupil.is_empty() {
            let what = format!("bench `{}` has pupils, and none is named", self.bench);
            let help = format!("write the pupil as in the sheet, such as {names}");
            return bad(self.line, "pupil", &what, help);
        }
        let what = format!("no row of the sheet has {}", self.owner());
        let help = "write bench, pupil and period as in the sheet";
        bad(self.line, "bench", &what, help)
    }

    /// Returns the reason why the marks fit no open answer of these rows.
    fn fits_nothing(&self, rows: &[(usize, &MarkedRow)], open: &[(usize, &Answer)]) -> Error {
        let (line, quantity, owner) = (self.line, self.quantity, self.owner());
        let remove = "remove this row, or correct the bench, the pupil or the quantity";
        if let [(_, answer), ..] = open {
            let now = one_line(answer.reported());
            let what = format!("the {quantity} of {owner} is now `{now}`");
            let help = "mark it again and write the answer as in the sheet, or leave it blank";
            return bad(line, "reported", &what, help);
        }
        let mut answers = rows.iter().filter_map(|(_, row)| row.any_answer(quantity));
        let what = match answers.next() {
            None => format!("{owner} was not asked for the {quantity}"),
            Some(answer) if answer.verdict() == Verdict::Missing => {
                format!("{owner} handed in no {quantity}")
            }
            Some(answer) if answer.marked_by_hand() => {
                format!("the {quantity} of {owner} is marked twice in this file")
            }
            Some(answer) => {
                let (marks, out_of) = (answer.marks(), answer.out_of());
                format!("the {quantity} of {owner} is not open: it has {marks} of {out_of}")
            }
        };
        bad(line, "quantity", &what, remove.to_string())
    }
}

/// Returns a text as it is compared. Spreadsheets keep or drop an apostrophe at its beginning.
fn comparable(text: &str) -> String {
    let text = one_line(text);
    let shown = visible(&text);
    let letters = shown.chars().filter(|c| *c != '\'');
    letters.flat_map(char::to_lowercase).collect()
}
