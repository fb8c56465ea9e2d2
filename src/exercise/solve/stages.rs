//! `stages`: what heating in stages leaves and loses.

use super::solved::{Pointer, Solved};
use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::gravimetry::Stages;

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    request.only(&["hydrate", "residues", "sample_mass"])?;
    let mut stages = Stages::of(request.formula("hydrate")?, weights)?;
    if let Some(grams) = request.optional_reading("sample_mass")? {
        stages = stages.sample(grams)?;
    }
    for residue in request.formulas("residues")? {
        stages = stages.then(residue)?;
    }
    let ["stages", index, of_stage] = pointer.steps() else {
        return Ok(None);
    };
    let stage = Pointer::index(index).and_then(|index| stages.stages().get(index));
    let solved = stage.and_then(|stage| match *of_stage {
        "residue" => Some(Solved::Text(alloc::format!("{}", stage.residue()))),
        "lost" => stage.lost().map(Solved::Text),
        "percent_lost" => Some(Solved::Number(stage.percent_lost().clone())),
        "percent_total" => Some(Solved::Number(stage.percent_total().clone())),
        "percent_residue" => Some(Solved::Number(stage.percent_residue())),
        "mass" => stage.mass().cloned().map(Solved::Number),
        _ => None,
    });
    Ok(solved)
}
