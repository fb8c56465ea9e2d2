//! Words of prompts about hydrates.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::exercise::draft::Refusal;
use crate::exercise::hydrate::PoolHydrate;
use crate::formula::Formula;
use crate::number::Ratio;

/// Benches and places of our own, for the beginning of a prompt.
pub(in super::super) const BENCHES: &[&str] = &["Juniper", "Hazel", "Rowan", "Alder", "Heron"];

/// The name of the anhydrous salt.
pub(in super::super) fn salt_name(row: &PoolHydrate) -> String {
    let name = row.salt.name();
    name.map_or_else(|_| row.salt.to_string(), |name| name.name().into())
}

/// The name of a hydrate of the salt.
pub(in super::super) fn hydrate_name(row: &PoolHydrate, waters: &Ratio) -> Result<String, Refusal> {
    let hydrate = hydrate(row, waters)?;
    let name = hydrate.name().map_err(Refusal::refused)?;
    Ok(name.name().into())
}

/// The hydrate of the salt with these waters.
pub(in super::super) fn hydrate(row: &PoolHydrate, waters: &Ratio) -> Result<Formula, Refusal> {
    let hydrate = row.salt.with_waters(waters);
    hydrate.ok_or(Refusal::Again("the number of waters cannot be written"))
}

/// Hydrates of a salt, by their formulas or by their names: `A, B or C`.
pub(in super::super) fn choice(
    row: &PoolHydrate,
    offered: &[Ratio],
    by_name: bool,
) -> Result<String, Refusal> {
    let written = offered.iter().map(|waters| match by_name {
        true => hydrate_name(row, waters),
        false => hydrate(row, waters).map(|hydrate| hydrate.to_string()),
    });
    let written: Vec<String> = written.collect::<Result<_, _>>()?;
    Ok(crate::text::list(written).replace(" and ", " or "))
}

/// The question for the formula.
pub(in super::super) const ASK_FORMULA: &str = "Find the formula of the hydrate.";

/// The question for the mole ratio.
pub(in super::super) fn ask_ratio(salt: &str) -> String {
    format!(
        "Work out the amount of water for each mole of {salt} in the hydrate. Do not round it to a whole number."
    )
}
