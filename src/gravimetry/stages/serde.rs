//! Stages in the shape of the JSON-lines contract.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::sequence::SequenceFit;
use super::stage::{Stage, Stages};
use crate::number::Ratio;
use crate::text::fields;

fields!(Stages, it, {
    "stages": it.stages(),
    "hazard": it.severity(),
    "cautions": it.cautions(),
    "notes": it.notes(),
    "edition": it.edition(),
});

/// A gas with its number of molecules.
struct Molecules<'a>(&'a (String, Ratio));

fields!(Molecules<'_>, it, {
    "formula": it.0.0,
    "number": it.0.1.to_string(),
});

fields!(Stage, it, {
    "residue": it.residue(),
    "per_hydrate": it.per_start().to_string(),
    "lost": it.lost(),
    "gases": it.gases().iter().map(Molecules).collect::<Vec<_>>(),
    "taken_up": it.taken_up(),
    "percent_lost": it.percent_lost().to_plain(),
    "percent_total": it.percent_total().to_plain(),
    "percent_residue": it.percent_residue().to_plain(),
    "mass": it.mass().map(Ratio::to_plain),
});

fields!(SequenceFit, it, {
    "stages": it.stages().stages(),
    "differences": it.differences().iter().map(Ratio::to_plain).collect::<Vec<_>>(),
    "distance": it.distance(),
});
