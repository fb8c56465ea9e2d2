//! One reported value against what the bench's own readings allow.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::{Reported, ReportedValue};
use crate::formula::Formula;
use crate::gravimetry::{Defensible, Dehydration, Paths, Quantity, Range, Source, percent};
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// What is said of a reported value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Verdict {
    /// Careful work on the bench's own readings gives it, or it follows from earlier answers that
    /// are all correct.
    Correct,
    /// It follows from an earlier answer that is not correct: no second penalty.
    #[doc(alias = "ECF")]
    #[doc(alias = "error carried forward")]
    CarriedForward,
    /// Nothing that the marker knows leads to it.
    Unexplained,
    /// Nothing was handed in.
    Missing,
}

impl Verdict {
    /// The stable name of the verdict.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried_forward",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        }
    }

    /// Whether the value earns its mark.
    #[must_use]
    pub const fn earns(self) -> bool {
        matches!(self, Verdict::Correct | Verdict::CarriedForward)
    }
}

impl core::fmt::Display for Verdict {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried forward",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        })
    }
}

/// A reported value, marked.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    pub(super) quantity: Quantity,
    pub(super) reported: String,
    pub(super) verdict: Verdict,
    pub(super) expected: Option<String>,
    pub(super) written: Option<String>,
    pub(super) defensible: Option<Range>,
    pub(super) carried_from: Option<Quantity>,
    pub(super) remarks: Vec<Note>,
}

impl Answer {
    /// Which quantity.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        self.quantity
    }

    /// The value as it was handed in.
    #[must_use]
    pub fn reported(&self) -> &str {
        &self.reported
    }

    /// The verdict.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.verdict
    }

    /// One mark where the value is correct or carried forward, else none.
    #[must_use]
    pub fn marks(&self) -> u32 {
        u32::from(self.verdict.earns())
    }

    /// What the bench's own readings give, unrounded (the formula: as text).
    #[must_use]
    pub fn expected(&self) -> Option<&str> {
        self.expected.as_deref()
    }

    /// What the bench's own readings give, with the figures that they allow.
    #[must_use]
    pub fn expected_as_written(&self) -> Option<&str> {
        self.written.as_deref()
    }

    /// The least and the greatest value that careful work can give.
    #[must_use]
    pub fn defensible(&self) -> Option<&Range> {
        self.defensible.as_ref()
    }

    /// The earlier answer that this one follows from.
    #[must_use]
    pub fn carried_from(&self) -> Option<Quantity> {
        self.carried_from
    }

    /// What else is to be said.
    #[must_use]
    pub fn remarks(&self) -> &[Note] {
        &self.remarks
    }

    /// The verdict in a sentence, with its reason.
    #[must_use]
    pub fn reason(&self) -> String {
        let unit = match self.quantity.unit() {
            "" => String::new(),
            unit => format!(" {unit}"),
        };
        let own = self.written.as_deref().unwrap_or("nothing");
        match self.verdict {
            Verdict::Correct => format!("correct: the bench's own readings give {own}{unit}"),
            Verdict::CarriedForward => match self.carried_from {
                Some(from) => format!("follows from the {from} reported, so no mark is lost twice"),
                None => "follows from an earlier answer".into(),
            },
            Verdict::Missing => {
                format!("nothing was handed in; the bench's own readings give {own}{unit}")
            }
            Verdict::Unexplained => match self.remarks.first() {
                Some(remark) => format!(
                    "{}; the bench's own readings give {own}{unit}",
                    remark.text()
                ),
                None => format!(
                    "the bench's own readings give {own}{unit}, and nothing leads from them to this"
                ),
            },
        }
    }
}

/// A value that a pupil may have gone on from.
#[derive(Clone)]
struct Step {
    range: Range,
    /// The first answer that was not correct, if the value rests on one.
    origin: Option<Quantity>,
    reported: bool,
}

/// Marks the answers of one row in the order in which they are worked out.
pub(super) struct Judge<'a> {
    run: &'a Dehydration,
    paths: &'a Paths,
    own: &'a Defensible,
    /// The numbers reported so far that can be gone on from.
    reported: Vec<(Quantity, Step)>,
}

