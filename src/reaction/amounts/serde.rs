//! Amounts in the shape of the JSON-lines contract.

use alloc::vec::Vec;

use super::reacted::{Reacted, SpeciesAmount};
use crate::number::Ratio;
use crate::reaction::equation::Side;
use crate::text::fields;

fields!(Reacted, it, {
    "limiting": it.limiting().map(SpeciesAmount::name).collect::<Vec<_>>(),
    "extent": it.extent().amount().to_plain(),
    "species": it.species(),
    "percent_yield": it.percent_yield().map(|percent_yield| percent_yield.percent().to_plain()),
    "warnings": it.warnings(),
});

fields!(SpeciesAmount, it, {
    "species": it.name(),
    "role": match it.side() {
        Side::Reactants => "reactant",
        Side::Products => "product",
    },
    "mol_initial": it.mol_initial().map(Ratio::to_plain),
    "mol_final": it.mol_final().map(Ratio::to_plain),
    "mass_initial": it.mass_initial().map(Ratio::to_plain),
    "mass_final": it.mass_final().map(Ratio::to_plain),
    "mol_change": it.mol_change().to_plain(),
    "mass_change": it.mass_change().to_plain(),
});
