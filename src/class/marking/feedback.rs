//! What is said to the pupil: one sentence on what is right, one on what to look at.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::answer::{Answer, Verdict};
use super::marked_row::MarkedRow;
use crate::gravimetry::{Constancy, Outcome, Quantity, Warning};
use crate::mistake::Slip;
use crate::number::TieRule;
use crate::text::{Note, list};

/// So many right answers are named one by one.
const MOST_NAMED: usize = 3;

impl MarkedRow {
    /// Two notes addressed to the pupil, with their own numbers: what is right, and what to look
    /// at. The first has the code `all_right`, `some_right`, `follows_rightly`,
    /// `nothing_right_yet`, `to_be_read`, `nothing_handed_in` or `not_marked`; the second `look_at_slip`,
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
    /// assert_eq!(feedback[0].text(), "Your percent water (51.13 %) is right.");
    /// assert_eq!(
    ///     feedback[1].text(),
    ///     "Look again at your mole ratio (0.1431): x is the amount of water divided by the amount \
    ///      of salt, not the other way round."
    /// );
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn feedback(&self) -> Vec<Note> {
        if self.run().is_none() {
            return not_marked(self).into();
        }
        alloc::vec![self.what_is_right(), self.what_to_look_at()]
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
        let by_hand = self
            .answers()
            .iter()
            .filter(|answer| answer.by_hand())
            .count();
        if given > 0 && given == by_hand {
            return Note::new(
                "to_be_read",
                "What you handed in is still to be read by whoever marks.",
            );
        }
        if given == 0 {
            return Note::new(
                "nothing_handed_in",
                "Nothing was handed in; your readings are enough to work everything out.",
            );
        }
        if right.len() == self.answers().len() {
            return named("all_right", &right, given);
        }
        if !right.is_empty() {
            return named("some_right", &right, given);
        }
        if !carried.is_empty() {
            return named("follows_rightly", &carried, given);
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
            .or_else(|| self.look_at_hydrate())
            .unwrap_or_else(|| self.look_at_bench())
    }

    fn look_at(&self, answer: &Answer) -> Note {
        let (quantity, shown) = (answer.quantity(), answer.reported_with_unit());
        let again = format!("Look again at your {quantity} ({shown})");
        let note = |code, text: String| {
            let note = Note::new(code, text);
            note.with("quantity", quantity.code())
                .with("reported", answer.reported())
        };
        if let Some(obstacle) = answer.obstacle() {
            let code = if answer.by_hand() {
                "look_at_cell"
            } else {
                "look_at_value"
            };
            return note(code, format!("{again}: {}.", obstacle.note().text()));
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
            .key()
            .and_then(|key| key.weighings.container_weighings());
        let Some((readings, last)) = readings.and_then(|all| Some((all, all.heated.last()?)))
        else {
            return String::new();
        };
        let (empty, full) = (readings.container, readings.with_hydrate);
        match quantity {
            Quantity::HydrateMass => format!(" ({full} g − {empty} g)"),
            Quantity::ResidueMass => format!(" ({last} g − {empty} g)"),
            Quantity::WaterMass => format!(" ({full} g − {last} g)"),
            _ => String::new(),
        }
    }

    fn look_at_figures(&self) -> Option<Note> {
        let mut remarked = self.answers().iter().filter_map(|answer| {
            let mut remarks = answer.side_remarks().iter();
            Some((answer, remarks.find(|remark| remark.is_of_figures())?))
        });
        let (answer, remark) = remarked.next()?;
        let text = format!(
            "Look at the figures of your {} ({}): {}.",
            answer.quantity(),
            answer.reported_with_unit(),
            remark.note().text()
        );
        let note = Note::new("look_at_figures", text).with("quantity", answer.quantity().code());
        Some(note.with("reported", answer.reported()))
    }

    fn look_at_constant_mass(&self) -> Option<Note> {
        let constancy = self.run()?.constant_mass()?;
        if constancy.reached() == Some(true) {
            return None;
        }
        let Some(change) = Constancy::last_change(constancy) else {
            let text = "Your bench heated once, so nobody knows whether all its water had left: heat \
                        until two weighings agree.";
            return Some(Note::new("look_at_constant_mass", text));
        };
        let size = change
            .value()
            .abs()
            .to_decimal_places(change.decimal_places(), TieRule::Even);
        let text = if change.value().is_negative() {
            format!(
                "Look at your last two weighings: the mass still fell by {size} g, so your x is not \
                 that of a dry salt yet."
            )
        } else {
            format!(
                "Look at your last two weighings: the mass rose by {size} g, so the solid took \
                 something up, or was weighed warm."
            )
        };
        Some(Note::new("look_at_constant_mass", text).with("change", format!("{change}")))
    }

    /// Another hydrate that the readings resolve.
    fn look_at_hydrate(&self) -> Option<Note> {
        let Outcome::Resolved(hydrate) = self.run()?.outcome() else {
            return None;
        };
        let issued = self.issued();
        let other = hydrate.waters() != issued.one_formula_unit().map(|(_, waters)| waters);
        other.then(|| {
            let text =
                format!("At the bench, your readings point to {hydrate}, and {issued} was issued.");
            Note::new("look_at_bench", text).with("hydrate", format!("{hydrate}"))
        })
    }

    /// Whether the bench's x and the one expected agree as far as the balance can tell.
    fn agrees(&self) -> bool {
        let (Some(run), Some(expected)) = (self.run(), self.expected_degree()) else {
            return false;
        };
        let apart = (run.ratio() - expected).abs().to_f64();
        apart <= 2.0 * run.standard_uncertainty()
    }

    /// What a bench may have done whose readings fit no hydrate that lost its water alone.
    fn consistent_with(&self) -> Option<&'static str> {
        let findings = self.run()?.findings();
        findings.iter().find_map(|finding| match finding {
            Warning::LowerHydrate(..) => Some("heating that stopped too soon"),
            Warning::Overheating(_) | Warning::AboveKnown(_) => {
                Some("solid that was lost, or a salt heated too far")
            }
            _ => None,
        })
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
            .map(|x| x.to_plain())
            .unwrap_or_default();
        let two = difference.abs().to_figures(2, TieRule::Even);
        let shown = if two.decimal_places() > 2 {
            difference.abs().to_decimal_places(2, TieRule::Even)
        } else {
            two
        };
        let way = if difference.is_negative() {
            "below"
        } else {
            "above"
        };
        let expected = expected.to_figures(4, TieRule::Even).value().to_plain();
        let mut text = if self.agrees() {
            format!(
                "At the bench, your x of {x} agrees with the {expected} expected, as far as the balance can tell"
            )
        } else {
            format!("At the bench, your x of {x} is {shown} % {way} the {expected} expected")
        };
        if let Some(cause) = self.consistent_with() {
            text.push_str(&format!(", which is consistent with {cause}"));
        } else if let Some(moved) = run.sensitivity().heated() {
            // What one division of the balance does to x.
            let moved = (moved * run.division()).abs().to_figures(2, TieRule::Even);
            let step = run.division().to_plain();
            text.push_str(&format!(
                ": {step} g in your last weighing moves x by {moved}"
            ));
        }
        text.push('.');
        Note::new("look_at_bench", text).with("difference_percent", difference.to_plain())
    }
}

fn not_marked(row: &MarkedRow) -> [Note; 2] {
    let about = if row.has_own_readings() {
        "Your readings"
    } else {
        "The readings of your bench"
    };
    let text = match row.unmarked() {
        0 => format!("{about} could not be worked out."),
        _ => format!("{about} could not be worked out, so your answers are not marked yet."),
    };
    [
        Note::new("not_marked", text).with("bench", row.bench()),
        Note::new(
            "look_at_readings",
            "Look at each weighing in your table, and bring it to whoever marks.",
        )
        .with("bench", row.bench()),
    ]
}

/// A sentence that names answers of all those given, and says that they are right, or follow
/// rightly from an error before them.
fn named(code: &'static str, answers: &[&Answer], given: usize) -> Note {
    let shown =
        |answer: &&Answer| format!("{} ({})", answer.quantity(), answer.reported_with_unit());
    let count = answers.len();
    let (alone, follow) = (count == 1, code == "follows_rightly");
    let tail = match (alone, follow) {
        (true, false) => "is right",
        (false, false) => "are right",
        (true, true) => "follows rightly from what you had before",
        (false, true) => "follow rightly from what you had before",
    };
    // The furthest number that was worked out stands for the rest.
    let last = answers
        .iter()
        .rev()
        .find(|answer| answer.quantity() != Quantity::Formula);
    let text = match last {
        Some(last) if count > MOST_NAMED => {
            let of = if count == given {
                format!("All {count}")
            } else {
                format!("{count} of the {given}")
            };
            format!(
                "{of} answers that you gave {tail}, among them your {}.",
                shown(last)
            )
        }
        _ => format!("Your {} {tail}.", list(answers.iter().map(shown))),
    };
    let codes: Vec<&str> = answers
        .iter()
        .map(|answer| answer.quantity().code())
        .collect();
    Note::new(code, text).with("quantities", codes.join(" "))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Sheet};
    use crate::gravimetry::Method;

