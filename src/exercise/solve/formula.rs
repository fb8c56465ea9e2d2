//! `formula`: the molar mass of a formula, its water, and the share of each element.

use super::solved::{Pointer, Solved};
use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    request.only(&["formula"])?;
    let formula = request.formula("formula")?;
    let solved = match pointer.steps() {
        ["formula"] => Some(Solved::Text(alloc::format!("{formula}"))),
        ["molar_mass"] => {
            let molar = formula.molar_mass(weights)?;
            Some(Solved::Number(molar.exact()))
        }
        ["percent_water"] => {
            let percent = formula.percent_water(weights)?;
            percent.map(Solved::Number)
        }
        ["composition", index, "mass_percent"] => {
            let described = formula.describe(weights)?;
            let mut shares = described.composition().map(|(_, _, percent)| percent);
            let share = Pointer::index(index).and_then(|index| shares.nth(index));
            share.cloned().map(Solved::Number)
        }
        _ => None,
    };
    Ok(solved)
}
