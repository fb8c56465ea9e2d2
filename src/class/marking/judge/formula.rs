//! Judging a reported formula: the bench's own hydrate in any spelling, what follows from a ratio,
//! and slips.

use alloc::boxed::Box;
use alloc::string::String;
use alloc::vec::Vec;

use super::loose_formula::{loose_formula, loose_name};
use super::same_hydrate::{same, units};
use super::starting_value::{Credit, StartingValue, best_credit};
use super::submission::{Submission, middle};
use crate::class::marking::answer::{Judgement, Obstacle};
use crate::class::marking::remark::Remark;
use crate::class::sheet::is_known_hydrate;
use crate::class::{FormulaRule, Marks};
use crate::formula::Formula;
use crate::gravimetry::{Interval, Quantity};
use crate::mistake::Slip;
use crate::number::{Ratio, Reading};

/// Judges a formula, which earns `most` if it is right by this rule.
pub(super) fn judge(
    submission: &Submission<'_>,
    rule: FormulaRule,
    text: &str,
    most: Marks,
) -> (Credit, Vec<Remark>) {
    let own = submission.bench.dehydration.nearest_formula();
    let (formula, mut remarks, doubtful) = match read(submission, text, &own) {
        Ok(read) => read,
        Err(obstacle) => return (Credit::zero(Judgement::Obstacle(obstacle)), Vec::new()),
    };
    let meant = unrounded(submission, &formula);
    remarks.extend(meant.clone().map(Remark::UnroundedDegree));
    let formula = meant.map_or(formula, |meant| *meant);
    let contradiction = contradiction(submission, &formula);
    remarks.extend(contradiction.clone().map(Remark::ContradictsRatio));
    let right = same(&formula, &own);
    let credit = match contradiction {
        Some(by_ratio) if right && rule == FormulaRule::OwnRatio => {
            Credit::zero(Judgement::Obstacle(Obstacle::ContradictsRatio(by_ratio)))
        }
        _ if right => Credit {
            judgement: Judgement::Correct { follows: None },
            marks: most,
        },
        _ => following(submission, &formula, most).unwrap_or_else(|| {
            Credit::zero(if doubtful {
                let text = String::from(text);
                Judgement::Obstacle(Obstacle::DoubtfulFormula { text })
            } else {
                by_slips(submission, &formula)
            })
        }),
    };
    (credit, remarks)
}

/// Reads a formula or a name, with what is said about it, and whether it has two meanings. `own` is the
/// bench's own hydrate.
fn read(
    submission: &Submission<'_>,
    text: &str,
    own: &Formula,
) -> Result<(Formula, Vec<Remark>, bool), Obstacle> {
    let read = Formula::read_with_doubt(text).or_else(|error| match Formula::from_name(text) {
        Ok((formula, notes)) => Ok((formula, notes, false)),
        Err(_) => Err(error),
    });
    let dehydration = &submission.bench.dehydration;
    let loose = || loose_formula(text, dehydration.salt(), own);
    let loose = match &read {
        Ok((formula, _, false)) if formula.one_formula_unit().is_some() => {
            // `MgSO4/7H2O` is a formula, with a count of 4/7, and `CaSO4 .5H2O` has a dot and 5 waters.
            let maybe_other = text.contains(['/', ' ']) || text.contains("..");
            maybe_other.then(loose).flatten()
        }
        // An unknown number of waters, `MgSO4·xH2O`, is no other one.
        Ok((formula, ..)) if formula.composition().is_err() => None,
        Ok(_) => loose(),
        Err(_) => loose().or_else(|| loose_name(text)),
    };
    let loose = loose.filter(|loose| match &read {
        Ok((formula, _, false)) => !same(loose, formula),
        _ => true,
    });
    match (loose, read) {
        (Some(loose), _) => {
            let remark = Remark::LooseFormula(Box::new(loose.clone()));
            Ok((loose, [remark].into(), false))
        }
        (None, Ok((formula, notes, doubtful))) => {
            let remarks = notes.into_iter().map(Remark::Notation);
            Ok((formula, remarks.collect(), doubtful))
        }
        (None, Err(error)) => {
            let text = String::from(text);
            Err(Obstacle::BadFormula { text, error })
        }
    }
}

/// Returns the hydrate that a formula with the unrounded ratio means: `MgSO4·7H2O` for `MgSO4·6.99H2O`.
/// The number must be the ratio of the bench or the one handed in. A half, a third or a quarter of a wrong
/// ratio may be meant as it is.
fn unrounded(submission: &Submission<'_>, formula: &Formula) -> Option<Box<Formula>> {
    let dehydration = &submission.bench.dehydration;
    let degree = degree(submission, formula).filter(|degree| !degree.is_integer())?;
    let nearest = dehydration.nearest_formula_to(&degree)?;
    if same(formula, &nearest) {
        return None;
    }
    let written: Reading = degree.to_plain().parse().ok()?;
    let own = submission.bench.defensible.interval(Quantity::Ratio);
    let handed_in = submission.handed_in(Quantity::Ratio);
    let simple = [2, 3, 4].iter().any(|n| (&degree * *n).is_integer());
    let handed_in = handed_in.filter(|value| !simple || value.origin.is_none());
    let mut ranges = own.into_iter().chain(handed_in.map(|value| &value.range));
    ranges
        .any(|range| range.admits(&written))
        .then(|| Box::new(nearest))
}

/// Returns the number of waters in a hydrate of the bench's salt, for one formula unit of that.
fn degree(submission: &Submission<'_>, formula: &Formula) -> Option<Ratio> {
    let (salt, degree) = formula.one_formula_unit()?;
    degree.checked_div(&units(&salt, submission.bench.dehydration.salt())?)
}

