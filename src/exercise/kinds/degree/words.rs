//! Words of prompts about hydrates.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::exercise::draft::Refusal;
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::known_hydrates;
use crate::mistake::Slip;
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

/// A doubt about the hydrate, by formulas or by names: a label that is hard to read, or an error of one bench if not
/// all of the hydrates are known.
pub(in super::super) fn doubt(
    row: &PoolHydrate,
    offered: &[Ratio],
    by_name: bool,
) -> Result<String, Refusal> {
    let written = offered.iter().map(|waters| match by_name {
        true => hydrate_name(row, waters),
        false => hydrate(row, waters).map(|hydrate| hydrate.to_string()),
    });
    let written: Vec<String> = written.collect::<Result<_, _>>()?;
    let choice = crate::text::list(written).replace(" and ", " or ");
    let known = known_hydrates(&row.salt);
    Ok(match offered.iter().all(|waters| known.contains(waters)) {
        true => format!("The label of a bottle is hard to read. It says {choice}."),
        false => format!("The benches do not agree about a hydrate. They say {choice}."),
    })
}

/// Where the masses of a problem come from, and which of them count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in super::super) enum MassContext {
    /// Heating, and the last weighing counts.
    Heated,
    /// The lowest weighing counts.
    LowestCounts,
    /// The mean of the last two weighings counts.
    MeanCounts,
    /// Nothing is heated, or only a percentage is given.
    OnPaper,
}

impl MassContext {
    /// A slip in words that fit the problem.
    pub(super) fn wrong_step(self, slip: Slip) -> WrongStep {
        match (self, slip) {
            (MassContext::OnPaper, _) => WrongStep::on_paper(slip),
            (MassContext::LowestCounts, Slip::FirstHeatingUsed) => {
                WrongStep::from(slip).instead("use the lowest mass")
            }
            (MassContext::MeanCounts, Slip::FirstHeatingUsed) => {
                WrongStep::from(slip).instead("use the mean of the last two weighings")
            }
            _ => slip.into(),
        }
    }
}

/// The question for the formula.
pub(in super::super) const ASK_FORMULA: &str = "Find the formula of the hydrate.";

/// The question for the mole ratio.
pub(in super::super) fn ask_ratio(salt: &str) -> String {
    format!(
        "Work out the amount of water for each mole of {salt} in the hydrate. Do not round it to a whole number."
    )
}
