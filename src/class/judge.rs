//! Judging the answers of one row: what careful work gives, and what follows from what was
//! handed in before.

use alloc::format;
use alloc::vec::Vec;

use super::{Answer, Reported, ReportedValue, Verdict};
use crate::formula::{Composition, Formula};
use crate::gravimetry::{Defensible, Dehydration, Paths, Quantity, Range, Source, percent};
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// A value that a pupil may have gone on from.
#[derive(Clone)]
struct Step {
    range: Range,
    /// The first answer handed in that the value rests on; `None` for the bench's own.
    from: Option<Quantity>,
    /// The first of them that was not right, or too coarse to go on from.
    origin: Option<Quantity>,
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
            follows: None,
            remarks: Vec::new(),
        };
        match reported.value() {
            ReportedValue::Missing => {}
            ReportedValue::Unreadable => {
                answer.verdict = Verdict::Unexplained;
                answer.remarks.push(Note::new(
                    "unreadable",
                    "the cell could not be read as a number; to be marked by hand",
                ));
            }
            ReportedValue::Number(number) => self.number(&mut answer, number),
            ReportedValue::Formula(text) => self.formula(&mut answer, text),
        }
        answer
    }

    fn expected(&self, quantity: Quantity) -> Option<alloc::string::String> {
        match quantity {
            // A mass found by subtraction keeps its decimal places.
            Quantity::HydrateMass
            | Quantity::ResidueMass
            | Quantity::WaterMass
            | Quantity::Formula => self.run.written(quantity),
            _ => self.run.value(quantity).map(|value| value.to_plain()),
        }
    }

    /// The figures that the readings allow a quantity.
    fn allowed(&self, quantity: Quantity) -> u32 {
        let measured = self.run.measured(quantity);
        measured.and_then(|m| m.figures()).unwrap_or(1)
    }

    fn number(&mut self, answer: &mut Answer, number: &Reading) {
        let quantity = answer.quantity;
        let allowed = self.allowed(quantity);
        let own = answer
            .defensible
            .as_ref()
            .is_some_and(|range| range.admits_with(number, allowed));
        if own {
            answer.verdict = Verdict::Correct;
        } else {
            let leading = |step: &Step| step.range.admits(number);
            decide(answer, self.following(quantity).into_iter().filter(leading));
        }
        if number.value().is_zero() {
            // From nought nothing follows.
            return;
        }
        // Careful work keeps three figures on the way, or as many as the readings allow.
        let coarse = number.figures().at_most() < allowed.min(3);
        let origin = match answer.verdict {
            Verdict::Correct if coarse => Some(quantity),
            Verdict::Correct => None,
            Verdict::CarriedForward => answer.carried_from,
            _ => Some(quantity),
        };
        // A wrong number may have been gone on from before it was rounded; a right one too, but
        // then its unrounded value is among the paths already.
        let range = if answer.verdict == Verdict::Correct {
            Range::point(number.value())
        } else {
            Range::about(number)
        };
        let step = Step {
            range,
            from: Some(quantity),
            origin,
        };
        self.reported.push((quantity, step));
    }

    fn handed_in(&self, quantity: Quantity) -> Option<Step> {
        self.reported
            .iter()
            .find(|(q, _)| *q == quantity)
            .map(|(_, step)| step.clone())
    }

    /// The bench's own value and the reported one, where there are such.
    fn steps(&self, quantity: Quantity) -> Vec<Step> {
        let own = self.own.range(quantity).map(|range| Step {
            range: range.clone(),
            from: None,
            origin: None,
        });
        own.into_iter().chain(self.handed_in(quantity)).collect()
    }

    /// The water: own, handed in, or the difference of masses of which one was handed in.
    fn waters(&self) -> Vec<Step> {
        self.with_difference(Quantity::WaterMass, Quantity::ResidueMass)
    }

    /// The residue, likewise.
    fn residues(&self) -> Vec<Step> {
        self.with_difference(Quantity::ResidueMass, Quantity::WaterMass)
    }

    fn with_difference(&self, mass: Quantity, other: Quantity) -> Vec<Step> {
        let mut steps = self.steps(mass);
        let (hydrates, others) = (self.steps(Quantity::HydrateMass), self.steps(other));
        steps.extend(pairs(&hydrates, &others, |h, o| {
            Some(h.range.minus(&o.range))
        }));
        steps
    }

    /// Every value that follows from at least one answer handed in.
    fn following(&self, quantity: Quantity) -> Vec<Step> {
        let one = |steps: Vec<Step>, of: &dyn Fn(&Range) -> Option<Range>| -> Vec<Step> {
            let handed = steps.into_iter().filter(|s| s.from.is_some());
            handed
                .filter_map(|s| {
                    Some(Step {
                        range: of(&s.range)?,
                        ..s
                    })
                })
                .collect()
        };
        match quantity {
            Quantity::HydrateMass | Quantity::Formula => Vec::new(),
            Quantity::ResidueMass => one(self.residues(), &|r| Some(r.clone())),
            Quantity::WaterMass => one(self.waters(), &|w| Some(w.clone())),
            Quantity::PercentWater => {
                let hydrates = self.steps(Quantity::HydrateMass);
                pairs(&self.waters(), &hydrates, |w, h| {
                    percent(&w.range, &h.range)
                })
            }
            Quantity::MolSalt => one(self.residues(), &|r| self.paths.mol_salt(r)),
            Quantity::MolWater => one(self.waters(), &|w| self.paths.mol_water(w)),
            Quantity::Ratio => self.ratios(),
        }
    }

    fn ratios(&self) -> Vec<Step> {
        let sides = |masses: Vec<Step>, amount: Quantity| -> Vec<(Source, Step)> {
            let masses = masses
                .into_iter()
                .map(|s| (Source::Mass(s.range.clone()), s));
            let amount = self.handed_in(amount);
            masses
                .chain(amount.map(|s| (Source::Amount(s.range.clone()), s)))
                .collect()
        };
        let water = sides(self.waters(), Quantity::MolWater);
        let salt = sides(self.residues(), Quantity::MolSalt);
        let mut found = Vec::new();
        for (w, from_water) in &water {
            for (s, from_salt) in &salt {
                if from_water.from.is_some() || from_salt.from.is_some() {
                    found.extend(both(self.paths.ratio(w, s), from_water, from_salt));
                }
            }
        }
        if let Some(p) = self.handed_in(Quantity::PercentWater) {
            let rest = Range::point(Ratio::from(100)).minus(&p.range);
            let ratio = self
                .paths
                .ratio(&Source::Mass(p.range.clone()), &Source::Mass(rest));
            found.extend(ratio.map(|range| Step { range, ..p }));
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
        if same(&formula, &self.run.nearest_formula()) {
            answer.verdict = Verdict::Correct;
            return;
        }
        let handed = self.handed_in(Quantity::Ratio);
        let ratios = handed.into_iter().chain(self.ratios());
        let leading = ratios.filter(|step| {
            let middle = (step.range.low() + step.range.high()).checked_div(&Ratio::from(2));
            middle
                .and_then(|ratio| self.run.nearest_formula_to(&ratio))
                .is_some_and(|nearest| same(&formula, &nearest))
        });
        decide(answer, leading);
    }
}

