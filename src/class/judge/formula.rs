//! Judging a formula: the bench's own hydrate in any spelling, what follows from a ratio, and slips.

use alloc::format;
use alloc::vec::Vec;

use super::following::Step;
use super::{Judge, decide};
use crate::class::{Answer, Verdict};
use crate::formula::{Composition, Formula};
use crate::gravimetry::{Interval, Quantity};
use crate::mistake::Slip;
use crate::number::Ratio;
use crate::text::Note;

impl Judge<'_> {
    pub(super) fn formula(&self, answer: &mut Answer, text: &str) {
        let read = Formula::read(text).or_else(|error| Formula::from_name(text).map_err(|_| error));
        let (formula, doubtful) = match read {
            Ok((formula, notes)) => {
                let doubtful = notes.iter().any(|note| note.code().starts_with("suspect"));
                answer.remarks.extend(notes);
                (formula, doubtful)
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
            answer.marks = answer.out_of;
            return;
        }
        let handed = self.handed_in(Quantity::Ratio);
        let ratios = || handed.clone().into_iter().chain(self.ratios());
        // A ratio may have been gone on from before it was rounded, so either end leads on.
        let leads = |x: &Ratio| {
            let nearest = self.run.nearest_formula_to(x);
            nearest.is_some_and(|nearest| same(&formula, &nearest))
        };
        let leading = ratios().filter(|step| {
            leads(step.range.low())
                || leads(step.range.high())
                || middle(&step.range).is_some_and(|x| leads(&x))
        });
        let most = answer.out_of;
        decide(answer, leading.map(|step| (step, most)));
        if answer.verdict == Verdict::Unexplained && doubtful {
            answer.remarks.push(Note::new(
                "doubtful_formula",
                format!("`{text}` can be read in two ways; to be marked by hand"),
            ));
        } else if answer.verdict == Verdict::Unexplained {
            let slips = self.formula_slips(&formula, handed.as_ref());
            // A whole number has no digits that could tell one slip from another.
            let certain = slips == [Slip::RatioInverted];
            answer.explain(slips, certain);
        }
    }

    /// The slips that a formula may come of.
    fn formula_slips(&self, formula: &Formula, handed: Option<&Step>) -> Vec<Slip> {
        // From the pupil's own ratio, where there is one; else from the bench's.
        let own = || {
            Some((
                self.run.ratio().clone(),
                self.own.interval(Quantity::Ratio)?.low().clone(),
            ))
        };
        let from = match handed {
            Some(step) => middle(&step.range).map(|x| (x, step.range.low().clone())),
            None => own(),
        };
        let Some((x, least)) = from else {
            return Vec::new();
        };
        let is = |degree: Option<Ratio>| {
            let hydrate = degree.and_then(|degree| self.run.salt().with_waters(&degree));
            hydrate.is_some_and(|hydrate| same(formula, &hydrate))
        };
        let nearest = self
            .run
            .nearest_formula_to(&x)
            .and_then(|hydrate| hydrate.waters());
        let inverted = nearest.and_then(|waters| Ratio::ONE.checked_div(&waters));
        let mut slips = Vec::new();
        if is(inverted) {
            slips.push(Slip::RatioInverted);
        }
        if same(formula, self.issued) {
            slips.push(Slip::TheoryCopied);
        }
        // Nothing is cut off a whole number.
        let cut = |x: &Ratio| (!x.is_integer()).then(|| x.floor());
        if is(cut(&x)) || is(cut(&least)) {
            slips.push(Slip::Truncated);
        }
        slips
    }
}

/// Half-way between the ends.
fn middle(range: &Interval) -> Option<Ratio> {
    (range.low() + range.high()).checked_div(&Ratio::from(2))
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
