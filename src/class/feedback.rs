//! What is said to the pupil: one sentence on what is right, one on what to look at.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::{Answer, MarkedRow, Verdict};
use crate::gravimetry::{Constancy, Quantity};
use crate::mistake::Slip;
use crate::number::TieRule;
use crate::text::{Note, list};

/// So many right answers are named one by one.
const MOST_NAMED: usize = 3;

impl MarkedRow {
    /// Two notes addressed to the pupil, with their own numbers: what is right, and what to look
    /// at. The first has the code `all_right`, `some_right`, `follows_rightly`,
    /// `nothing_right_yet`, `nothing_handed_in` or `not_marked`; the second `look_at_slip`,
    /// `look_at_value`, `look_at_cell`, `look_at_gap`, `look_at_figures`, `look_at_constant_mass`,
    /// `look_at_bench` or `look_at_readings`. More may be added.
    ///
    /// ```
    /// use effloresce::{class::{Marker, Sheet}, gravimetry::Method};
    /// let text = "bench,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
    ///             Heron,2.666,1.303,51.13,0.1431\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
    /// let feedback = marked.rows()[0].feedback();
    /// assert_eq!(feedback[0].text(), "Your percent water, 51.13 %, is right.");
    /// assert_eq!(
    ///     feedback[1].text(),
    ///     "Look again at your mole ratio, 0.1431: x is the amount of water divided by the amount \
    ///      of salt, not the other way round."
    /// );
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn feedback(&self) -> Vec<Note> {
        if self.run().is_none() {
            return self.not_marked().into();
        }
        alloc::vec![self.what_is_right(), self.what_to_look_at()]
    }

    fn not_marked(&self) -> [Note; 2] {
        let about = if self.has_own_readings() {
            "Your readings"
        } else {
            "The readings of your bench"
        };
        let text = match self.unmarked() {
            0 => format!("{about} could not be worked out."),
            _ => format!("{about} could not be worked out, so your answers are not marked yet."),
        };
        [
            Note::new("not_marked", text).with("bench", self.bench()),
            Note::new(
                "look_at_readings",
                "Look at each weighing in your table, and bring it to whoever marks.",
            )
            .with("bench", self.bench()),
        ]
    }

    fn what_is_right(&self) -> Note {
        let with = |verdict: Verdict| -> Vec<&Answer> {
            let answers = self.answers().iter();
            answers
                .filter(|answer| answer.verdict() == verdict)
                .collect()
        };
        let (right, carried) = (with(Verdict::Correct), with(Verdict::CarriedForward));
        let given = self.answers().len() - with(Verdict::Missing).len();
        if given == 0 {
            return Note::new(
                "nothing_handed_in",
                "Nothing was handed in; your readings are enough to work everything out.",
            );
        }
        if right.len() == given && given == self.answers().len() {
            return named(
                "all_right",
                &right,
                if given == 1 {
                    "is right"
                } else {
                    "are all right"
                },
            );
        }
        if !right.is_empty() {
            return named(
                "some_right",
                &right,
                if right.len() == 1 {
                    "is right"
                } else {
                    "are right"
                },
            );
        }
        if !carried.is_empty() {
            let follow = if carried.len() == 1 {
                "follows"
            } else {
                "follow"
            };
            let tail = format!("{follow} rightly from what you had before");
            return named("follows_rightly", &carried, &tail);
        }
        Note::new(
            "nothing_right_yet",
            "None of your answers follows from your readings yet, so go through them one step at a \
             time.",
        )
    }

    fn what_to_look_at(&self) -> Note {
        // The first that went wrong: what comes after may rest on it.
        let wrong = self
            .answers()
            .iter()
            .find(|answer| matches!(answer.verdict(), Verdict::Slip | Verdict::Unexplained));
        if let Some(answer) = wrong {
            return self.look_at(answer);
        }
        let missing = self
            .answers()
            .iter()
            .find(|a| a.verdict() == Verdict::Missing);
        if let Some(answer) = missing {
            let quantity = answer.quantity();
            let text = format!("Your {quantity} is missing: it is {}.", how(quantity));
            return Note::new("look_at_gap", text).with("quantity", quantity.code());
        }
        self.look_at_figures()
            .or_else(|| self.look_at_constant_mass())
            .unwrap_or_else(|| self.look_at_bench())
    }

    fn look_at(&self, answer: &Answer) -> Note {
        let (quantity, shown) = (answer.quantity(), answer.reported_with_unit());
        let again = format!("Look again at your {quantity}, {shown}");
        let note = |code, text: String| {
            let note = Note::new(code, text);
            note.with("quantity", quantity.code())
                .with("reported", answer.reported())
        };
        if let Some(remark) = answer
            .remarks()
            .iter()
            .find(|remark| matches!(remark.code(), "unreadable" | "bad_formula"))
        {
            return note("look_at_cell", format!("{again}: {}.", remark.text()));
        }
        match answer.slips() {
            [] => note(
                "look_at_value",
                format!(
                    "{again}: your own readings do not lead to it; it is {}{}.",
                    how(quantity),
                    self.difference(quantity)
                ),
            ),
            [slip] if answer.certain() == Some(true) => note(
                "look_at_slip",
                format!("{again}: {}{}.", slip.look_at(), self.difference(quantity)),
            )
            .with("slips", slip.code()),
            several => {
                let names: Vec<String> = several.iter().map(ToString::to_string).collect();
                let codes: Vec<&str> = several.iter().copied().map(Slip::code).collect();
                note(
                    "look_at_slip",
                    format!("{again}: it may be {}.", names.join(", or ")),
                )
                .with("slips", codes.join(" "))
            }
        }
    }

