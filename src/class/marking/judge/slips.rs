//! The slips that give a reported number.

use alloc::vec::Vec;

use super::submission::Submission;
use crate::class::marking::answer::Judgement;
use crate::class::marking::shared_key::RoundingPaths;
use crate::gravimetry::{Interval, NUMERIC_QUANTITIES, Quantity};
use crate::mistake::{Slip, StudentWork};
use crate::number::Reading;

/// Names the slips that give a number, from the bench's readings or else from what was handed in
/// before.
pub(super) fn judge(
    submission: &Submission<'_>,
    quantity: Quantity,
    number: &Reading,
) -> Judgement {
    let own = submission.bench.defensible.clone().into_intervals();
    let Some(mut work) = student_work(submission, &submission.bench.shared.careful, own) else {
        return Judgement::Unexplained;
    };
    let leading = |work: &StudentWork<'_>, number: &Reading| {
        let mut slips = Slip::leading_to(work, quantity, number);
        slips.retain(|slip| !shows_before(submission, quantity, *slip));
        slips
    };
    let mut slips = leading(&work, number);
    let on_errors = slips.is_empty() && submission.has_errors();
    if on_errors {
        replace_by_submission(&mut work, submission);
        slips = leading(&work, number);
    }
    let certain = match slips.as_slice() {
        [] => {
            slips = match number.times_power_of_ten(2) {
                // A wrong percentage as a fraction.
                Some(percent) if quantity == Quantity::PercentWater => leading(&work, &percent),
                _ => slips,
            };
            if slips.is_empty() {
                return Judgement::Unexplained;
            }
            false
        }
        [slip] => is_certain(submission, *slip, on_errors, quantity, number),
        _ => false,
    };
    if slips.contains(&Slip::ResidualWaterMiscounted)
        && quantity == Quantity::Ratio
        && is_bare_quotient(submission, number)
    {
        slips = [Slip::ResidualWaterMiscounted].into();
    }
    Judgement::Slips { slips, certain }
}

/// Returns whether a slip would show in the amounts that were handed in before the ratio. The ratio that
/// follows from these is carried forward, so another one has another cause.
fn shows_before(submission: &Submission<'_>, quantity: Quantity, slip: Slip) -> bool {
    let amounts = slip.wrong_amounts();
    let handed_in = |amount: &Quantity| submission.handed_in(*amount).is_some();
    quantity == Quantity::Ratio && !amounts.is_empty() && amounts.iter().all(handed_in)
}

/// Returns whether a ratio is the quotient of the amounts that were handed in, without the water that stays in the
/// residue.
fn is_bare_quotient(submission: &Submission<'_>, number: &Reading) -> bool {
    let amount = |quantity| Some(&submission.handed_in(quantity)?.range);
    let amounts = amount(Quantity::MolWater).zip(amount(Quantity::MolSalt));
    let quotient = amounts.and_then(|(water, salt)| water.over(salt));
    quotient.is_some_and(|quotient| quotient.admits(number))
}

/// Returns whether a slip gives exactly the digits written, with the class's own weights and nothing
/// rounded on the way, and a number that is wrong at random would hardly be called a slip.
fn is_certain(
    submission: &Submission<'_>,
    slip: Slip,
    on_errors: bool,
    quantity: Quantity,
    number: &Reading,
) -> bool {
    let point = |quantity| {
        let value = submission.bench.dehydration.value(quantity);
        value.map(Interval::point)
    };
    let work = || {
        let [h, s, w, p, salt, water, x, _] = Quantity::ALL.map(point);
        let own = [h, s, w, p, salt, water, x];
        student_work(submission, &submission.bench.shared.unrounded, own)
    };
    let mut works = Vec::from_iter(work());
    if submission.has_errors() {
        works.extend(work().map(|mut work| {
            replace_by_submission(&mut work, submission);
            work
        }));
    }
    let from = if on_errors {
        works.last()
    } else {
        works.first()
    };
    from.is_some_and(|work| slip.gives(work, quantity, number))
        && Slip::is_rare(&works, quantity, number)
}

/// Returns the work of the bench whose own values are in these intervals.
fn student_work<'a>(
    submission: &Submission<'a>,
    rounding: &'a RoundingPaths,
    own: [Option<Interval>; NUMERIC_QUANTITIES],
) -> Option<StudentWork<'a>> {
    let (dehydration, weighings) = (&submission.bench.dehydration, submission.weighings);
    StudentWork::new(
        dehydration,
        weighings,
        &rounding.paths,
        &rounding.mistaken,
        own,
    )
}

/// Replaces the values of the work by those handed in, and by what follows from them.
fn replace_by_submission(work: &mut StudentWork<'_>, submission: &Submission<'_>) {
    for (quantity, value) in &submission.values {
        work.replace(*quantity, value.range.clone());
    }
    work.recalculate(|quantity| submission.handed_in(quantity).is_some());
}
