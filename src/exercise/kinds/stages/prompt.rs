//! The wordings of problems about heating in stages.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::staged_solid::{StageQuantity, StagedSolid};
use crate::exercise::draft::Refusal;
use crate::formula::Formula;

const ORDINALS: [&str; 3] = ["first", "second", "third"];

/// How a solid is named in a prompt.
pub(super) type Named = fn(&Formula) -> Result<String, Refusal>;

pub(super) fn by_formula(formula: &Formula) -> Result<String, Refusal> {
    Ok(formula.to_string())
}

/// What the bench does: one step.
pub(super) fn one_step(bench: &str, heating: &StagedSolid) -> Result<String, Refusal> {
    let gas = match heating.gases_shown(0..1).contains("CO2") {
        true => "carbon dioxide",
        false => "water",
    };
    let residue = heating
        .residues()
        .next()
        .ok_or(Refusal::Again("nothing is left"))?;
    let (solid, start) = (sample(heating), heating.start());
    Ok(format!(
        "Bench {bench} heats {solid}{start}. It loses {gas} and becomes {residue}."
    ))
}

/// What the bench does: all stages, one after the other.
pub(super) fn all_stages(
    bench: &str,
    heating: &StagedSolid,
    named: Named,
) -> Result<String, Refusal> {
    let (solid, start) = (sample(heating), named(heating.start())?);
    let residues: Vec<String> = heating.residues().map(named).collect::<Result<_, _>>()?;
    Ok(format!(
        "Bench {bench} heats {solid}{start} in stages. First it becomes {}.",
        residues.join(", then ")
    ))
}

/// What the bench does: one of the stages, which is to be found.
pub(super) fn unknown_stage(
    bench: &str,
    heating: &StagedSolid,
    [words, has]: [&str; 2],
) -> Result<String, Refusal> {
    let (solid, start) = (sample(heating), heating.start());
    let residues: Vec<String> = heating.residues().map(ToString::to_string).collect();
    Ok(format!(
        "Bench {bench} heats {solid}{start}. It can become {}. The heating stops at one of them. By then, {words} of \
         the mass {has}. Decide which of them it is.",
        residues.join(", then ")
    ))
}

fn sample(heating: &StagedSolid) -> String {
    match heating.sample {
        Some(grams) => format!("{grams}\u{a0}g of "),
        None => String::new(),
    }
}

/// What is asked. If the stage is to be found, or is the only one, it is not named.
pub(super) fn question(heating: &StagedSolid, quantity: StageQuantity, is_named: bool) -> String {
    let ordinal = ORDINALS.get(heating.asked).copied().unwrap_or("last");
    let [in_stage, after] = match is_named {
        true => [
            format!(" in the {ordinal} stage"),
            format!(" after the {ordinal} stage"),
        ],
        false => [String::new(), String::new()],
    };
    match quantity {
        StageQuantity::Lost => {
            format!("Work out the percentage of the starting mass that leaves{in_stage}.")
        }
        StageQuantity::Total => {
            format!("Work out the percentage of the starting mass that has left{after}.")
        }
        StageQuantity::Left => {
            format!("Work out the percentage of the starting mass that is left{after}.")
        }
        StageQuantity::Mass => format!("Work out the mass that is left{after}."),
    }
}
