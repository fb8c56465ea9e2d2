//! Marks given by hand to the answers of a class.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::hand_mark::{HandMark, HandMarks, bad};
use crate::class::marking::answer::{Answer, Judgement};
use crate::class::marking::marked::Marked;
use crate::class::marking::marked_row::MarkedRow;
use crate::class::{Error, Marks};
use crate::text::{one_line, visible};

impl Marked {
    /// Gives marks by hand to the answers that are [still to be marked by
    /// hand](crate::class::Answer::by_hand).
    ///
    /// Rows are found by bench and pupil, and by the period if it is given. Case does not matter, nor
    /// does the apostrophe that a gradebook puts before a name that would be a formula. If the answer
    /// that was marked is noted, it must still be what was handed in.
    ///
    /// # Errors
    /// Fails for marks that fit no open answer of the class or several of them, that are more than the
    /// answer can earn, or that are not a multiple of the policy's
    /// [step](crate::class::Policy::step). No mark is left out silently.
    pub fn with_hand_marks(mut self, marks: &HandMarks) -> Result<Marked, Error> {
        let rows = self.rows.iter().enumerate();
        let mut indices: BTreeMap<[String; 2], Vec<usize>> = BTreeMap::new();
        for (index, row) in rows {
            let name = [row.bench(), row.pupil().unwrap_or_default()].map(comparable);
            indices.entry(name).or_default().push(index);
        }
        for mark in &marks.0 {
            let name = [&mark.bench, &mark.pupil].map(|name| comparable(name));
            let rows = indices.get(&name).map_or(&[][..], Vec::as_slice);
            let index = self.row_of(mark, rows)?;
            let quantity = mark.quantity;
            let answers = self.rows.get_mut(index).map(MarkedRow::answers_mut);
            let answer = answers.and_then(|all| all.iter_mut().find(|a| a.quantity == quantity));
            if let Some(answer) = answer {
                check(mark, answer, self.step.admits(mark.marks))?;
                answer.judgement = Judgement::ByHand;
                answer.marks = mark.marks;
            }
        }
        Ok(self)
    }

    /// Returns the index of the only one of these rows with the open answer that was marked.
    fn row_of(&self, mark: &HandMark, indices: &[usize]) -> Result<usize, Error> {
        let rows = indices
            .iter()
            .filter_map(|index| Some((*index, self.rows.get(*index)?)));
        let rows: Vec<(usize, &MarkedRow)> =
            rows.filter(|(_, row)| mark.is_of_period(row)).collect();
        let answers = rows
            .iter()
            .filter_map(|(index, row)| Some((*index, row.answer(mark.quantity)?)));
        let open: Vec<(usize, &Answer)> = answers.filter(|(_, answer)| answer.by_hand()).collect();
        let same = open.iter().filter(|(_, answer)| mark.is_for(answer));
        match same.map(|(index, _)| *index).collect::<Vec<usize>>()[..] {
            [index] => Ok(index),
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
    fn is_of_period(&self, row: &MarkedRow) -> bool {
        let period = self.period.as_deref().map(comparable);
        period.is_none_or(|period| period == comparable(row.period().unwrap_or_default()))
    }

    /// Returns whether this answer is the one that was marked.
    fn is_for(&self, answer: &Answer) -> bool {
        let reported = self.reported.as_deref().map(comparable);
        reported.is_none_or(|reported| reported == comparable(answer.reported()))
    }

    /// Returns the reason why the marks fit no open answer of these rows.
    fn fits_nothing(&self, rows: &[(usize, &MarkedRow)], open: &[(usize, &Answer)]) -> Error {
        let (line, quantity, owner) = (self.line, self.quantity, self.owner());
        let remove = "remove this row, or correct the bench, the pupil or the quantity";
        if rows.is_empty() {
            let what = format!("no row of the sheet has {owner}");
            return bad(
                line,
                "bench",
                &what,
                "write bench, pupil and period as in the sheet",
            );
        }
        if let [(_, answer), ..] = open {
            let now = one_line(answer.reported());
            let what = format!("the {quantity} of {owner} is now `{now}`");
            let help = "mark it again and write the answer as in the sheet, or leave it blank";
            return bad(line, "reported", &what, help);
        }
        if rows.iter().all(|(_, row)| row.answers().is_empty()) {
            let what = format!("the row of {owner} could not be worked out");
            return bad(
                line,
                "bench",
                &what,
                "correct its readings in the sheet first",
            );
        }
        let mut answers = rows.iter().filter_map(|(_, row)| row.answer(quantity));
        let what = match answers.next() {
            None => format!("{owner} was not asked for the {quantity}"),
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
