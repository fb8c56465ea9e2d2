//! The formula of a hydrate from the weighings of a crucible.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::degree::{
    ASK_FORMULA, BENCHES, DegreeAsked, DegreeDraft, MassContext, ask_ratio, degrees, drafted,
    level_skill, lower_hydrate, request, salt_name, weighed,
};
use super::row::KindRow;
use super::wording::gently;
use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::{Draw, shown, written};
use crate::exercise::field::Field;
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

/// One heating; several heatings and the salt by its name; a lower hydrate is left; a criterion to judge the last
/// weighings by; the rule of the laboratory; the mass that is still to be reached.
const FORMULA: &str = "formula_one_heating";
const RATIO: &str = "ratio_one_heating";
const PERCENT: &str = "percent_one_heating";
const NAME: &str = "formula_from_name";
const RATIO_NAME: &str = "ratio_from_name";
const PERCENT_NAME: &str = "percent_from_name";
const LOWER: &str = "lower_hydrate_left";
const JUDGE: &str = "formula_constant_mass";
const JUDGE_RATIO: &str = "ratio_constant_mass";
const LOWEST: &str = "lowest_weighing";
const MEAN: &str = "mean_of_last_two";
const NOT_YET: &str = "mass_not_yet_constant";

/// The weighings of a crucible.
struct CrucibleReadings {
    /// The smallest step of the balance.
    step: Reading,
    empty: Reading,
    with_hydrate: Reading,
    heated: Vec<Reading>,
    /// Two weighings that differ by no more than this agree.
    criterion: Reading,
}

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let form = draw.form(match draw.level {
        Level::OneStep => &[FORMULA, RATIO, PERCENT],
        Level::SeveralSteps => &[NAME, RATIO_NAME, PERCENT_NAME, LOWER],
        Level::Judgement => &[JUDGE, JUDGE_RATIO, LOWEST, MEAN, NOT_YET],
    });
    let row = draw.heated_hydrate()?;
    let left = match form {
        LOWER => Some(lower_hydrate(draw, row).ok_or(Refusal::Again("no lower hydrate is known"))?),
        _ => None,
    };
    let readings = readings(draw, form, row, left.as_ref())?;
    let mut request = request(draw, row, left.as_ref())
        .with("crucible", &readings.empty)
        .with("crucible_hydrate", &readings.with_hydrate)
        .with("heated", Field::list(&readings.heated));
    if draw.level == Level::Judgement {
        let criterion = Field::object([("absolute", &readings.criterion)]);
        request = request.with("constant_mass", criterion);
    }
    let mut offered = Vec::new();
    match form {
        LOWEST => request = request.with("weighing_used", "lowest"),
        MEAN => request = request.with("weighing_used", "mean_of_last_two"),
        NOT_YET => {
            offered.push(row.waters.clone());
            request = request.with("candidates", degrees(&offered));
        }
        _ => {}
    }
    let mut skills = Vec::from([Skill::SubtractContainer]);
    if !matches!(form, PERCENT | PERCENT_NAME) {
        skills.push(Skill::MolarMass);
    }
    skills.extend(level_skill(draw.level, Skill::ConstantMass));
    let prompt = prompt(draw, form, row, &readings, left.as_ref());
    let draft = DegreeDraft {
        form,
        row,
        prompt,
        request,
        asked: match form {
            RATIO | RATIO_NAME | JUDGE_RATIO | LOWEST | MEAN => DegreeAsked::Ratio,
            PERCENT | PERCENT_NAME => DegreeAsked::Percent,
            NOT_YET => DegreeAsked::Expected,
            _ => DegreeAsked::Formula,
        },
        skills,
        step: Some(readings.step),
        context: match form {
            LOWEST => MassContext::LowestCounts,
            MEAN => MassContext::MeanCounts,
            _ => MassContext::Heated,
        },
        offered,
    };
    drafted(draft, draw)
}

/// A crucible's weighings: the first heating leaves some water, the last two agree. A mass that is not yet constant
/// still falls.
fn readings(
    draw: &mut Draw<'_>,
    form: &str,
    row: &PoolHydrate,
    left: Option<&Formula>,
) -> Result<CrucibleReadings, Refusal> {
    let sample = weighed(draw, row, left)?;
    let step = sample.step;
    let places = step.decimal_places();
    let empty = draw.mass(&Ratio::from(14), &Ratio::from(32), &step)?;
    let with_hydrate = written(&(empty.value() + sample.hydrate.value()), places)?;
    let dry = empty.value() + sample.residue.value();
    let water = sample.hydrate.value() - sample.residue.value();
    let share = Ratio::from(draw.sampler.between(8, 30)) * Ratio::power_of_ten(-2);
    let damp = &water * share;
    let fifth = &damp * Ratio::new(1, 5).unwrap_or_default();
    let agrees = step.value() * draw.sampler.between(1, 2);
    let twice = draw.sampler.below(2) == 1;
    let mut above = match form {
        FORMULA | RATIO | PERCENT => Vec::from([Ratio::ZERO]),
        NOT_YET => Vec::from([damp, fifth.clone()]),
        LOWEST => Vec::from([damp, Ratio::ZERO, agrees]),
        _ => Vec::from([damp, agrees, Ratio::ZERO]),
    };
    if twice && !matches!(form, FORMULA | RATIO | PERCENT | NOT_YET) {
        above.insert(1, fifth);
    }
    let heated = above.iter().map(|more| shown(&(&dry + more), &step));
    let readings = CrucibleReadings {
        step,
        heated: heated.collect::<Result<_, _>>()?,
        criterion: written(&(step.value() * 2), places)?,
        empty,
        with_hydrate,
    };
    readings.checked(form == NOT_YET)
}

