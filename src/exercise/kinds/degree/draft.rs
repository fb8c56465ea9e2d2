//! A problem about the degree of a hydrate: what its readings show, and what wrong steps make of them.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::expected::{ExpectedAnswer, FIGURES};
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, to_figures};
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::kind::Level;
use crate::exercise::problem::with_unit;
use crate::exercise::request::Request;
use crate::exercise::skill::Skill;
use crate::exercise::solve::dehydration;
use crate::exercise::wrong_step::WrongStep;
use crate::gravimetry::{Dehydration, Outcome, Quantity, Weighings};
use crate::mistake::Slip;
use crate::number::{Ratio, Reading, TieRule};
use crate::working::{Step, Working};

/// What a problem asks of a bench's readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in super::super) enum DegreeAsked {
    Formula,
    /// The mole ratio to three significant figures.
    Ratio,
    /// The percentage of water to three significant figures.
    Percent,
    /// What exactly the hydrate gives: the mass of its residue, or its percentage of water.
    Expected,
}

/// A problem about the degree of a hydrate, as far as its kind draws it.
pub(in super::super) struct DegreeDraft<'d> {
    pub(in super::super) form: &'static str,
    pub(in super::super) row: &'d PoolHydrate,
    pub(in super::super) prompt: String,
    pub(in super::super) request: Request,
    pub(in super::super) asked: DegreeAsked,
    pub(in super::super) skills: Vec<Skill>,
    /// The smallest step of the balance, if masses are given.
    pub(in super::super) step: Option<Reading>,
    /// The degrees that the prompt offers; empty if it offers none.
    pub(in super::super) offered: Vec<Ratio>,
}

/// The most waters of a wrong formula.
const MOST_WATERS: i64 = 24;

/// Slips in the order in which people make them (common practice, no source).
const SLIPS: &[Slip] = &[
    Slip::FirstHeatingUsed,
    Slip::ResidualWaterMiscounted,
    Slip::HydrateMassAsSalt,
    Slip::MassRatioForMoleRatio,
    Slip::PercentOfResidue,
    Slip::PercentSaltForWater,
    Slip::OneWaterOnly,
    Slip::HydrateMolarMassForSalt,
    Slip::SaltWaterSwapped,
    Slip::RatioInverted,
    Slip::HydrateMassAsWater,
    Slip::PercentOfGrossMass,
    Slip::ContainerNotSubtracted,
    Slip::MoleFractionForRatio,
    Slip::SubscriptDropped,
];

/// What a level practises besides: names at the second, judgement of one sort at the third.
pub(in super::super) fn level_skill(level: Level, judgement: Skill) -> Option<Skill> {
    match level {
        Level::OneStep => None,
        Level::SeveralSteps => Some(Skill::ReadName),
        Level::Judgement => Some(judgement),
    }
}

/// Works the readings out, and refuses those that do not show the hydrate. If the prompt names it, they need not.
pub(in super::super) fn drafted(
    mut draft: DegreeDraft<'_>,
    draw: &Draw<'_>,
) -> Result<DraftProblem, Refusal> {
    // The last place of the readings is the step of other balances.
    let uneven = draft.step.filter(|step| step.value() != step.last_place());
    if let Some(step) = uneven {
        let grams = with_unit(&step.to_string(), "g");
        draft.prompt = format!("The balance shows steps of {grams}. {}", draft.prompt);
        draft.request = draft.request.with("readability", &step);
    }
    let solved = dehydration::run(&draft.request.members(), draw.weights());
    let (weighings, run) = solved.map_err(Refusal::refused)?;
    if draft.offered.len() != 1 {
        shows(&run, draft.row)?;
    }
    let (asked, wrong, working) = answered(&draft, &weighings, &run, draw)?;
    let mut skills = draft.skills;
    skills.extend_from_slice(match draft.asked {
        DegreeAsked::Formula => &[
            Skill::AmountFromMass,
            Skill::MoleRatio,
            Skill::NearestWholeNumber,
        ],
        DegreeAsked::Ratio => &[Skill::AmountFromMass, Skill::MoleRatio],
        DegreeAsked::Percent | DegreeAsked::Expected => &[Skill::MassFraction],
    });
    Ok(DraftProblem {
        form: draft.form,
        skills,
        prompt: draft.prompt,
        request: draft.request,
        asked,
        working,
        wrong,
    })
}

