//! The formula of a hydrate from its percentage of water.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::degree::{
    ASK_FORMULA, DegreeAsked, DegreeDraft, MassContext, ask_ratio, compared_hydrate, degrees,
    doubt, drafted, level_skill, lower_hydrate, offered, request, salt_name,
};
use super::row::KindRow;
use super::wording::gently;
use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::{Draw, written};
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

/// The percentage of water, or the salt in 100 g of crystals, or the loss on heating; by the name of the salt; a
/// lower hydrate is left; one of two hydrates, or of several; what exactly that hydrate holds.
const FORMULA: &str = "formula_from_percent";
const RATIO: &str = "ratio_from_percent";
const SHARES: &str = "formula_from_shares";
const LOSS: &str = "loss_on_heating";
const NAME: &str = "formula_from_name";
const RATIO_NAME: &str = "ratio_from_name";
const SHARES_NAME: &str = "shares_from_name";
const LOWER: &str = "lower_hydrate_left";
const TWO: &str = "which_of_two";
const TWO_NAMES: &str = "which_of_two_names";
const SEVERAL: &str = "which_of_several";
const EXPECTED: &str = "expected_percent";

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let form = draw.form(match draw.level {
        Level::OneStep => &[FORMULA, RATIO, SHARES, LOSS],
        Level::SeveralSteps => &[NAME, RATIO_NAME, SHARES_NAME, LOWER],
        Level::Judgement => &[TWO, TWO_NAMES, SEVERAL, EXPECTED],
    });
    let row = match form {
        LOSS | LOWER => draw.heated_hydrate()?,
        TWO | TWO_NAMES | SEVERAL | EXPECTED => compared_hydrate(draw, |_| true)?,
        _ => draw.hydrate()?,
    };
    let left = match form {
        LOWER => Some(lower_hydrate(draw, row).ok_or(Refusal::Again("no lower hydrate is known"))?),
        _ => None,
    };
    let offered = match form {
        TWO | TWO_NAMES | EXPECTED => offered(row, 2),
        SEVERAL => offered(row, 4),
        _ => Vec::new(),
    };
    let percent = percent(draw, form, row, left.as_ref())?;
    let mut request = request(draw, row, left.as_ref());
    let given = match form {
        SHARES | SHARES_NAME => {
            let places = percent.decimal_places();
            let hundred = Ratio::from(100);
            let salt = written(&(&hundred - percent.value()), places)?;
            let whole = written(&hundred, places)?;
            request = request
                .with("hydrate_mass", &whole)
                .with("residue_mass", &salt);
            [whole, salt]
        }
        _ => {
            request = request.with("percent_water", &percent);
            [percent, percent]
        }
    };
    if !offered.is_empty() {
        request = request.with("candidates", degrees(&offered));
    }
    let mut skills = Vec::from([Skill::MolarMass, Skill::MassFraction]);
    skills.extend(level_skill(draw.level, Skill::Compare));
    let draft = DegreeDraft {
        form,
        row,
        prompt: prompt(form, row, given, left.as_ref(), &offered)?,
        request,
        asked: match form {
            RATIO | RATIO_NAME => DegreeAsked::Ratio,
            EXPECTED => DegreeAsked::Expected,
            _ => DegreeAsked::Formula,
        },
        skills,
        step: None,
        context: MassContext::OnPaper,
        offered,
    };
    drafted(draft, draw)
}

/// The percentage that leaves, to one or two decimal places and off by up to 0.3 % of itself, as careful work at the
/// bench finds it (common practice, no source). It is off by more if the problem asks for the right one.
fn percent(
    draw: &mut Draw<'_>,
    form: &str,
    row: &PoolHydrate,
    left: Option<&Formula>,
) -> Result<Reading, Refusal> {
    let exact = draw.exact();
    let molar = |formula: &Formula| {
        let molar = exact.molar_mass(formula).map(|molar| molar.low().clone());
        molar.ok_or(Refusal::Again("the hydrate has no molar mass"))
    };
    let stays = molar(left.unwrap_or(&row.salt))?;
    let whole = molar(&row.hydrate)?;
    let percent = (100 * (&whole - stays)).checked_div(&whole);
    let percent = percent.ok_or(Refusal::Again("the hydrate has no molar mass"))?;
    let (least, most) = if form == EXPECTED { (40, 200) } else { (0, 30) };
    let size = draw.sampler.between(least, most);
    let off = if draw.sampler.below(2) == 0 {
        size
    } else {
        -size
    };
    let off = Ratio::from(off) * Ratio::power_of_ten(-4);
    let places = if draw.sampler.below(2) == 0 { 1 } else { 2 };
    written(&(percent * (off + 1)), places)
}

fn prompt(
    form: &str,
    row: &PoolHydrate,
    [first, second]: [Reading; 2],
    left: Option<&Formula>,
    offered: &[Ratio],
) -> Result<String, Refusal> {
    let (salt, name) = (format!("{}", row.salt), salt_name(row));
    let percent = with_unit(&format!("{first}"), "%");
    let water = |salt: &str| {
        format!("The percentage by mass of water in a hydrate of {salt} is {percent}.")
    };
    let shares = |salt: &str| {
        let [whole, part] = [first, second].map(|mass| with_unit(&format!("{mass}"), "g"));
        format!(
            "{whole} of a hydrate of {salt} holds {part} of the salt itself. The rest is water."
        )
    };
    let label = |by_name| {
        let doubt = doubt(row, offered, by_name)?;
        Ok::<_, Refusal>(format!(
            "{doubt} An analysis finds {percent} by mass of water."
        ))
    };
    Ok(match form {
        FORMULA => format!("{} {ASK_FORMULA}", water(&salt)),
        RATIO => format!("{} {}", water(&salt), ask_ratio(&salt)),
        SHARES => format!("{} {ASK_FORMULA}", shares(&salt)),
        LOSS => format!(
            "A hydrate of {salt} is heated {}until all of its water has left. It loses {percent} of its mass. \
             {ASK_FORMULA}",
            gently(row)
        ),
        NAME => format!("{} {ASK_FORMULA}", water(&name)),
        RATIO_NAME => format!("{} {}", water(&name), ask_ratio(&name)),
        SHARES_NAME => format!("{} {ASK_FORMULA}", shares(&name)),
        LOWER => {
            let left = left.map_or_else(String::new, |left| format!("{left}"));
            format!(
                "A hydrate of {name} is heated gently until its mass is constant. It loses {percent} of its mass, and \
                 {left} is left. {ASK_FORMULA}"
            )
        }
        TWO | SEVERAL => format!("{} Find out which hydrate it is.", label(false)?),
        TWO_NAMES => format!(
            "{} Find out which hydrate it is, and give its formula.",
            label(true)?
        ),
        _ => format!(
            "{} Find out which hydrate it is. Work out the percentage by mass of water that exactly this hydrate holds.",
            label(false)?
        ),
    })
}
