//! The formula of a hydrate from its mass and the mass that heating leaves.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::degree::{
    ASK_FORMULA, DegreeAsked, DegreeDraft, MassContext, ask_ratio, compared_hydrate, degrees,
    doubt, drafted, level_skill, lower_hydrate, offered, request, salt_name, weighed,
};
use super::row::KindRow;
use super::wording::gently;
use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::Draw;
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::kind::Level;
use crate::exercise::problem::with_unit;
use crate::exercise::skill::Skill;
use crate::formula::Formula;
use crate::number::{Ratio, Reading};

pub(super) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// The formula or the ratio, from heating or from water taken up; the salt by its name; a lower hydrate is left;
/// one of two hydrates, or of several, by formula or by name; what exactly that hydrate leaves.
const FORMULA: &str = "formula_from_salt";
const RATIO: &str = "ratio_from_salt";
const FORMULA_UPTAKE: &str = "formula_from_uptake";
const RATIO_UPTAKE: &str = "ratio_from_uptake";
const NAME: &str = "formula_from_name";
const RATIO_NAME: &str = "ratio_from_name";
const UPTAKE_NAME: &str = "uptake_from_name";
const LOWER: &str = "lower_hydrate_left";
const RATIO_LOWER: &str = "ratio_lower_hydrate_left";
const TWO: &str = "which_of_two";
const TWO_NAMES: &str = "which_of_two_names";
const SEVERAL: &str = "which_of_several";
const EXPECTED: &str = "expected_percent";

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let row = match draw.level {
        Level::Judgement => compared_hydrate(draw, |row| row.heated)?,
        _ => draw.heated_hydrate()?,
    };
    let lower = lower_hydrate(draw, row);
    let form = draw.form(match (draw.level, &lower) {
        (Level::OneStep, _) => &[FORMULA, RATIO, FORMULA_UPTAKE, RATIO_UPTAKE],
        (Level::SeveralSteps, None) => &[NAME, RATIO_NAME, UPTAKE_NAME],
        (Level::SeveralSteps, Some(_)) => &[NAME, RATIO_NAME, UPTAKE_NAME, LOWER, RATIO_LOWER],
        (Level::Judgement, _) => &[TWO, TWO_NAMES, SEVERAL, EXPECTED],
    });
    let left = lower.filter(|_| matches!(form, LOWER | RATIO_LOWER));
    let offered = match form {
        TWO | TWO_NAMES | EXPECTED => offered(row, 2),
        SEVERAL => offered(row, 4),
        _ => Vec::new(),
    };
    let sample = weighed(draw, row, left.as_ref())?;
    let mut request = request(draw, row, left.as_ref())
        .with("hydrate_mass", &sample.hydrate)
        .with("residue_mass", &sample.residue);
    if !offered.is_empty() {
        request = request.with("candidates", degrees(&offered));
    }
    let mut skills = Vec::from([Skill::MolarMass]);
    skills.extend(level_skill(draw.level, Skill::Compare));
    let draft = DegreeDraft {
        form,
        row,
        prompt: prompt(
            form,
            row,
            [&sample.hydrate, &sample.residue],
            left.as_ref(),
            &offered,
        )?,
        request,
        asked: match form {
            RATIO | RATIO_UPTAKE | RATIO_NAME | RATIO_LOWER => DegreeAsked::Ratio,
            EXPECTED => DegreeAsked::Expected,
            _ => DegreeAsked::Formula,
        },
        skills,
        step: Some(sample.step),
        context: match form {
            FORMULA_UPTAKE | RATIO_UPTAKE | UPTAKE_NAME => MassContext::OnPaper,
            _ => MassContext::Heated,
        },
        offered,
    };
    drafted(draft, draw)
}

fn prompt(
    form: &str,
    row: &PoolHydrate,
    masses: [&Reading; 2],
    left: Option<&Formula>,
    offered: &[Ratio],
) -> Result<String, Refusal> {
    let [before, after] = masses.map(|mass| with_unit(&format!("{mass}"), "g"));
    let (salt, name) = (format!("{}", row.salt), salt_name(row));
    let gently = gently(row);
    let heated = |salt: &str| {
        format!(
            "A hydrate of {salt} is heated {gently}until its mass is constant. {before} of the hydrate leaves {after} of \
             the anhydrous salt."
        )
    };
    let taken_up = |salt: &str| {
        format!(
            "{after} of anhydrous {salt} takes up water until all of it is a hydrate. The hydrate weighs {before}."
        )
    };
    let lower = || {
        let left = left.map_or_else(String::new, |left| format!("{left}"));
        format!(
            "A hydrate of {name} is heated gently. {before} of the hydrate leaves {after} of {left}, which still \
             holds water."
        )
    };
    let label = |by_name| {
        let doubt = doubt(row, offered, by_name)?;
        Ok::<_, Refusal>(format!(
            "{doubt} A sample of {before} is heated {gently}until its mass \
             is constant, and leaves {after} of the anhydrous salt."
        ))
    };
    Ok(match form {
        FORMULA => format!("{} {ASK_FORMULA}", heated(&salt)),
        RATIO => format!("{} {}", heated(&salt), ask_ratio(&salt)),
        FORMULA_UPTAKE => format!("{} {ASK_FORMULA}", taken_up(&salt)),
        RATIO_UPTAKE => format!("{} {}", taken_up(&salt), ask_ratio(&salt)),
        NAME => format!("{} {ASK_FORMULA}", heated(&name)),
        RATIO_NAME => format!("{} {}", heated(&name), ask_ratio(&name)),
        UPTAKE_NAME => format!("{} {ASK_FORMULA}", taken_up(&name)),
        LOWER => format!("{} {ASK_FORMULA}", lower()),
        RATIO_LOWER => format!("{} {}", lower(), ask_ratio(&name)),
        TWO | SEVERAL => format!("{} Find out which hydrate it is.", label(false)?),
        TWO_NAMES => format!(
            "{} Find out which hydrate it is, and give its formula.",
            label(true)?
        ),
        _ => format!(
            "{} Find out which hydrate it is. Work out the percentage by mass of water that exactly this hydrate \
             holds.",
            label(false)?
        ),
    })
}
