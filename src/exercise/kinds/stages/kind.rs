//! How a problem about heating in stages is drawn.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::prompt::{all_stages, by_formula, one_step, question, unknown_stage};
use super::staged_solid::{StageQuantity, StagedSolid};
use super::words::in_words;
use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, to_figures};
use crate::exercise::field::Field;
use crate::exercise::kind::Level;
use crate::exercise::kinds::row::KindRow;
use crate::exercise::kinds::wording::{BENCHES, solid_name};
use crate::exercise::pool::{STAGES, StagesRow};
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::formula::Formula;
use crate::gravimetry::{Severity, Stages};
use crate::number::Ratio;
use crate::working::{Step, Working};

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// One stage: the share that leaves, the share that is left, the mass that is left.
const LOSS: &str = "loss_of_one_stage";
const REST: &str = "rest_of_one_stage";
const MASS: &str = "mass_after_one_stage";
/// Several stages: the loss of one, the loss so far, the mass, the mass by names.
const STAGE: &str = "loss_of_a_stage";
const SO_FAR: &str = "loss_so_far";
const AFTER: &str = "mass_after_a_stage";
const NAMES: &str = "mass_from_names";
/// The stage is to be found, from the share that has left or is left; or a mass is given that is not needed.
const FOUND_LOSS: &str = "stage_from_loss";
const FOUND_REST: &str = "stage_from_rest";
const FOUND_MASS: &str = "mass_of_a_stage_from_loss";
const EXTRA_MASS: &str = "mass_not_needed";

const NOTHING: &str = "no solid that loses mass in stages";

/// Drawn only if it is asked for.
const COPPER: &[StagesRow] = &[StagesRow {
    start: "CuSO4·5H2O",
    residues: &["CuSO4·3H2O", "CuSO4·H2O", "CuSO4"],
}];

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    // One stage of a solid without a mass gives few different problems.
    let form = draw.form(match draw.level {
        Level::OneStep => &[LOSS, REST, MASS, MASS],
        Level::SeveralSteps => &[STAGE, SO_FAR, AFTER, NAMES],
        Level::Judgement => &[FOUND_LOSS, FOUND_REST, FOUND_MASS, EXTRA_MASS],
    });
    let quantity = match form {
        LOSS | STAGE | EXTRA_MASS => StageQuantity::Lost,
        SO_FAR | FOUND_LOSS => StageQuantity::Total,
        REST | FOUND_REST => StageQuantity::Left,
        _ => StageQuantity::Mass,
    };
    let heating = heating(draw, form)?;
    let prompt = prompt(draw, form, &heating, quantity)?;
    let figures = match (quantity, heating.sample) {
        (StageQuantity::Mass, Some(grams)) => grams.figures().at_least().min(4),
        _ => 3 + draw.sampler.below(2),
    };
    let careful = heating.value(quantity, draw.careful(figures));
    let wrong = heating.wrong(quantity, draw.exact()).unwrap_or_default();
    let wrong = wrong
        .into_iter()
        .map(|(step, value)| (step, WrongValue::Number(value)));
    let mut skills = Vec::from([Skill::HeatingStages, Skill::MolarMass]);
    skills.push(match (form, draw.level) {
        (NAMES, _) => Skill::ReadName,
        (_, Level::Judgement) => Skill::Compare,
        _ => Skill::MassFraction,
    });
    Ok(DraftProblem {
        form,
        skills,
        prompt,
        request: request(draw, &heating),
        asked: Asked::Number {
            pointer: format!("/stages/{}/{}", heating.asked, quantity.member()),
            unit: quantity.unit(),
            figures,
            careful: careful.ok_or(Refusal::Again("a solid has no molar mass"))?,
        },
        working: working(form, &heating, quantity, draw.exact(), figures)
            .ok_or(Refusal::Again("a solid has no molar mass"))?,
        wrong: wrong.collect(),
    })
}

/// The solids of a row, the one that is heated first.
fn solids(row: &StagesRow) -> Vec<Formula> {
    let texts = core::iter::once(&row.start).chain(row.residues);
    texts.filter_map(|text| text.parse().ok()).collect()
}

