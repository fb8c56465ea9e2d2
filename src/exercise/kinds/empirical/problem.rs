//! The problem about a compound: its empirical formula, or its molecular formula.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::row::KindRow;
use super::counts::text;
use super::sample::{AnalysisData, AnalysisMethod, CompoundSample};
use super::wrong::wrong;
use crate::exercise::draft::{Asked, DraftProblem, Refusal};
use crate::exercise::draw::Draw;
use crate::exercise::kind::Level;
use crate::exercise::pool::{COMPOUNDS, CompoundRow};
use crate::exercise::skill::Skill;
use crate::formula::Formula;
use crate::number::Reading;

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// Given are the masses or the percentages of two or more parts, those of a salt and water, or the products of a
/// combustion. With a molar mass, the molecular formula is asked for, or the molar mass is superfluous.
const TWO_MASSES: &str = "masses_of_two";
const TWO_PERCENT: &str = "percent_of_two";
const HYDRATE_MASSES: &str = "masses_of_salt_and_water";
const HYDRATE_PERCENT: &str = "percent_of_salt_and_water";
const MASSES: &str = "masses";
const PERCENT: &str = "percent";
const MOLECULAR: &str = "molecular_from_percent";
const COMBUSTION: &str = "combustion";
const OXYGEN: &str = "combustion_with_oxygen";
const COMBUSTION_MOLECULAR: &str = "molecular_from_combustion";
const EXTRA: &str = "superfluous_molar_mass";

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let level = draw.level;
    // A row that does not suit the level is about nothing.
    let formulas = |row: &CompoundRow| -> Vec<Formula> {
        let suits = !forms(level, row).is_empty();
        let formula = suits.then(|| formula_of(row)).flatten();
        formula.into_iter().collect()
    };
    let row = draw.row("no compound to analyse", COMPOUNDS, formulas)?;
    let forms = forms(level, row);
    if forms.is_empty() {
        return Err(Refusal::Again("the compound does not suit the level"));
    }
    let form = draw.form(&forms);
    let method = match form {
        TWO_MASSES | HYDRATE_MASSES | MASSES => AnalysisMethod::Masses,
        COMBUSTION | OXYGEN | COMBUSTION_MOLECULAR => AnalysisMethod::Combustion,
        _ => AnalysisMethod::Percent,
    };
    let with_molar_mass = [MOLECULAR, COMBUSTION_MOLECULAR, EXTRA].contains(&form);
    let sample = CompoundSample::new(row, method, with_molar_mass, draw)?;
    let is_molecular = [MOLECULAR, COMBUSTION_MOLECULAR].contains(&form);
    // A molar mass that is not needed is not in the steps.
    let solved = sample.solved(is_molecular, draw.weights())?;
    let expected = text(&sample.parts(), &sample.counts(sample.units()));
    let found = solved.molecular_formula().map(|found| format!("{found}"));
    if is_molecular && found != Some(expected) {
        return Err(Refusal::Again("the molar mass does not give the molecule"));
    }
    let pointer = match is_molecular {
        true => "/molecular_formula",
        false => "/formula",
    };
    Ok(DraftProblem {
        form,
        skills: skills(form, is_molecular),
        prompt: prompt(form, &sample),
        request: sample.request(draw.weights()),
        asked: Asked::Formula {
            pointer: pointer.into(),
        },
        working: solved.working(),
        wrong: match draw.source.exercises.options {
            true => wrong(&sample, is_molecular, draw.weights()),
            false => Vec::new(),
        },
    })
}

/// The formula of a compound, to compare it with the salts to take and to avoid.
fn formula_of(row: &CompoundRow) -> Option<Formula> {
    let parts: Vec<&str> = row.parts.iter().map(|(part, _)| *part).collect();
    let units = i64::from(row.multiple.unwrap_or(1));
    let counts = row.parts.iter();
    let counts: Vec<i64> = counts.map(|(_, count)| units * i64::from(*count)).collect();
    text(&parts, &counts).parse().ok()
}