    #[track_caller]
    fn feedback(columns: &str, cells: &str, first: [&str; 2], second: [&str; 2]) {
        let text = format!(
            "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,{columns}\nFinch,{cells}\n"
        );
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
        let found = marked.rows()[0].feedback();
        let found: Vec<[&str; 2]> = found.iter().map(|n| [n.code(), n.text()]).collect();
        assert_eq!(found, [first, second]);
    }

    const SOUND: &str = "21.352,24.018,22.656,22.655";

    #[test]
    fn what_is_right_comes_first() {
        feedback(
            "reported_water_g,reported_ratio",
            &format!("{SOUND},1.363,6.99"),
            [
                "all_right",
                "Your mass of water (1.363 g) and mole ratio (6.99) are right.",
            ],
            [
                "look_at_bench",
                "At the bench, your x of 6.989 agrees with the 7 expected, as far as the balance can \
                 tell: 0.001 g in your last weighing moves x by 0.010.",
            ],
        );
        feedback(
            "reported_water_g,reported_percent_water,reported_ratio",
            &format!("{SOUND},1.373,51.50,"),
            [
                "follows_rightly",
                "Your percent water (51.50 %) follows rightly from what you had before.",
            ],
            [
                "look_at_slip",
                "Look again at your mass of water (1.373 g): do the subtraction again, with the \
                 borrowed digits (24.018 g − 22.655 g).",
            ],
        );
        feedback(
            "reported_ratio",
            &format!("{SOUND},5.83"),
            [
                "nothing_right_yet",
                "None of your answers follows from your readings yet, so go through them one step at \
                 a time.",
            ],
            [
                "look_at_value",
                "Look again at your mole ratio (5.83): your own readings do not lead to it; it is \
                 the amount of water over the amount of salt.",
            ],
        );
    }

