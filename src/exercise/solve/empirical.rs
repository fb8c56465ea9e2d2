//! `empirical`: the formula that an analysis gives.

use super::solved::{Pointer, Solved};
use crate::element::AtomicWeights;
use crate::exercise::error::Error;
use crate::exercise::field::RequestMembers;
use crate::formula::{Analysis, Formula};
use crate::number::{Ratio, Reading};

/// The fields of a combustion that are not the name of a product.
const OF_COMBUSTION: [&str; 2] = ["sample", "by_difference"];

pub(super) fn answer(
    request: &RequestMembers<'_>,
    weights: &AtomicWeights,
    pointer: &Pointer<'_>,
) -> Result<Option<Solved>, Error> {
    request.only(&["masses", "percent", "combustion", "molar_mass"])?;
    let mut analysis = Analysis::new().weights(weights.clone());
    if request.get("combustion").is_some() {
        let combustion = request.object("combustion")?;
        analysis = analysis.sample(combustion.reading("sample")?);
        analysis = parts(&combustion, analysis, Analysis::product)?;
        if combustion.get("by_difference").is_some() {
            analysis = analysis.by_difference(combustion.formula("by_difference")?);
        }
    }
    if request.get("masses").is_some() {
        analysis = parts(&request.object("masses")?, analysis, Analysis::mass)?;
    }
    if request.get("percent").is_some() {
        analysis = parts(&request.object("percent")?, analysis, Analysis::percent)?;
    }
    if request.get("molar_mass").is_some() {
        analysis = analysis.molar_mass(request.reading("molar_mass")?);
    }
    let found = analysis.empirical()?;
    let text = |formula: Option<&Formula>| {
        formula.map(|formula| Solved::Text(alloc::format!("{formula}")))
    };
    Ok(match pointer.steps() {
        ["formula"] => text(found.formula()),
        ["molecular_formula"] => text(found.molecular_formula()),
        ["multiplier"] => found
            .multiplier()
            .map(|n| Solved::Number(Ratio::from(i64::from(n)))),
        _ => None,
    })
}

/// Adds all parts of an object.
fn parts(
    members: &RequestMembers<'_>,
    analysis: Analysis,
    add: fn(Analysis, Formula, Reading) -> Analysis,
) -> Result<Analysis, Error> {
    let names = members.iter().map(|(name, _)| name);
    let mut parts = names.filter(|name| !OF_COMBUSTION.contains(name));
    parts.try_fold(analysis, |analysis, name| {
        let part: Formula = name.parse()?;
        Ok(add(analysis, part, members.reading(name)?))
    })
}
