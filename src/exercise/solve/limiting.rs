//! `limiting`: amounts of all species, the limiting reactants, the percent yield.

use alloc::format;
use alloc::string::ToString;

use super::solved::{Pointer, Solved};
use crate::element::AtomicWeights;
use crate::exercise::error::{Error, ErrorKind, wrong};
use crate::exercise::field::RequestMembers;
use crate::formula::Formula;
use crate::number::Ratio;
use crate::reaction::{Amounts, Equation, Reacted, Side, SpeciesAmount, Supply};

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    let reacted = reacted(request, weights)?;
    let solved = match pointer.steps() {
        ["extent"] => Some(Solved::Number(reacted.extent().amount().clone())),
        ["percent_yield"] => {
            let percent = reacted.percent_yield();
            let found = percent.map(|found| found.percent().clone());
            Some(not_null(
                "percent_yield",
                found,
                "no product has an actual mass",
            )?)
        }
        ["limiting", index] => {
            let mut limiting = reacted.limiting();
            let limiting = Pointer::index(index).and_then(|index| limiting.nth(index));
            limiting.map(|species| Solved::Text(species.name()))
        }
        ["species", index, value] => {
            let species = Pointer::index(index).and_then(|index| reacted.species().get(index));
            species.map_or(Ok(None), |species| value_of(species, value))?
        }
        _ => None,
    };
    Ok(solved)
}

/// One value of a species; `None` if there is no such value.
fn value_of(species: &SpeciesAmount, value: &str) -> Result<Option<Solved>, Error> {
    let number = match value {
        "species" => return Ok(Some(Solved::Text(species.name()))),
        "role" => {
            let role = match species.side() {
                Side::Reactants => "reactant",
                Side::Products => "product",
            };
            return Ok(Some(Solved::Text(role.to_string())));
        }
        "mol_initial" => species.mol_initial(),
        "mol_final" => species.mol_final(),
        "mass_initial" => species.mass_initial(),
        "mass_final" => species.mass_final(),
        "mol_change" => Some(species.mol_change()),
        "mass_change" => Some(species.mass_change()),
        _ => return Ok(None),
    };
    let because = format!(
        "{} is in excess and its amount is not given",
        species.name()
    );
    not_null(value, number.cloned(), &because).map(Some)
}

/// A number, or an error that says why the result has none.
fn not_null(name: &str, number: Option<Ratio>, because: &str) -> Result<Solved, Error> {
    number.map(Solved::Number).ok_or_else(|| {
        let message = format!("`{name}` of the result is null, because {because}");
        let help = "give what is missing in the request, or ask for another value";
        wrong(ErrorKind::BadRequest, message, help)
    })
}

fn reacted(request: &RequestMembers<'_>, weights: &AtomicWeights) -> Result<Reacted, Error> {
    request.only(&["equation", "amounts", "actual"])?;
    let (equation, _) = request.parsed("equation", Equation::read)?;
    let given = request.object("amounts")?;
    let mut amounts = Amounts::new().weights(weights.clone());
    for (species, _) in given.iter() {
        let (formula, _) = Formula::read(species)?;
        amounts = amounts.with(formula, supply(&given.object(species)?)?);
    }
    if request.get("actual").is_some() {
        let actual = request.object("actual")?;
        actual.only(&["species", "mass"])?;
        let (product, _) = actual.parsed("species", Formula::read)?;
        amounts = amounts.actual(product, actual.reading("mass")?);
    }
    Ok(amounts.react(&equation.stoichiometry()?)?)
}

/// An amount in one of its three forms.
fn supply(amount: &RequestMembers<'_>) -> Result<Supply, Error> {
    if amount.get("mol").is_some() {
        amount.only(&["mol"])?;
        return Ok(Supply::moles(amount.reading("mol")?));
    }
    if amount.get("concentration").is_some() {
        amount.only(&["concentration", "volume"])?;
        let concentration = amount.reading("concentration")?;
        return Ok(Supply::solution(concentration, amount.reading("volume")?));
    }
    amount.only(&["mass", "purity_percent"])?;
    let supply = Supply::mass(amount.reading("mass")?);
    match amount.get("purity_percent") {
        None => Ok(supply),
        Some(_) => Ok(supply.pure(amount.reading("purity_percent")?)),
    }
}
