//! All notes for the pupil.

use alloc::format;
use alloc::vec::Vec;

use super::answer::{fill_in, look_again, significant_figures, to_be_marked};
use super::bench::{accuracy, constant_mass, fault, other_hydrate};
use super::praise::what_is_right;
use crate::class::CsvStyle;
use crate::class::marking::marked_row::MarkedRow;
use crate::class::marking::verdict::Verdict;
use crate::mistake::Fault;
use crate::text::Note;

impl MarkedRow {
    /// Returns the notes for the pupil, with the pupil's own numbers: what is right, and what to
    /// look at next. If a fault at the bench explains its readings better than none, a third note says so, even
    /// if all answers are right.
    ///
    /// The first has the code `all_right`, `some_right`, `follows_rightly`, `nothing_right_yet`,
    /// `to_be_read`, `marked_by_hand`, `nothing_handed_in`, `not_marked` or `absent`; the second `look_at_slip`,
    /// `look_at_value`, `look_at_cell`, `look_at_gap`, `look_at_figures`, `look_at_constant_mass`,
    /// `look_at_bench`, `look_at_readings`, `look_at_issued` or `ask_for_readings`. The third has the code of the
    /// [fault](crate::mistake::Fault). More may be added.
    ///
    /// ```
    /// use effloresce::{class::{Marker, Sheet}, gravimetry::Method};
    /// let text = "bench,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
    ///             Heron,2.666,1.303,51.13,0.1431\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
    /// let feedback = marked.rows()[0].feedback();
    /// assert_eq!(feedback[0].text(), "Your percent water (51.13 %) is right.");
    /// assert!(feedback[1].text().starts_with("Look again at your mole ratio (0.1431). "));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn feedback(&self) -> Vec<Note> {
        self.feedback_in(CsvStyle::default())
    }

    /// Returns the same, with the decimal mark of the sheet.
    pub(crate) fn feedback_in(&self, style: CsvStyle) -> Vec<Note> {
        if self.absent() {
            return absent().into();
        }
        match self.calculation() {
            Some(_) => {
                let look = what_to_look_at(self, style);
                let is_told = |code: &str| match look.code() {
                    "look_at_readings" => true,
                    "look_at_constant_mass" => code == Fault::WaterLeft.code(),
                    // The readings fit another hydrate.
                    _ => look.values().any(|(name, _)| name == "hydrate"),
                };
                let fault = fault(self).filter(|fault| !is_told(fault.code()));
                [what_is_right(self), look]
                    .into_iter()
                    .chain(fault)
                    .collect()
            }
            None => not_marked(self).into(),
        }
    }
}

fn absent() -> [Note; 2] {
    [
        Note::new("absent", "You were absent, so nothing is marked."),
        Note::new(
            "ask_for_readings",
            "Ask your teacher which readings you may work with.",
        ),
    ]
}

fn not_marked(row: &MarkedRow) -> [Note; 2] {
    let whose = if row.has_own_readings() {
        "Your readings"
    } else {
        "The readings of your bench"
    };
    let answers = match row.unmarked() {
        0 => "",
        _ => ", so your answers are not marked yet",
    };
    [
        (
            "not_marked",
            format!("{whose} could not be worked out{answers}."),
        ),
        (
            "look_at_readings",
            "Check that every weighing is in your table and copied correctly. Then show the table to \
             your teacher.".into(),
        ),
    ]
    .map(|(code, text)| Note::new(code, text).with("bench", row.bench()))
}

/// The first answer that went wrong comes first, because later ones may rest on it.
fn what_to_look_at(row: &MarkedRow, style: CsvStyle) -> Note {
    if row.mass_loss().is_none() {
        let [_, readings] = not_marked(row);
        return readings;
    }
    let first = |verdicts: &[Verdict]| {
        let mut answers = row.answers().iter();
        answers.find(|answer| {
            let open = answer.marked_by_hand() || answer.by_hand();
            verdicts.contains(&answer.verdict()) && !open
        })
    };
    if let Some(answer) = first(&[Verdict::Slip, Verdict::Unexplained]) {
        return look_again(row, answer, style);
    }
    if let Some(missing) = first(&[Verdict::Missing]) {
        return fill_in(row, missing.quantity(), style);
    }
    let at_the_bench = || {
        let dehydration = row.dehydration()?;
        let note =
            constant_mass(row, dehydration, style).or_else(|| other_hydrate(row, dehydration));
        Some(note.unwrap_or_else(|| accuracy(row, dehydration, style)))
    };
    let known = row.issued().is_some();
    let open = known.then(|| to_be_marked(row)).flatten();
    open.or_else(|| significant_figures(row).filter(|_| known))
        .or_else(at_the_bench)
        .unwrap_or_else(ask_what_was_issued)
}

fn ask_what_was_issued() -> Note {
    Note::new(
        "look_at_issued",
        "Ask your teacher which salt you were given. The class sheet does not say it clearly.",
    )
}
