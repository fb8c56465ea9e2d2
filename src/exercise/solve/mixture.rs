//! `mixture`: the fractions of two components, from the mass that heating leaves.

use alloc::vec::Vec;

use super::solved::{Pointer, Solved};
use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::gravimetry::{Component, Method, Net, Weighings};

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    request.only(&["components", "sample_mass", "residue_mass"])?;
    let component = |members: &RequestMembers<'_>| {
        members.only(&["formula", "residue"])?;
        let component = Component::new(members.formula("formula")?, members.formula("residue")?)?;
        Ok::<_, Error>(component)
    };
    let components = request.objects("components")?;
    let components: Vec<Component> = components.iter().map(component).collect::<Result<_, _>>()?;
    let components = <[Component; 2]>::try_from(components).map_err(|_| {
        let help = "give two components, each with `formula` and `residue`";
        request.wrong("components", "does not have two components", help)
    })?;
    let (sample, residue) = (
        request.reading("sample_mass")?,
        request.reading("residue_mass")?,
    );
    let mixture = Method::new()
        .weights(weights.clone())
        .mixture(components, &Weighings::net(sample, residue, Net::Tared))?;
    let masses = mixture.masses();
    let values = match pointer.steps() {
        ["fractions", _] => Some(mixture.fractions()),
        ["masses", _] => masses.as_ref(),
        _ => None,
    };
    let index = pointer.steps().get(1).and_then(|step| Pointer::index(step));
    let value = values.and_then(|values| values.get(index?));
    Ok(value.cloned().map(Solved::Number))
}