impl CrucibleReadings {
    /// Refuses weighings that fall by so little at first that they agree, and others that agree too soon.
    fn checked(self, still_falls: bool) -> Result<CrucibleReadings, Refusal> {
        let masses: Vec<Ratio> = self.heated.iter().map(Reading::value).collect();
        let mut falls = masses.windows(2).map(|pair| match pair {
            [one, other] => one - other,
            _ => Ratio::ZERO,
        });
        let last = match still_falls {
            true => None,
            false => falls.next_back(),
        };
        let constant = last.is_none_or(|last| last.abs() <= self.criterion.value());
        match constant && falls.all(|fall| fall > self.criterion.value() * 2) {
            true => Ok(self),
            false => Err(Refusal::Again("the weighings agree too soon")),
        }
    }
}

const ORDINALS: [&str; 4] = ["first", "second", "third", "fourth"];

fn prompt(
    draw: &mut Draw<'_>,
    form: &str,
    row: &PoolHydrate,
    readings: &CrucibleReadings,
    left: Option<&Formula>,
) -> String {
    let bench = draw.form(BENCHES);
    let list = list(readings);
    let gently = match form {
        LOWER => "gently ",
        _ => gently(row),
    };
    let heats = |substance: &str, how: &str| {
        format!("Bench {bench} heats {substance} {gently}{how}. {list}")
    };
    if draw.level == Level::Judgement {
        let substance = match form {
            NOT_YET => format!("{}", row.hydrate),
            _ => format!("a hydrate of {}", row.salt),
        };
        let criterion = with_unit(&format!("{}", readings.criterion), "g");
        return format!(
            "{} The mass is constant if two weighings in a row differ by at most {criterion}. {}",
            heats(&substance, "in a crucible"),
            judgement(form, row)
        );
    }
    let (salt, name) = (format!("{}", row.salt), salt_name(row));
    let once = || {
        heats(
            &format!("a hydrate of {salt}"),
            "in a crucible until its mass is constant",
        )
    };
    let again = || {
        heats(
            &format!("a hydrate of {name}"),
            "in a crucible until two weighings agree",
        )
    };
    const PERCENTAGE: &str = "Work out the percentage by mass of water in the hydrate.";
    match form {
        FORMULA => format!("{} {ASK_FORMULA}", once()),
        RATIO => format!("{} {}", once(), ask_ratio(&salt)),
        PERCENT => format!("{} {PERCENTAGE}", once()),
        NAME => format!("{} {ASK_FORMULA}", again()),
        RATIO_NAME => format!("{} {}", again(), ask_ratio(&name)),
        PERCENT_NAME => format!("{} {PERCENTAGE}", again()),
        _ => {
            let left = left.map_or_else(String::new, |left| format!("{left}"));
            let heated = heats(&format!("a hydrate of {name}"), "in a crucible");
            format!("{heated} The solid that is left is {left}. {ASK_FORMULA}")
        }
    }
}

/// What is to be judged, and the question.
fn judgement(form: &str, row: &PoolHydrate) -> String {
    let ratio = ask_ratio(&format!("{}", row.salt));
    match form {
        JUDGE => format!("Decide which weighing to use. {ASK_FORMULA}"),
        JUDGE_RATIO => format!("Decide which weighing to use. {ratio}"),
        LOWEST => format!(
            "The crucible took up a little moisture before the last weighing, so the lowest mass counts. {ratio}"
        ),
        MEAN => format!("The mean of the last two weighings counts. {ratio}"),
        _ => "It is not constant yet. Work out the mass of anhydrous salt that this sample will leave in the end."
            .into(),
    }
}

/// The weighings in words and numbers.
fn list(readings: &CrucibleReadings) -> String {
    let grams = |reading: &Reading| with_unit(&format!("{reading}"), "g");
    let mut list = format!(
        "Empty crucible: {}. Crucible with the hydrate: {}.",
        grams(&readings.empty),
        grams(&readings.with_hydrate)
    );
    match readings.heated.as_slice() {
        [one] => list.push_str(&format!(" Crucible after heating: {}.", grams(one))),
        heated => {
            for (ordinal, mass) in ORDINALS.iter().zip(heated) {
                list.push_str(&format!(" After the {ordinal} heating: {}.", grams(mass)));
            }
        }
    }
    list
}
