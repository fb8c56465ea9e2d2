//! Judging the answers of one row: what careful work gives, what follows from what was handed in
//! before, and which slip leads to the rest.

mod following;
mod formula;

use alloc::format;
use alloc::vec::Vec;

use self::following::Step;
use super::answer::Expected;
use super::worked::Worked;
use super::{Answer, FiguresRule, Policy, Reported, ReportedValue, Verdict};
use crate::formula::Formula;
use crate::gravimetry::{
    Defensible, DefensiblePaths, Dehydration, Interval, NUMERIC_QUANTITIES, Quantity,
};
use crate::mistake::{MistakenMasses, Slip, StudentWork};
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// The paths of careful work and the masses that people mistake, the same for every bench of a
/// salt whose readings allow as many figures.
pub(super) struct Known {
    pub(super) careful: Ways,
    /// The one way without any rounding, by the class's own weights.
    plain: Ways,
}

pub(super) struct Ways {
    pub(super) paths: DefensiblePaths,
    mistaken: MistakenMasses,
}

impl Known {
    pub(super) fn new(issued: &Formula, run: &Dehydration) -> Known {
        let ways = |paths: DefensiblePaths| Ways {
            mistaken: MistakenMasses::new(issued, &paths),
            paths,
        };
        Known {
            careful: ways(run.paths()),
            plain: ways(run.unrounded_path()),
        }
    }
}

/// Marks the answers of one row in the order in which they are worked out.
pub(super) struct Judge<'a> {
    worked: &'a Worked,
    run: &'a Dehydration,
    own: &'a Defensible,
    known: &'a Known,
    issued: &'a Formula,
    policy: &'a Policy,
    /// The numbers reported so far that can be gone on from.
    reported: Vec<(Quantity, Step)>,
    /// Whether the figures of this submission have been remarked on.
    figures_remarked: bool,
}

impl<'a> Judge<'a> {
    /// A judge for a bench that could be worked out.
    pub(super) fn new(
        worked: &'a Worked,
        known: &'a Known,
        issued: &'a Formula,
        policy: &'a Policy,
    ) -> Option<Self> {
        let (run, own) = worked.found()?;
        Some(Judge {
            worked,
            run,
            own,
            known,
            issued,
            policy,
            reported: Vec::new(),
            figures_remarked: false,
        })
    }

    /// Whether the figures of an answer so far have been remarked on.
    pub(super) fn figures_remarked(&self) -> bool {
        self.figures_remarked
    }

    pub(super) fn answer(&mut self, reported: &Reported) -> Answer {
        let quantity = reported.quantity();
        let mut answer = Answer {
            quantity,
            reported: reported.text().into(),
            verdict: Verdict::Missing,
            marks: 0,
            out_of: self.policy.marks_for(quantity),
            expected: Expected::of(self.run, quantity),
            defensible: self.own.interval(quantity).cloned(),
            slips: Vec::new(),
            certain: None,
            carried_from: None,
            follows: None,
            remarks: Vec::new(),
        };
        match reported.value() {
            ReportedValue::Missing => {}
            ReportedValue::Unreadable => {
                answer.verdict = Verdict::Unexplained;
                answer.remarks.push(Note::new(
                    "unreadable",
                    "it could not be read as a number; to be marked by hand",
                ));
            }
            ReportedValue::Number(number) => self.number(&mut answer, number),
            ReportedValue::Formula(text) => self.formula(&mut answer, text),
        }
        answer
    }

    /// The figures that the readings allow a quantity.
    fn allowed(&self, quantity: Quantity) -> u32 {
        let measured = self.run.measured(quantity);
        measured.and_then(|m| m.figures()).unwrap_or(1)
    }

    /// The marks of a number that careful work on the bench's own readings gives.
    fn own_marks(&self, quantity: Quantity, number: &Reading, allowed: u32) -> Option<u32> {
        let most = self.policy.marks_for(quantity);
        let Some(tolerance) = self.policy.tolerance_for(quantity) else {
            let range = self.own.interval(quantity)?;
            return range.admits_with(number, allowed).then_some(most);
        };
        let own = self.run.value(quantity)?;
        tolerance.marks_of(&number.value(), &own, &own, most)
    }

