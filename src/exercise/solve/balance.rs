//! `balance`: the coefficients of an equation.

use alloc::format;

use super::solved::{Pointer, Solved};
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::formula::Formula;
use crate::reaction::{Balancer, Equation};

pub(super) fn answer(
    request: &RequestMembers<'_>,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    request.only(&["equation", "fixed"])?;
    let (equation, _) = request.parsed("equation", Equation::read)?;
    let mut balancer = Balancer::of(&equation);
    if request.get("fixed").is_some() {
        let fixed = request.object("fixed")?;
        for (species, _) in fixed.iter() {
            let (formula, _) = Formula::read(species)?;
            balancer = balancer.fix(&formula, fixed.reading(species)?.value())?;
        }
    }
    let balanced = balancer.run()?;
    let solved = match pointer.steps() {
        ["balanced"] => Some(Solved::Text(format!("{}", equation.with(&balanced)))),
        ["coefficients", index] => {
            let mut coefficients = balanced.coefficients().iter();
            let coefficient = Pointer::index(index).and_then(|index| coefficients.nth(index));
            coefficient.cloned().map(Solved::Number)
        }
        ["species", index] => {
            let mut species = equation.species().iter();
            let species = Pointer::index(index).and_then(|index| species.nth(index));
            species.map(|species| Solved::Text(species.name()))
        }
        _ => None,
    };
    Ok(solved)
}