/// Correct if the value follows from answers that are all right, carried forward if it follows
/// from any, else unexplained.
fn decide(answer: &mut Answer, leading: impl Iterator<Item = Step>) {
    answer.verdict = Verdict::Unexplained;
    for step in leading {
        match step.origin {
            None => {
                answer.verdict = Verdict::Correct;
                answer.carried_from = None;
                answer.follows = step.from;
                return;
            }
            Some(origin) if answer.verdict == Verdict::Unexplained => {
                answer.verdict = Verdict::CarriedForward;
                answer.carried_from = Some(origin);
            }
            Some(_) => {}
        }
    }
}

/// What follows from each pair of which at least one was handed in.
fn pairs(a: &[Step], b: &[Step], of: impl Fn(&Step, &Step) -> Option<Range>) -> Vec<Step> {
    let mut found = Vec::new();
    for a in a {
        for b in b {
            if a.from.is_some() || b.from.is_some() {
                found.extend(both(of(a, b), a, b));
            }
        }
    }
    found
}

/// A value that rests on two others.
fn both(range: Option<Range>, a: &Step, b: &Step) -> Option<Step> {
    let first = |a: Option<Quantity>, b: Option<Quantity>| match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    };
    Some(Step {
        range: range?,
        from: first(a.from, b.from),
        origin: first(a.origin, b.origin),
    })
}

/// Whether two formulas are one hydrate, however its salt is spelt: the same atoms, and the same
/// water of both kinds among them, in one proportion.
fn same(a: &Formula, b: &Formula) -> bool {
    let proportion = |a: &Composition, b: &Composition| {
        let (atom, count) = a.iter().next()?;
        b.count(atom).checked_div(count)
    };
    let waters = |formula: &Formula| -> Ratio {
        let waters = [formula.waters(), formula.waters_coordinated()];
        waters.into_iter().flatten().sum()
    };
    let (Ok(in_a), Ok(in_b)) = (a.composition(), b.composition()) else {
        return a == b;
    };
    let Some(times) = proportion(&in_a, &in_b) else {
        return false;
    };
    in_a.iter().count() == in_b.iter().count()
        && in_a
            .iter()
            .all(|(atom, count)| in_b.count(atom) == count * &times)
        && waters(b) == &waters(a) * &times
}