    /// The difference that a mass is, in the bench's own readings.
    fn difference(&self, quantity: Quantity) -> String {
        let readings = self
            .worked
            .as_deref()
            .and_then(|w| w.weighings.containers());
        let Some((empty, full, [.., last])) = readings else {
            return String::new();
        };
        match quantity {
            Quantity::HydrateMass => format!(" ({full} g − {empty} g)"),
            Quantity::ResidueMass => format!(" ({last} g − {empty} g)"),
            Quantity::WaterMass => format!(" ({full} g − {last} g)"),
            _ => String::new(),
        }
    }

    fn look_at_figures(&self) -> Option<Note> {
        let figures = |answer: &&Answer| {
            let remarks = answer.remarks().iter();
            remarks
                .map(Note::code)
                .any(|code| matches!(code, "too_many_figures" | "too_few_figures"))
        };
        let answer = self.answers().iter().find(figures)?;
        let remark = answer
            .remarks()
            .iter()
            .find(|r| r.code().ends_with("_figures"))?;
        let text = format!(
            "Look at the figures of your {}, {}: {}.",
            answer.quantity(),
            answer.reported_with_unit(),
            remark.text()
        );
        let note = Note::new("look_at_figures", text).with("quantity", answer.quantity().code());
        Some(note.with("reported", answer.reported()))
    }

    fn look_at_constant_mass(&self) -> Option<Note> {
        let constancy = self.run()?.constant_mass()?;
        if constancy.reached() != Some(false) {
            return None;
        }
        let change = Constancy::last_change(constancy)?;
        let size = change
            .value()
            .abs()
            .to_places(change.places(), TieRule::Even);
        let way = if change.value().is_negative() {
            "fell"
        } else {
            "rose"
        };
        let text = format!(
            "Look at your last two weighings: the mass still {way} by {size} g, so your x is not \
             that of a dry salt yet."
        );
        Some(Note::new("look_at_constant_mass", text).with("change", format!("{change}")))
    }

    fn look_at_bench(&self) -> Note {
        let (Some(run), Some(expected), Some(difference)) = (
            self.run(),
            self.expected_degree(),
            self.difference_percent(),
        ) else {
            return Note::new(
                "look_at_bench",
                "Compare your x with those of other benches.",
            );
        };
        let x = run
            .measured(Quantity::Ratio)
            .map(|x| x.plainly())
            .unwrap_or_default();
        let two = difference.abs().to_figures(2, TieRule::Even);
        let shown = if two.places() > 2 {
            difference.abs().to_places(2, TieRule::Even)
        } else {
            two
        };
        let way = if difference.is_negative() {
            "below"
        } else {
            "above"
        };
        let expected = expected.to_figures(4, TieRule::Even).value().to_plain();
        let text = format!(
            "At the bench, your x of {x} is {shown} % {way} the {expected} expected: ask yourself which \
             reading matters most."
        );
        Note::new("look_at_bench", text).with("difference_percent", difference.to_plain())
    }
}

/// A sentence that names answers, and says something of them.
fn named(code: &'static str, answers: &[&Answer], tail: &str) -> Note {
    let few = answers.len() <= MOST_NAMED;
    let shown: Vec<String> = answers
        .iter()
        .map(|answer| match few {
            true => format!("{}, {}", answer.quantity(), answer.reported_with_unit()),
            false => answer.quantity().to_string(),
        })
        .collect();
    let mut subject = list(&shown);
    // Each number stands between commas.
    if few {
        subject.push(',');
    }
    let codes: Vec<&str> = answers
        .iter()
        .map(|answer| answer.quantity().code())
        .collect();
    Note::new(code, format!("Your {subject} {tail}.")).with("quantities", codes.join(" "))
}

/// How a quantity is found, as a clause.
const fn how(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::HydrateMass => "the container with the hydrate less the empty container",
        Quantity::ResidueMass => "the last weighing less the empty container",
        Quantity::WaterMass => "the mass of hydrate less the mass of residue",
        Quantity::PercentWater => "100 % times the mass of water over the mass of hydrate",
        Quantity::MolSalt => "the mass of residue over the molar mass of the anhydrous salt",
        Quantity::MolWater => "the mass of water over the molar mass of water",
        Quantity::Ratio => "the amount of water over the amount of salt",
        Quantity::Formula => "the salt with the number of waters nearest to your mole ratio",
    }
}