impl<'a> Judge<'a> {
    pub(super) fn new(run: &'a Dehydration, paths: &'a Paths, own: &'a Defensible) -> Self {
        Judge {
            run,
            paths,
            own,
            reported: Vec::new(),
        }
    }

    pub(super) fn answer(&mut self, reported: &Reported) -> Answer {
        let quantity = reported.quantity();
        let mut answer = Answer {
            quantity,
            reported: reported.text().into(),
            verdict: Verdict::Missing,
            expected: self.expected(quantity),
            written: self.run.written(quantity),
            defensible: self.own.range(quantity).cloned(),
            carried_from: None,
            remarks: Vec::new(),
        };
        match reported.value() {
            ReportedValue::Missing => {}
            ReportedValue::Unreadable => {
                answer.verdict = Verdict::Unexplained;
                answer.remarks.push(Note::new(
                    "unreadable",
                    "the cell could not be read as a number",
                ));
            }
            ReportedValue::Number(number) => self.number(&mut answer, number),
            ReportedValue::Formula(text) => self.formula(&mut answer, text),
        }
        answer
    }

    fn expected(&self, quantity: Quantity) -> Option<String> {
        match quantity {
            // A mass found by subtraction keeps its decimal places.
            Quantity::HydrateMass
            | Quantity::ResidueMass
            | Quantity::WaterMass
            | Quantity::Formula => self.run.written(quantity),
            _ => self.run.value(quantity).map(|value| value.to_plain()),
        }
    }

    fn number(&mut self, answer: &mut Answer, number: &Reading) {
        let quantity = answer.quantity;
        let allowed = self
            .run
            .measured(quantity)
            .and_then(|m| m.figures())
            .unwrap_or(1);
        let own = answer
            .defensible
            .as_ref()
            .is_some_and(|range| range.admits_with(number, allowed));
        if own {
            answer.verdict = Verdict::Correct;
        } else {
            let followed = self.following(quantity);
            let mut leading = followed.iter().filter(|step| step.range.admits(number));
            let clean = followed
                .iter()
                .any(|step| step.origin.is_none() && step.range.admits(number));
            match leading.next() {
                _ if clean => answer.verdict = Verdict::Correct,
                Some(step) => {
                    answer.verdict = Verdict::CarriedForward;
                    answer.carried_from = step.origin;
                }
                None => answer.verdict = Verdict::Unexplained,
            }
        }
        let origin = match answer.verdict {
            Verdict::Correct => None,
            Verdict::CarriedForward => answer.carried_from,
            _ => Some(quantity),
        };
        // A wrong number may have been gone on from before it was rounded; a right one too, but
        // then its unrounded value is among the paths already.
        let range = if origin.is_none() {
            Range::point(number.value())
        } else {
            Range::about(number)
        };
        self.reported.push((
            quantity,
            Step {
                range,
                origin,
                reported: true,
            },
        ));
    }

    /// The bench's own value and the reported one, where there are such.
    fn steps(&self, quantity: Quantity) -> Vec<Step> {
        let own = self.own.range(quantity).map(|range| Step {
            range: range.clone(),
            origin: None,
            reported: false,
        });
        own.into_iter().chain(self.handed_in(quantity)).collect()
    }

    fn handed_in(&self, quantity: Quantity) -> Option<Step> {
        self.reported
            .iter()
            .find(|(q, _)| *q == quantity)
            .map(|(_, step)| step.clone())
    }

    /// Every value that follows from at least one answer handed in.
    fn following(&self, quantity: Quantity) -> Vec<Step> {
        match quantity {
            Quantity::HydrateMass | Quantity::ResidueMass | Quantity::Formula => Vec::new(),
            Quantity::WaterMass => {
                let (h, s) = (
                    self.steps(Quantity::HydrateMass),
                    self.steps(Quantity::ResidueMass),
                );
                pairs(&h, &s, |h, s| Some(h.range.minus(&s.range)))
            }
            Quantity::PercentWater => pairs(
                &self.waters(),
                &self.steps(Quantity::HydrateMass),
                |w, h| percent(&w.range, &h.range),
            ),
            Quantity::MolSalt => {
                let residue = self.handed_in(Quantity::ResidueMass);
                residue
                    .into_iter()
                    .filter_map(|s| step(self.paths.mol_salt(&s.range), s.origin))
                    .collect()
            }
            Quantity::MolWater => self
                .waters()
                .into_iter()
                .filter(|w| w.reported)
                .filter_map(|w| step(self.paths.mol_water(&w.range), w.origin))
                .collect(),
            Quantity::Ratio => self.ratios(),
        }
    }