    #[test]
    fn what_is_missing_or_cannot_be_read() {
        feedback(
            "reported_ratio",
            &format!("{SOUND},"),
            [
                "nothing_handed_in",
                "Nothing was handed in; your readings are enough to work everything out.",
            ],
            [
                "look_at_gap",
                "Your mole ratio is missing: it is the amount of water over the amount of salt.",
            ],
        );
        feedback(
            "reported_ratio",
            &format!("{SOUND},seven"),
            [
                "to_be_read",
                "What you handed in is still to be read by whoever marks.",
            ],
            [
                "look_at_cell",
                "Look again at your mole ratio (seven): it could not be read as a number; to be marked \
                 by hand.",
            ],
        );
        feedback(
            "reported_ratio",
            "21.352,24.018,20.656,20.655,6.99",
            [
                "not_marked",
                "Your readings could not be worked out, so your answers are not marked yet.",
            ],
            [
                "look_at_readings",
                "Look at each weighing in your table, and bring it to whoever marks.",
            ],
        );
    }

    #[test]
    fn several_slips_are_all_named() {
        feedback(
            "reported_ratio",
            &format!("{SOUND},0.1"),
            [
                "nothing_right_yet",
                "None of your answers follows from your readings yet, so go through them one step at \
                 a time.",
            ],
            [
                "look_at_slip",
                "Look again at your mole ratio (0.1): it may be the mole ratio upside down, or the \
                 amount of water for the mole ratio.",
            ],
        );
    }

    #[test]
    fn figures_and_the_bench_come_last() {
        feedback(
            "reported_ratio",
            &format!("{SOUND},6.98881"),
            ["all_right", "Your mole ratio (6.98881) is right."],
            [
                "look_at_figures",
                "Look at the figures of your mole ratio (6.98881): 6 figures are written, and the \
                 readings allow 4.",
            ],
        );
        feedback(
            "reported_ratio",
            "21.352,24.018,22.650,22.671,6.82",
            ["all_right", "Your mole ratio (6.82) is right."],
            [
                "look_at_constant_mass",
                "Look at your last two weighings: the mass rose by 0.021 g, so the solid took \
                 something up, or was weighed warm.",
            ],
        );
        feedback(
            "reported_ratio",
            "21.352,24.018,22.665,,6.88",
            ["all_right", "Your mole ratio (6.88) is right."],
            [
                "look_at_constant_mass",
                "Your bench heated once, so nobody knows whether all its water had left: heat until \
                 two weighings agree.",
            ],
        );
        feedback(
            "reported_ratio",
            "20.112,22.512,21.376,21.376,6.00",
            ["all_right", "Your mole ratio (6.00) is right."],
            [
                "look_at_bench",
                "At the bench, your readings point to MgSO4·6H2O, and MgSO4·7H2O was issued.",
            ],
        );
        feedback(
            "reported_ratio",
            "21.352,24.018,22.956,22.755,6.02",
            ["all_right", "Your mole ratio (6.02) is right."],
            [
                "look_at_constant_mass",
                "Look at your last two weighings: the mass still fell by 0.201 g, so your x is not \
                 that of a dry salt yet.",
            ],
        );
    }
}