/// Returns whether a formula has the fraction of water of a wrong ratio as it was written: `2BaCl2·3H2O`
/// that of 1.5.
fn has_waters_of(submission: &Submission<'_>, ratio: &StartingValue, formula: &Formula) -> bool {
    if written_degree(submission, &ratio.range).is_some() {
        return false;
    }
    let degree = degree(submission, formula).filter(|degree| !degree.is_integer());
    let written = degree.and_then(|degree| degree.to_plain().parse().ok());
    ratio.origin.is_some() && written.is_some_and(|written| ratio.range.admits(&written))
}

/// Returns the formula that the ratio handed in gives, if it is another one.
fn contradiction(submission: &Submission<'_>, formula: &Formula) -> Option<Box<Formula>> {
    let ratio = submission.handed_in(Quantity::Ratio)?;
    // Another salt says nothing about the ratio.
    let follows =
        gives(submission, &ratio.range, formula) || has_waters_of(submission, ratio, formula);
    if follows || is_of_another_salt(submission, formula) {
        return None;
    }
    let by_ratio = middle(&ratio.range)?;
    let by_ratio = submission.bench.dehydration.nearest_formula_to(&by_ratio)?;
    Some(Box::new(by_ratio))
}

/// Returns the hydrate whose number of waters a ratio is: a ratio of 7 is that of the heptahydrate, however
/// it was rounded.
fn written_degree(submission: &Submission<'_>, ratio: &Interval) -> Option<Formula> {
    let x = middle(ratio)?;
    let nearest = submission.bench.dehydration.nearest_formula_to(&x)?;
    (degree(submission, &nearest).unwrap_or_default() == x).then_some(nearest)
}

/// Returns whether a ratio gives a formula. The formula may come from the ratio before it was rounded,
/// so either end counts, unless the ratio is itself a number of waters.
fn gives(submission: &Submission<'_>, ratio: &Interval, formula: &Formula) -> bool {
    if let Some(hydrate) = written_degree(submission, ratio) {
        return same(formula, &hydrate);
    }
    let dehydration = &submission.bench.dehydration;
    let is_nearest_to = |x: &Ratio| {
        let nearest = dehydration.nearest_formula_to(x);
        // Who knows that it is a hydrate writes the smallest one.
        let smallest = || dehydration.salt().with_waters(&Ratio::ONE);
        nearest.is_some_and(|nearest| {
            same(formula, &nearest)
                || (nearest.waters().is_none() && smallest().is_some_and(|one| same(formula, &one)))
        })
    };
    is_nearest_to(ratio.low())
        || is_nearest_to(ratio.high())
        || middle(ratio).is_some_and(|x| is_nearest_to(&x))
}

/// Returns what the formula earns because it follows from a ratio that was handed in.
fn following(submission: &Submission<'_>, formula: &Formula, most: Marks) -> Option<Credit> {
    let handed_in = submission.handed_in(Quantity::Ratio).cloned();
    let ratios = handed_in.into_iter().chain(submission.ratios());
    let leading = ratios.filter(|value| {
        gives(submission, &value.range, formula) || has_waters_of(submission, value, formula)
    });
    best_credit(leading.map(|value| (value, most)))
}

/// Names the slips that give a formula.
fn by_slips(submission: &Submission<'_>, formula: &Formula) -> Judgement {
    let slips = slips(submission, formula).unwrap_or_default();
    if slips.is_empty() {
        let other = is_known_hydrate(formula) && degree(submission, formula).is_some();
        return match other {
            true => Judgement::Obstacle(Obstacle::OtherHydrate),
            false => Judgement::Unexplained,
        };
    }
    // A whole number has no digits by which one slip differs from another. A known hydrate may be another
    // bottle.
    let certain = match *slips {
        // Beside a ratio, the number may only be before the salt: `7MgSO4·H2O`.
        [Slip::RatioInverted] => {
            !is_known_hydrate(formula) && submission.handed_in(Quantity::Ratio).is_none()
        }
        [Slip::OtherSalt] => true,
        _ => false,
    };
    Judgement::Slips { slips, certain }
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
    let nearest_waters = nearest.and_then(|hydrate| hydrate.waters());
    let mut slips = Vec::new();
    let inverse = nearest_waters.as_ref();
    let inverse = inverse.and_then(|waters| Ratio::ONE.checked_div(waters));
    // Beside a right ratio, a known hydrate is rather another bottle than a ratio upside down.
    let handed_in = submission.handed_in(Quantity::Ratio);
    let right = handed_in.is_some_and(|ratio| ratio.origin.is_none());
    if is(inverse) && !(right && is_known_hydrate(formula)) {
        slips.push(Slip::RatioInverted);
    }
    if same(formula, submission.issued) {
        slips.push(Slip::TextbookValue);
    }
    // The water that the residue holds may be left out.
    let left = dehydration.residue().waters().unwrap_or_default();
    if !left.is_zero() && is(nearest_waters.map(|waters| waters - &left)) {
        slips.push(Slip::ResidualWaterMiscounted);
    }
    // A whole number has nothing to cut off.
    let cut = |x: &Ratio| (!x.is_integer()).then(|| x.floor());
    if is(cut(&x)) || is(cut(least)) {
        slips.push(Slip::Truncated);
    }
    if is_of_another_salt(submission, formula) {
        slips.push(Slip::OtherSalt);
    }
    Some(slips)
}

/// Returns whether a formula is a hydrate of a salt that people confuse with the one issued.
fn is_of_another_salt(submission: &Submission<'_>, formula: &Formula) -> bool {
    let others = &submission.bench.shared.other_salts;
    let unit = formula.one_formula_unit();
    unit.is_some_and(|(salt, _)| others.iter().any(|other| same(other, &salt)))
}