type Answered = (Asked, Vec<(WrongStep, WrongValue)>, Working);

/// What is asked, with the wrong steps and the working.
fn answered(
    draft: &DegreeDraft<'_>,
    weighings: &Weighings,
    run: &Dehydration,
    draw: &Draw<'_>,
) -> Result<Answered, Refusal> {
    let row = draft.row;
    let of = |quantity| {
        let wrong = wrong_numbers(run, weighings, row, quantity);
        Ok((number(run, quantity)?, wrong, working(run, draft.asked)))
    };
    match draft.asked {
        DegreeAsked::Formula => {
            // No hydrate that the catalogue does not know is concluded.
            let concluded = run.outcome().formula() == Some(&row.hydrate);
            let pointer = match concluded {
                true => "/formula".into(),
                false => "/nearest_formula".into(),
            };
            let wrong = wrong_formulas(run, weighings, row, &draft.offered);
            Ok((Asked::Formula { pointer }, wrong, working(run, draft.asked)))
        }
        DegreeAsked::Ratio => of(Quantity::Ratio),
        DegreeAsked::Percent => of(Quantity::PercentWater),
        DegreeAsked::Expected => {
            let expected = ExpectedAnswer::new(run, row);
            let expected = expected.ok_or(Refusal::Again("the hydrate is not a candidate"))?;
            let none = Refusal::Again("the hydrate has no molar mass");
            let asked = expected.asked(draw.careful(FIGURES)).ok_or(none)?;
            let exact = draw.exact();
            Ok((asked, expected.wrong(exact), expected.working(exact)))
        }
    }
}

/// Refuses readings from which careful work does not find the hydrate, within their uncertainty where they are
/// masses. A hydrate of an author need not be known to the catalogue.
fn shows(run: &Dehydration, row: &PoolHydrate) -> Result<(), Refusal> {
    let mut candidates = run.candidates().iter();
    let own = candidates.find(|own| *own.waters() == row.waters);
    let own = own.ok_or(Refusal::Again("the hydrate is not a candidate"))?;
    let found = match own.known() {
        true => run.outcome().formula() == Some(&row.hydrate),
        false => run.nearest_formula() == row.hydrate,
    };
    let certain = match own.known() {
        true => matches!(run.outcome(), Outcome::Resolved(_)),
        false => own.z().is_some_and(|z| z.abs() <= 2.0),
    };
    if !found || (!certain && run.hydrate_mass().is_some()) {
        return Err(Refusal::Again("the readings do not show the hydrate"));
    }
    let careful = run.defensible();
    let ratio = careful.interval(Quantity::Ratio);
    let ends = ratio.map(|ratio| [ratio.low(), ratio.high()]);
    let nearest = |end| run.nearest_formula_to(end).as_ref() == Some(&row.hydrate);
    match ends.is_some_and(|ends| ends.into_iter().all(nearest)) {
        true => Ok(()),
        false => Err(Refusal::Again("careful work gives several formulas")),
    }
}

/// A number that the readings give to three significant figures.
fn number(run: &Dehydration, quantity: Quantity) -> Result<Asked, Refusal> {
    if run.figures() < FIGURES {
        return Err(Refusal::Again(
            "the readings have too few significant figures",
        ));
    }
    let careful = run.defensible().interval(quantity).cloned();
    Ok(Asked::Number {
        pointer: format!("/{}", quantity.code()),
        unit: quantity.unit(),
        figures: FIGURES,
        careful: careful.ok_or(Refusal::Again("the readings do not give the quantity"))?,
    })
}