    /// The marks of a number that follows from what was handed in.
    fn following_marks(&self, quantity: Quantity, number: &Reading, step: &Step) -> Option<u32> {
        let (most, range) = (self.policy.marks_for(quantity), &step.range);
        match self.policy.tolerance_for(quantity) {
            None => range.admits(number).then_some(most),
            Some(t) => t.marks_of(&number.value(), range.low(), range.high(), most),
        }
    }

    fn number(&mut self, answer: &mut Answer, number: &Reading) {
        let quantity = answer.quantity;
        let allowed = self.allowed(quantity);
        answer.verdict = Verdict::Unexplained;
        let own = self.own_marks(quantity, number, allowed);
        if own != Some(answer.out_of) && !self.is_gross(quantity, number) {
            let steps = self.following(quantity).into_iter();
            let leading = steps.filter_map(|step| {
                let marks = self.following_marks(quantity, number, &step)?;
                Some((step, marks))
            });
            decide(answer, leading);
        }
        // A band that the bench's own value earns in part is no reason to lose what follows.
        if let Some(marks) = own.filter(|own| answer.marks <= *own) {
            answer.verdict = Verdict::Correct;
            answer.marks = marks;
            (answer.carried_from, answer.follows) = (None, None);
        }
        if answer.verdict == Verdict::Unexplained {
            self.slips(answer, number, allowed);
        }
        self.figures(answer, number, allowed);
        if number.value().is_zero() || answer.slips.contains(&Slip::TheoryCopied) {
            // From nought nothing follows, and what was copied is no work to go on from.
            return;
        }
        // Careful work keeps three figures on the way, or as many as the readings allow.
        let coarse = number.figures().at_most() < allowed.min(3);
        // Right within a tolerance is not right within what careful work gives.
        let exact = answer.defensible.as_ref();
        let exact = exact.is_some_and(|range| range.admits_with(number, allowed));
        let origin = match answer.verdict {
            Verdict::Correct if coarse || !(exact || answer.follows.is_some()) => Some(quantity),
            Verdict::Correct => None,
            Verdict::CarriedForward => answer.carried_from,
            _ => Some(quantity),
        };
        // A wrong number may have been gone on from before it was rounded; a right one too, but
        // then its unrounded value is among the paths already.
        let range = if answer.verdict == Verdict::Correct {
            Interval::point(number.value())
        } else {
            Interval::about(number)
        };
        let step = Step {
            range,
            from: Some(quantity),
            origin,
        };
        self.reported.push((quantity, step));
    }

    /// Names the slips that lead to a number, from the bench's readings or else from what was
    /// handed in before.
    fn slips(&self, answer: &mut Answer, number: &Reading, allowed: u32) {
        let quantity = answer.quantity;
        let own = self.own.interval(quantity);
        if own.is_some_and(|range| range.admits_with(number, allowed)) {
            answer.remarks.push(Note::new(
                "outside_tolerance",
                "careful work on the readings gives it, but it lies outside the tolerance that was set",
            ));
            return;
        }
        let Some(mut paper) = self.paper(&self.known.careful, self.own.clone().into_intervals())
        else {
            return;
        };
        let mut slips = Slip::leading_to(&paper, quantity, number);
        let on_errors =
            slips.is_empty() && self.reported.iter().any(|(_, step)| step.origin.is_some());
        if on_errors {
            self.hand_in(&mut paper);
            slips = Slip::leading_to(&paper, quantity, number);
        }
        let certain = match slips.as_slice() {
            [slip] => self.is_certain(*slip, on_errors, quantity, number, allowed),
            _ => false,
        };
        answer.explain(slips, certain);
    }