/// A solid, its residues, the stage asked about, and a mass if the form has one.
fn heating(draw: &mut Draw<'_>, form: &str) -> Result<StagedSolid, Refusal> {
    let copper = draw.with_copper(COPPER);
    let mut solids = solids(draw.row(NOTHING, STAGES.iter().chain(copper), solids)?);
    let last = solids.len().saturating_sub(1) as u32;
    let asked = match draw.level {
        Level::OneStep => {
            // Any solid of the row becomes a later one.
            let from = draw.sampler.below(last) as usize;
            let to = from + 1 + draw.sampler.below(last - from as u32) as usize;
            solids.truncate(to + 1);
            solids.drain(..from);
            solids.drain(1..solids.len() - 1);
            0
        }
        _ if form == SO_FAR => 1 + draw.sampler.below(last.saturating_sub(1)) as usize,
        _ => draw.sampler.below(last) as usize,
    };
    let mut solids = solids.into_iter();
    let start = solids.next().ok_or(Refusal::Again("a row has no solids"))?;
    let mut stages = Stages::of(start, draw.weights()).map_err(Refusal::refused)?;
    let sample = match form {
        MASS | AFTER | NAMES | FOUND_MASS | EXTRA_MASS => Some(draw.sample("0.01", 100)?),
        _ => None,
    };
    for residue in solids {
        stages = stages.then(residue).map_err(Refusal::refused)?;
    }
    if stages.severity() > Severity::Care {
        return Err(Refusal::Again("the solid may not be heated on the bench"));
    }
    let heating = StagedSolid {
        stages,
        asked,
        sample,
    };
    let one_for_one = heating
        .stages
        .stages()
        .iter()
        .all(|stage| *stage.per_start() == Ratio::ONE);
    if draw.level == Level::OneStep && !one_for_one {
        return Err(Refusal::Again("the equation takes a step of its own"));
    }
    Ok(heating)
}

fn prompt(
    draw: &mut Draw<'_>,
    form: &str,
    heating: &StagedSolid,
    quantity: StageQuantity,
) -> Result<String, Refusal> {
    let bench = draw.form(&BENCHES);
    let (story, is_named) = match form {
        LOSS | REST | MASS => (one_step(bench, heating)?, false),
        NAMES => {
            let story = all_stages(bench, heating, solid_name)?;
            (format!("{story} Write the formulas."), true)
        }
        FOUND_LOSS | FOUND_REST | FOUND_MASS => {
            let words = words(heating, form == FOUND_REST)?;
            let has = match form {
                FOUND_REST => "is left",
                _ => "has left",
            };
            (unknown_stage(bench, heating, [&words, has])?, false)
        }
        _ => (all_stages(bench, heating, by_formula)?, true),
    };
    Ok(format!("{story} {}", question(heating, quantity, is_named)))
}

/// The share that has left, or is left, in words that fit no other stage.
fn words(heating: &StagedSolid, is_left: bool) -> Result<String, Refusal> {
    let shares = heating.stages.stages().iter().map(|stage| match is_left {
        true => stage.percent_residue(),
        false => stage.percent_total().clone(),
    });
    let mut shares: Vec<Ratio> = shares.collect();
    if heating.asked >= shares.len() {
        return Err(Refusal::Again("there is no such stage"));
    }
    let asked = shares.remove(heating.asked);
    in_words(&asked, &shares).ok_or(Refusal::Again("the words fit two stages"))
}

fn request(draw: &Draw<'_>, heating: &StagedSolid) -> Request {
    let request = Request::new(Operation::Stages, draw.weights())
        .with("hydrate", heating.start())
        .with("residues", Field::list(heating.residues()));
    match &heating.sample {
        Some(grams) => request.with("sample_mass", grams),
        None => request,
    }
}

fn working(
    form: &str,
    heating: &StagedSolid,
    quantity: StageQuantity,
    exact: &CarefulWork,
    figures: u32,
) -> Option<Working> {
    let mut working = Working::default();
    let result = to_figures(heating.value(quantity, exact)?.low(), figures);
    if matches!(form, FOUND_LOSS | FOUND_REST | FOUND_MASS) {
        let share = match form {
            FOUND_REST => StageQuantity::Left,
            _ => StageQuantity::Total,
        };
        for step in heating.steps_to_residue(share, exact)? {
            working.push(step);
        }
        working.push(heating.general_step(quantity, exact, result)?);
        return Some(working);
    }
    if matches!(quantity, StageQuantity::Lost | StageQuantity::Total) {
        let what_leaves = "the atoms before − the atoms after";
        let gases = heating.gases_shown(heating.range(quantity));
        let by = "by difference".to_string();
        working.push(Step::new("what leaves", what_leaves, by, gases, "").concluded());
    }
    working.push(heating.share_step(quantity, exact, result)?);
    Some(working)
}
