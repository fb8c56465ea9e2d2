//! Judging a reported formula: the bench's own hydrate in any spelling, what follows from a ratio,
//! and slips.

use alloc::string::String;
use alloc::vec::Vec;

use super::same_hydrate::same;
use super::starting_value::{Credit, best_credit};
use super::submission::Submission;
use crate::class::Marks;
use crate::class::marking::answer::{Judgement, Obstacle, Remark};
use crate::formula::Formula;
use crate::gravimetry::{Interval, Quantity};
use crate::mistake::Slip;
use crate::number::Ratio;

/// Judges a formula, which earns `most` if it is right.
pub(super) fn judge(submission: &Submission<'_>, text: &str, most: Marks) -> (Credit, Vec<Remark>) {
    let read = Formula::read_with_doubt(text).or_else(|error| match Formula::from_name(text) {
        Ok((formula, notes)) => Ok((formula, notes, false)),
        Err(_) => Err(error),
    });
    let (formula, notes, doubtful) = match read {
        Ok(read) => read,
        Err(error) => {
            let text = String::from(text);
            let obstacle = Obstacle::BadFormula { text, error };
            return (Credit::zero(Judgement::Obstacle(obstacle)), Vec::new());
        }
    };
    let remarks = notes.into_iter().map(Remark::Notation).collect();
    if same(&formula, &submission.bench.dehydration.nearest_formula()) {
        let judgement = Judgement::Correct { follows: None };
        let marks = most;
        return (Credit { judgement, marks }, remarks);
    }
    let credit = following(submission, &formula, most).unwrap_or_else(|| {
        Credit::zero(if doubtful {
            let text = String::from(text);
            Judgement::Obstacle(Obstacle::DoubtfulFormula { text })
        } else {
            by_slips(submission, &formula)
        })
    });
    (credit, remarks)
}

/// Returns what the formula earns because it follows from a ratio that was handed in.
fn following(submission: &Submission<'_>, formula: &Formula, most: Marks) -> Option<Credit> {
    let handed_in = submission.handed_in(Quantity::Ratio).cloned();
    let ratios = handed_in.into_iter().chain(submission.ratios());
    let leads = |x: &Ratio| {
        let nearest = submission.bench.dehydration.nearest_formula_to(x);
        nearest.is_some_and(|nearest| same(formula, &nearest))
    };
    // The formula may come from a ratio before it was rounded, so either end counts.
    let leading = ratios.filter(|value| {
        let range = &value.range;
        leads(range.low()) || leads(range.high()) || middle(range).is_some_and(|x| leads(&x))
    });
    best_credit(leading.map(|value| (value, most)))
}

/// Names the slips that give a formula.
fn by_slips(submission: &Submission<'_>, formula: &Formula) -> Judgement {
    let slips = slips(submission, formula).unwrap_or_default();
    if slips.is_empty() {
        return Judgement::Unexplained;
    }
    Judgement::Slips {
        // A whole number has no digits by which one slip differs from another.
        certain: slips == [Slip::RatioInverted],
        slips,
    }
}

/// Returns the slips that give a formula from the pupil's own ratio, or else from the bench's.
fn slips(submission: &Submission<'_>, formula: &Formula) -> Option<Vec<Slip>> {
    let dehydration = &submission.bench.dehydration;
    let (x, least) = match submission.handed_in(Quantity::Ratio) {
        Some(value) => (middle(&value.range)?, value.range.low()),
        None => {
            let own = submission.bench.defensible.interval(Quantity::Ratio)?;
            (dehydration.ratio().clone(), own.low())
        }
    };
    let is = |degree: Option<Ratio>| {
        let hydrate = degree.and_then(|degree| dehydration.salt().with_waters(&degree));
        hydrate.is_some_and(|hydrate| same(formula, &hydrate))
    };
    let nearest = dehydration.nearest_formula_to(&x);
    let waters = nearest.and_then(|hydrate| hydrate.waters());
    let mut slips = Vec::new();
    if is(waters.and_then(|waters| Ratio::ONE.checked_div(&waters))) {
        slips.push(Slip::RatioInverted);
    }
    if same(formula, submission.issued) {
        slips.push(Slip::TextbookValue);
    }
    // A whole number has nothing to cut off.
    let cut = |x: &Ratio| (!x.is_integer()).then(|| x.floor());
    if is(cut(&x)) || is(cut(least)) {
        slips.push(Slip::Truncated);
    }
    Some(slips)
}

/// Returns the value half-way between the ends.
fn middle(range: &Interval) -> Option<Ratio> {
    (range.low() + range.high()).checked_div(&Ratio::from(2))
}