    /// The paper of the bench whose values lie in these ranges.
    fn paper(
        &self,
        ways: &'a Ways,
        own: [Option<Interval>; NUMERIC_QUANTITIES],
    ) -> Option<StudentWork<'a>> {
        let weighings = &self.worked.weighings;
        StudentWork::new(self.run, weighings, &ways.paths, &ways.mistaken, own)
    }

    /// Puts what was handed in on the paper, and what follows from it.
    fn hand_in(&self, paper: &mut StudentWork<'_>) {
        for (quantity, step) in &self.reported {
            paper.put(*quantity, step.range.clone());
        }
        paper.follow(|quantity| self.handed_in(quantity).is_some());
    }

    /// Whether the only slip that leads to a number is certain: with the class's own weights and
    /// nothing rounded on the way it gives the very digits written, and of these there are as many
    /// as careful work keeps. Fewer fit too much by chance; the book's whole number has no more.
    fn is_certain(
        &self,
        slip: Slip,
        on_errors: bool,
        quantity: Quantity,
        number: &Reading,
        allowed: u32,
    ) -> bool {
        let telling = number.figures().at_most() >= allowed.min(3)
            || (slip == Slip::TheoryCopied && quantity == Quantity::Ratio);
        if !telling {
            return false;
        }
        let point = |quantity| self.run.value(quantity).map(Interval::point);
        let [h, s, w, p, salt, water, x, _] = Quantity::ALL.map(point);
        let paper = self.paper(&self.known.plain, [h, s, w, p, salt, water, x]);
        paper.is_some_and(|mut paper| {
            if on_errors {
                self.hand_in(&mut paper);
            }
            slip.gives(&paper, quantity, number)
        })
    }

    /// Remarks on the figures of a number, once in a submission.
    fn figures(&mut self, answer: &mut Answer, number: &Reading, allowed: u32) {
        let counts = match self.policy.figures_rule() {
            FiguresRule::Ignore => false,
            FiguresRule::Remark => answer.verdict.earns(),
            FiguresRule::OneMark => answer.marks > 0,
        };
        // Of a wrong answer the figures are the least.
        if self.figures_remarked || !counts {
            return;
        }
        let figures = number.figures();
        let written = figures.at_most();
        let remark = if figures.at_least() > allowed + 1 {
            Note::new(
                "too_many_figures",
                format!("{written} figures are written, and the readings allow {allowed}"),
            )
        } else if written < allowed.min(3)
            && answer.verdict == Verdict::Correct
            && !padded(answer, number, allowed)
        {
            Note::new(
                "too_few_figures",
                format!("{written} of the {allowed} figures that the readings allow are written"),
            )
        } else {
            return;
        };
        self.figures_remarked = true;
        answer.remarks.push(
            remark
                .with("written", format!("{written}"))
                .with("allowed", format!("{allowed}")),
        );
    }

    /// Whether a mass is one of the weighings, with the container still in it.
    fn is_gross(&self, quantity: Quantity, number: &Reading) -> bool {
        let Some(weighings) = self.worked.weighings.container_weighings() else {
            return false;
        };
        match quantity {
            Quantity::HydrateMass => number.value() == weighings.with_hydrate.value(),
            Quantity::ResidueMass => weighings.heated.iter().any(|a| number.value() == a.value()),
            _ => false,
        }
    }
}

/// Whether a number with the zeros that a spreadsheet drops would still be right.
fn padded(answer: &Answer, number: &Reading, allowed: u32) -> bool {
    let missing = allowed.saturating_sub(number.figures().at_most());
    let places = number.decimal_places() + i32::try_from(missing).unwrap_or(0);
    let units = (&number.value() * &Ratio::power_of_ten(places)).to_i128();
    let padded = units.and_then(|units| Reading::from_units(units, -places));
    match (padded, &answer.defensible) {
        (Some(padded), Some(range)) => range.admits(&padded),
        _ => false,
    }
}

/// Correct if the value follows from answers that are all right, carried forward if it follows
/// from any, else unexplained; with the most marks that what it follows from gives it.
fn decide(answer: &mut Answer, leading: impl Iterator<Item = (Step, u32)>) {
    answer.verdict = Verdict::Unexplained;
    for (step, marks) in leading {
        let better = marks > answer.marks;
        match (step.origin, answer.verdict) {
            (None, Verdict::Correct) if !better => {}
            (None, _) => {
                answer.verdict = Verdict::Correct;
                answer.carried_from = None;
                answer.follows = step.from;
                answer.marks = answer.marks.max(marks);
            }
            (Some(origin), Verdict::Unexplained) => {
                answer.verdict = Verdict::CarriedForward;
                answer.carried_from = Some(origin);
                answer.marks = marks;
            }
            (Some(origin), _) if better => {
                answer.verdict = Verdict::CarriedForward;
                (answer.carried_from, answer.follows) = (Some(origin), None);
                answer.marks = marks;
            }
            (Some(_), _) => {}
        }
    }
}
