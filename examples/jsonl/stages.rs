//! `stages`: what heating in stages leaves and loses, from a stated sequence of residues.

use effloresce::gravimetry::Stages;

use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply};

/// The largest number of residues, more than any salt leaves one after the other.
const MOST_RESIDUES: usize = 20;

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["hydrate", "residues", "sample_mass"], &options::ENVELOPE])?;
    let strict = options::strict(request)?;
    let weights = options::weights(request)?;
    let (hydrate, mut notes) = options::formula(request, "hydrate")?;
    let stages = Stages::of(hydrate, &weights);
    let stages = stages.map_err(|error| Failure::from(error).within("hydrate"))?;
    let stages = request.set("sample_mass", stages, |stages, value| {
        Ok(stages.sample(value.mass()?)?)
    })?;
    let residues = request.required("residues", |value| {
        value.list(MOST_RESIDUES, |residue: Json<'_>| {
            let (residue, more) = options::read_formula(&residue.text()?, strict)?;
            notes.extend(more);
            Ok(residue)
        })
    })?;
    if residues.is_empty() {
        return Err(Failure::missing("residues", "there is no residue")
            .help("give the formulas of the residues, in order"));
    }
    let mut residues = residues.into_iter().enumerate();
    let stages = residues.try_fold(stages, |stages, (index, residue)| {
        let place = format!("residues[{index}]");
        stages
            .then(residue)
            .map_err(|error| Failure::from(error).within(&place))
    })?;
    Ok(reply::result(stages.with_notes(notes)))
}
