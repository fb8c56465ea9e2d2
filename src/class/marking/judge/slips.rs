//! The slips that give a reported number.

use super::submission::Submission;
use crate::class::marking::answer::Judgement;
use crate::class::marking::shared_key::RoundingPaths;
use crate::gravimetry::{Interval, NUMERIC_QUANTITIES, Quantity, figures_kept};
use crate::mistake::{Slip, StudentWork};
use crate::number::Reading;

/// Names the slips that give a number, from the bench's readings or else from what was handed in
/// before. `allowed` is the number of significant figures that the readings allow.
pub(super) fn judge(
    submission: &Submission<'_>,
    quantity: Quantity,
    number: &Reading,
    allowed: u32,
) -> Judgement {
    let own = submission.bench.defensible.clone().into_intervals();
    let Some(mut work) = student_work(submission, &submission.bench.shared.careful, own) else {
        return Judgement::Unexplained;
    };
    let mut slips = Slip::leading_to(&work, quantity, number);
    let on_errors = slips.is_empty() && submission.has_errors();
    if on_errors {
        replace_by_submission(&mut work, submission);
        slips = Slip::leading_to(&work, quantity, number);
    }
    let certain = match slips.as_slice() {
        [] => return Judgement::Unexplained,
        // Fewer digits than careful work keeps fit too many slips by chance. The textbook's whole
        // number is an exception, because it has no more digits.
        [slip] => {
            let telling = number.figures().at_most() >= figures_kept(allowed)
                || (*slip == Slip::TextbookValue && quantity == Quantity::Ratio);
            telling && gives_exactly(submission, *slip, on_errors, quantity, number)
        }
        _ => false,
    };
    Judgement::Slips { slips, certain }
}

/// Returns whether a slip gives exactly the digits written, with the class's own weights and nothing
/// rounded on the way.
fn gives_exactly(
    submission: &Submission<'_>,
    slip: Slip,
    on_errors: bool,
    quantity: Quantity,
    number: &Reading,
) -> bool {
    let point = |quantity| {
        submission
            .bench
            .dehydration
            .value(quantity)
            .map(Interval::point)
    };
    let [h, s, w, p, salt, water, x, _] = Quantity::ALL.map(point);
    let own = [h, s, w, p, salt, water, x];
    let work = student_work(submission, &submission.bench.shared.unrounded, own);
    work.is_some_and(|mut work| {
        if on_errors {
            replace_by_submission(&mut work, submission);
        }
        slip.gives(&work, quantity, number)
    })
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