/// The forms that a compound has at a level.
fn forms(level: Level, row: &CompoundRow) -> Vec<&'static str> {
    let has_two = row.parts.len() == 2;
    let is_hydrate = row.parts.iter().any(|(part, _)| *part == "H2O");
    let is_multiple = row.multiple.is_some_and(|multiple| multiple > 1);
    let candidates: &[(&'static str, bool)] = match level {
        Level::OneStep => &[
            (TWO_MASSES, has_two && !is_hydrate),
            (TWO_PERCENT, has_two && !is_hydrate),
            (HYDRATE_MASSES, is_hydrate),
            (HYDRATE_PERCENT, is_hydrate),
        ],
        Level::SeveralSteps => &[
            (MASSES, !has_two),
            (PERCENT, !has_two),
            (MOLECULAR, is_multiple),
            (COMBUSTION, has_two && row.burns),
        ],
        Level::Judgement => &[
            (OXYGEN, !has_two && row.burns),
            (COMBUSTION_MOLECULAR, is_multiple && row.burns),
            (EXTRA, is_multiple),
        ],
    };
    let suiting = candidates.iter().filter(|(_, suits)| *suits);
    suiting.map(|(form, _)| *form).collect()
}

fn skills(form: &str, is_molecular: bool) -> Vec<Skill> {
    let mut skills = Vec::from([
        Skill::AmountFromMass,
        Skill::NearestWholeNumber,
        Skill::EmpiricalFormula,
    ]);
    if is_molecular {
        skills.push(Skill::MolecularFormula);
    }
    if [HYDRATE_MASSES, HYDRATE_PERCENT].contains(&form) {
        skills.push(Skill::ReadName);
    }
    skills
}

/// The name of the compound, unless it gives the formula away.
fn named(row: &CompoundRow) -> &'static str {
    match row.multiple {
        Some(_) if row.parts.len() > 2 || row.burns => row.name,
        _ => "a compound",
    }
}

fn prompt(form: &str, sample: &CompoundSample<'_>) -> String {
    let name = named(sample.row);
    let parts = sample.parts().into_iter().map(CompoundSample::part_name);
    let list = |readings: &[Reading], unit: &str, joint: &str| {
        let pairs = readings.iter().zip(parts);
        crate::text::list(
            pairs.map(|(reading, part)| format!("{reading}\u{a0}{unit}{joint}{part}")),
        )
    };
    let given = match &sample.found {
        AnalysisData::Masses(masses) => {
            let masses = list(masses, "g", " of ");
            match form {
                HYDRATE_MASSES => format!("A sample of a hydrate consists of {masses}."),
                _ => format!("A sample of {name} consists of {masses}."),
            }
        }
        AnalysisData::Percent(percent) => {
            let percent = list(percent, "%", " ");
            match form {
                HYDRATE_PERCENT => format!("By mass, a hydrate is {percent}."),
                _ => format!("By mass, {name} is {percent}."),
            }
        }
        AnalysisData::Combustion([mass, carbon_dioxide, water]) => {
            let rest = match sample.has_oxygen() {
                true => "The rest of it is oxygen.",
                false => "It has no other element.",
            };
            format!(
                "In a combustion analysis, {mass}\u{a0}g of {} gives {carbon_dioxide}\u{a0}g of carbon dioxide (CO2) and \
                 {water}\u{a0}g of water (H2O). The compound holds carbon and hydrogen. {rest}",
                sample.row.name
            )
        }
    };
    let molar_mass = sample
        .molar_mass
        .map(|mass| format!(" Its molar mass is {mass}\u{a0}g/mol."));
    let asked = match form {
        HYDRATE_MASSES | HYDRATE_PERCENT => "the formula of the hydrate",
        MOLECULAR | COMBUSTION_MOLECULAR => "its molecular formula",
        _ => "its empirical formula",
    };
    format!(
        "{given}{} Work out {asked}.",
        molar_mass.unwrap_or_default()
    )
}
