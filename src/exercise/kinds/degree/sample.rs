//! A sample of a hydrate: its mass, what heating leaves of it, and the request about it.

use alloc::vec::Vec;

use crate::exercise::draft::Refusal;
use crate::exercise::draw::{Draw, shown};
use crate::exercise::field::Field;
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::request::{Operation, Request};
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Method, Severity, known_hydrates, salt_facts};
use crate::number::{Ratio, Reading};

/// A hydrate as weighed, and what heating leaves of it as a balance shows it.
pub(in super::super) struct WeighedSample {
    pub(in super::super) hydrate: Reading,
    pub(in super::super) residue: Reading,
    pub(in super::super) step: Reading,
}

/// The largest sample that a problem weighs out, in grams.
const LARGEST_SAMPLE: i64 = 30;

/// A hydrate of a salt with at least two known hydrates, so that a label may name both. If the choices leave none, any
/// hydrate: then benches do not agree.
pub(in super::super) fn compared_hydrate<'d>(
    draw: &mut Draw<'d>,
    allowed: impl Fn(&PoolHydrate) -> bool,
) -> Result<&'d PoolHydrate, Refusal> {
    let has_two = |row: &PoolHydrate| allowed(row) && known_hydrates(&row.salt).len() > 1;
    let drawn = draw.hydrate_that("", has_two);
    drawn.or_else(|_| {
        draw.hydrate_that(
            "no salt that a school may heat for loss on heating",
            allowed,
        )
    })
}

/// Degrees for the prompt to offer, in ascending order: that of the hydrate, and the nearest others that are known,
/// or the neighbouring whole numbers.
pub(in super::super) fn offered(row: &PoolHydrate, most: usize) -> Vec<Ratio> {
    let waters = &row.waters;
    let mut others: Vec<Ratio> = known_hydrates(&row.salt).to_vec();
    others.retain(|other| other != waters);
    others.sort_by_key(|other| (other - waters).abs());
    if others.is_empty() {
        others.push(waters.floor() + 1);
    }
    others.truncate(most.saturating_sub(1));
    others.push(waters.clone());
    others.sort_unstable();
    others
}

/// One of the lower hydrates that heating is known to leave, if a school may heat so far.
pub(in super::super) fn lower_hydrate(draw: &mut Draw<'_>, row: &PoolHydrate) -> Option<Formula> {
    let facts = salt_facts(&row.salt)?;
    let lower = facts.plateaus()?.iter().filter(|low| **low < row.waters);
    let lower = lower.filter_map(|low| row.salt.with_waters(low));
    let allowed = lower.filter(|low| {
        let safety = HeatingSafety::leaving(&row.hydrate, low);
        matches!(safety.severity(), Severity::Ordinary | Severity::Care)
    });
    let allowed: Vec<Formula> = allowed.collect();
    draw.sampler.one_of(&allowed).cloned()
}

/// A sample that is large enough for the balance, heated until `left` or the anhydrous salt is left.
pub(in super::super) fn weighed(
    draw: &mut Draw<'_>,
    row: &PoolHydrate,
    left: Option<&Formula>,
) -> Result<WeighedSample, Refusal> {
    let usual = draw.form(&["0.01", "0.01", "0.001"]);
    let step = draw.readability_or(usual);
    let mut method = Method::new().weights(draw.weights().clone());
    if let Some(left) = left {
        method = method.residue(left).map_err(Refusal::refused)?;
    }
    let plan = method.plan(&row.hydrate, step).map_err(Refusal::refused)?;
    let [least, greatest] = plan.weigh_between();
    if *greatest > Ratio::from(LARGEST_SAMPLE) {
        return Err(Refusal::Again("the balance is too coarse for a sample"));
    }
    let hydrate = draw.mass(least, greatest, &step)?;
    let steps_off = draw.sampler.between(-1, 1);
    let residue = plan.residue_from(&hydrate.value()) + step.value() * steps_off;
    Ok(WeighedSample {
        residue: shown(&residue, &step)?,
        hydrate,
        step,
    })
}

/// A request about the salt of a hydrate.
pub(in super::super) fn request(
    draw: &Draw<'_>,
    row: &PoolHydrate,
    left: Option<&Formula>,
) -> Request {
    let request = Request::new(Operation::Dehydration, draw.weights()).with("salt", &row.salt);
    match left {
        Some(left) => request.with("residue", left),
        None => request,
    }
}

/// Degrees as a request gives them.
pub(in super::super) fn degrees(offered: &[Ratio]) -> Field {
    Field::list(offered.iter().map(Ratio::to_plain))
}