    /// The water: own, handed in, or the difference of masses of which one was handed in.
    fn waters(&self) -> Vec<Step> {
        let mut waters = self.steps(Quantity::WaterMass);
        waters.extend(self.following(Quantity::WaterMass));
        waters
    }

    fn ratios(&self) -> Vec<Step> {
        let masses = |steps: Vec<Step>| {
            steps
                .into_iter()
                .map(|s| (Source::Mass(s.range.clone()), s))
        };
        let amount = |quantity| {
            self.handed_in(quantity)
                .map(|s| (Source::Amount(s.range.clone()), s))
        };
        let water: Vec<_> = masses(self.waters())
            .chain(amount(Quantity::MolWater))
            .collect();
        let salt: Vec<_> = masses(self.steps(Quantity::ResidueMass))
            .chain(amount(Quantity::MolSalt))
            .collect();
        let mut found = Vec::new();
        for (w, from_water) in &water {
            for (s, from_salt) in &salt {
                if from_water.reported || from_salt.reported {
                    let origin = first(from_water.origin, from_salt.origin);
                    found.extend(step(self.paths.ratio(w, s), origin));
                }
            }
        }
        if let Some(p) = self.handed_in(Quantity::PercentWater) {
            let rest = Range::point(Ratio::from(100)).minus(&p.range);
            let ratio = self
                .paths
                .ratio(&Source::Mass(p.range), &Source::Mass(rest));
            found.extend(step(ratio, p.origin));
        }
        found
    }

    fn formula(&self, answer: &mut Answer, text: &str) {
        let formula = match Formula::read(text) {
            Ok((formula, notes)) => {
                answer.remarks.extend(notes);
                formula
            }
            Err(error) => {
                answer.verdict = Verdict::Unexplained;
                answer.remarks.push(
                    Note::new("bad_formula", format!("`{text}` is no formula: {error}"))
                        .with("code", error.code()),
                );
                return;
            }
        };
        let ratio = self.handed_in(Quantity::Ratio);
        let follows = ratio.as_ref().and_then(|step| {
            let middle = (step.range.low() + step.range.high()).checked_div(&Ratio::from(2))?;
            self.run.nearest_formula_to(&middle)
        });
        if same(&formula, &self.run.nearest_formula()) {
            answer.verdict = Verdict::Correct;
        } else if follows.is_some_and(|from_reported| same(&formula, &from_reported)) {
            let origin = ratio.and_then(|step| step.origin);
            answer.carried_from = origin;
            answer.verdict = if origin.is_some() {
                Verdict::CarriedForward
            } else {
                Verdict::Correct
            };
        } else {
            answer.verdict = Verdict::Unexplained;
        }
    }
}

/// Whether two formulas are one hydrate, however its salt is spelt.
fn same(a: &Formula, b: &Formula) -> bool {
    let hill = |formula: &Formula| formula.composition().map(|c| c.hill()).ok();
    a == b || (a.waters() == b.waters() && hill(a).is_some() && hill(a) == hill(b))
}

fn step(range: Option<Range>, origin: Option<Quantity>) -> Option<Step> {
    range.map(|range| Step {
        range,
        origin,
        reported: true,
    })
}

/// What follows from each pair of which at least one was handed in.
fn pairs(a: &[Step], b: &[Step], of: impl Fn(&Step, &Step) -> Option<Range>) -> Vec<Step> {
    let mut found = Vec::new();
    for a in a {
        for b in b {
            if a.reported || b.reported {
                found.extend(step(of(a, b), first(a.origin, b.origin)));
            }
        }
    }
    found
}

/// The earlier of two wrong answers.
fn first(a: Option<Quantity>, b: Option<Quantity>) -> Option<Quantity> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    }
}

impl Answer {
    /// The marks with the verdict, for a line of a key.
    #[must_use]
    pub fn verdict_text(&self) -> String {
        self.verdict.to_string()
    }
}