/// The numbers that slips give, the first of each.
fn wrong_numbers(
    run: &Dehydration,
    weighings: &Weighings,
    row: &PoolHydrate,
    quantity: Quantity,
) -> Vec<(WrongStep, WrongValue)> {
    let slips = SLIPS
        .iter()
        .chain(&[Slip::WrongWaterMolarMass, Slip::FactorOfTen]);
    let wrong = slips.filter_map(|slip| {
        let values = slip.values(run, weighings, &row.hydrate, quantity);
        let first = values.into_iter().next()?;
        Some((WrongStep::from(*slip), WrongValue::Number(first)))
    });
    wrong.collect()
}

/// The formulas that wrong steps give: another hydrate that the prompt offers, wrong rounding, and slips with the
/// whole number of waters that they give, or a half.
fn wrong_formulas(
    run: &Dehydration,
    weighings: &Weighings,
    row: &PoolHydrate,
    offered: &[Ratio],
) -> Vec<(WrongStep, WrongValue)> {
    let ratio = run.ratio();
    let others = offered
        .iter()
        .cloned()
        .map(|other| (WrongStep::OTHER_HYDRATE, other));
    // One value of each slip first, then their other values.
    let mut values: Vec<(usize, WrongStep, Ratio)> = Vec::new();
    for slip in SLIPS {
        let of_slip = slip.values(run, weighings, &row.hydrate, Quantity::Ratio);
        let of_slip = of_slip.iter().map(counted).enumerate();
        values.extend(of_slip.map(|(place, waters)| (place, (*slip).into(), waters)));
    }
    values.sort_by_key(|(place, ..)| *place);
    let slips = values.into_iter().map(|(_, step, waters)| (step, waters));
    let rounded = [
        (WrongStep::from(Slip::Truncated), ratio.floor()),
        (WrongStep::ROUNDED_UP, ratio.ceil()),
    ];
    let mut wrong: Vec<(WrongStep, WrongValue)> = Vec::new();
    let mut taken = alloc::vec![row.waters.clone()];
    let most = (&row.waters * 3 + 6).min(Ratio::from(MOST_WATERS));
    for (step, waters) in others.chain(slips).chain(rounded) {
        if !waters.is_positive() || waters > most || taken.contains(&waters) {
            continue;
        }
        if let Some(formula) = row.salt.with_waters(&waters) {
            wrong.push((step, WrongValue::Text(formula.to_string())));
            taken.push(waters);
        }
    }
    wrong
}

/// The number of waters that somebody reads off a ratio: a half below one, otherwise a whole number.
fn counted(ratio: &Ratio) -> Ratio {
    let whole = ratio.to_places(0, TieRule::Even).value();
    let half = Ratio::new(1, 2).unwrap_or_default();
    let near_half = (ratio - &half).abs() * 4 < Ratio::ONE;
    if near_half { half } else { whole }
}

/// The steps to what is asked. No step tells the result of a later one.
fn working(run: &Dehydration, asked: DegreeAsked) -> Working {
    let (last, left_out) = match asked {
        DegreeAsked::Percent => (Quantity::PercentWater, Quantity::Ratio),
        _ => (Quantity::Ratio, Quantity::PercentWater),
    };
    let mut working = Working::default();
    for step in run.working().steps() {
        if step.what() == last.name() && asked != DegreeAsked::Formula {
            let value = run.value(last).unwrap_or_default();
            let result = to_figures(&value, FIGURES);
            let [symbols, numbers] = [step.symbols(), step.numbers()].map(String::from);
            working.push(Step::new(
                last.name(),
                symbols,
                numbers,
                result,
                last.unit(),
            ));
            return working;
        }
        if step.what() != left_out.name() && step.what() != "nearest formula" {
            working.push(step.clone());
        }
    }
    let formula = Step::new(
        "formula of the hydrate",
        "the hydrate whose number of waters is nearest to x",
        "x from the step before".into(),
        run.nearest_formula().to_string(),
        "",
    );
    working.push(formula.concluded());
    working
}
