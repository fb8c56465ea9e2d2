//! How a problem about a mixture is drawn.

use alloc::format;
use alloc::vec::Vec;

use super::heated_mixture::HeatedMixture;
use super::prompt::{
    BOTH, BOTH_OTHER, FORMULAS, IMPURITY, NAMES, WEATHERED, WHICH, WHICH_OTHER, prompt,
};
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::Draw;
use crate::exercise::field::Field;
use crate::exercise::kind::Level;
use crate::exercise::kinds::row::KindRow;
use crate::exercise::kinds::wording::{BENCHES, solid_name};
use crate::exercise::pool::{MIXTURES, MixtureRow};
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::formula::Formula;

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &[Level::SeveralSteps, Level::Judgement],
    draw,
};

/// What is called impure has at least so many per cent of the substance.
const LEAST_PURE: u8 = 67;

const NOTHING: &str = "no mixture that the loss on heating solves";

/// Drawn only if it is asked for.
const COPPER: &[MixtureRow] = &[MixtureRow {
    formulas: ["CuSO4·5H2O", "K2SO4"],
    names: ["copper(II) sulfate pentahydrate", "potassium sulfate"],
    residues: ["CuSO4", "K2SO4"],
    percent: [30, 90],
}];

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let copper = draw.with_copper(COPPER);
    let row = draw.row(NOTHING, MIXTURES.iter().chain(copper), formulas)?;
    let mut mixture = HeatedMixture::draw(draw, row, row.percent)?;
    let forms = forms(draw.level, &mixture);
    if forms.is_empty() {
        return Err(Refusal::Again("the mixture does not fit the level"));
    }
    let form = draw.form(&forms);
    if form == IMPURITY {
        let [least, greatest] = row.percent;
        mixture = HeatedMixture::draw(draw, row, [least.max(LEAST_PURE), greatest])?;
    }
    if matches!(form, IMPURITY | BOTH_OTHER | WHICH_OTHER) {
        mixture.asked = 1;
    }
    if matches!(form, WHICH | WHICH_OTHER) && draw.sampler.below(2) == 1 {
        mixture.exchange();
    }
    let bench = draw.form(&BENCHES);
    let figures = 3;
    let wrong = mixture.wrong(draw.exact()).unwrap_or_default();
    let wrong = wrong
        .into_iter()
        .map(|(step, value)| (step, WrongValue::Number(value)));
    let no_mass = Refusal::Again("a component has no molar mass");
    let careful = mixture.value(draw.careful(figures)).ok_or(no_mass)?;
    let no_mass = Refusal::Again("a component has no molar mass");
    let is_found = matches!(form, WHICH | WHICH_OTHER);
    let working = mixture.working(is_found, draw.exact(), figures);
    Ok(DraftProblem {
        form,
        skills: skills(form),
        prompt: prompt(form, bench, &mixture),
        request: request(draw, &mixture),
        asked: Asked::Number {
            pointer: format!("/fractions/{}", mixture.asked),
            unit: "%",
            figures,
            careful,
        },
        working: working.ok_or(no_mass)?,
        wrong: wrong.collect(),
    })
}

fn formulas(row: &MixtureRow) -> Vec<Formula> {
    let texts = row.formulas.iter().chain(&row.residues);
    texts.filter_map(|text| text.parse().ok()).collect()
}

/// The wordings that fit a mixture.
fn forms(level: Level, mixture: &HeatedMixture) -> Vec<&'static str> {
    let [one, other] = &mixture.components;
    match (level, other.is_inert()) {
        (Level::Judgement, true) => Vec::from([WHICH, WHICH_OTHER]),
        (Level::Judgement, false) => Vec::from([BOTH, BOTH_OTHER]),
        (_, false) => Vec::new(),
        (_, true) => {
            let mut forms = Vec::from([FORMULAS, IMPURITY]);
            let is_dried = one.formula().anhydrous().as_ref() == Some(&one.residue);
            if is_dried && solid_name(one.formula()).is_ok_and(|name| name == one.name) {
                forms.push(NAMES);
            }
            if is_dried && one.residue == *other.formula() {
                forms.push(WEATHERED);
            }
            forms
        }
    }
}

fn skills(form: &str) -> Vec<Skill> {
    let mut skills = Vec::from([Skill::MolarMass, Skill::MassFraction]);
    match form {
        BOTH | BOTH_OTHER => skills.push(Skill::TwoUnknowns),
        NAMES => skills.extend([Skill::ReadName, Skill::MoleRatio]),
        WHICH | WHICH_OTHER => skills.extend([Skill::MoleRatio, Skill::Compare]),
        _ => skills.push(Skill::MoleRatio),
    }
    skills
}

fn request(draw: &Draw<'_>, mixture: &HeatedMixture) -> Request {
    let components = mixture.components.iter().map(|own| {
        Field::object([
            ("formula", Field::from(own.formula())),
            ("residue", Field::from(&own.residue)),
        ])
    });
    Request::new(Operation::Mixture, draw.weights())
        .with("components", Field::list(components))
        .with("sample_mass", &mixture.sample)
        .with("residue_mass", &mixture.residue)
}
