//! A problem about the degree of a hydrate: what its readings show, and what wrong steps make of them.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::expected::{ExpectedAnswer, FIGURES};
use super::words::MassContext;
use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, to_figures};
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::kind::Level;
use crate::exercise::problem::with_unit;
use crate::exercise::request::Request;
use crate::exercise::skill::Skill;
use crate::exercise::solve::dehydration;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
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
    pub(in super::super) context: MassContext,
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
    let found = working(draft, run, draw.exact());
    let found = found.ok_or(Refusal::Again("the salt has no molar mass"))?;
    let of = |quantity| {
        let wrong = wrong_numbers(draft, run, weighings, quantity);
        Ok((number(run, quantity)?, wrong, found.clone()))
    };
    match draft.asked {
        DegreeAsked::Formula => {
            // No hydrate that the catalogue does not know is concluded.
            let concluded = run.outcome().formula() == Some(&row.hydrate);
            let pointer = match concluded {
                true => "/formula".into(),
                false => "/nearest_formula".into(),
            };
            let wrong = wrong_formulas(draft, run, weighings);
            Ok((Asked::Formula { pointer }, wrong, found))
        }
        DegreeAsked::Ratio => of(Quantity::Ratio),
        DegreeAsked::Percent => of(Quantity::PercentWater),
        DegreeAsked::Expected => {
            let expected = ExpectedAnswer::new(run, row);
            let expected = expected.ok_or(Refusal::Again("the hydrate is not a candidate"))?;
            let none = || Refusal::Again("the hydrate has no molar mass");
            let asked = expected.asked(draw.careful(FIGURES)).ok_or_else(none)?;
            let exact = draw.exact();
            let mut working = found;
            for step in expected.steps(exact).ok_or_else(none)? {
                working.push(step);
            }
            Ok((asked, expected.wrong(exact), working))
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
    draft: &DegreeDraft<'_>,
    run: &Dehydration,
    weighings: &Weighings,
    quantity: Quantity,
) -> Vec<(WrongStep, WrongValue)> {
    let slips = SLIPS
        .iter()
        .chain(&[Slip::WrongWaterMolarMass, Slip::FactorOfTen]);
    let wrong = slips.filter_map(|slip| {
        let values = slip.values(run, weighings, &draft.row.hydrate, quantity);
        let first = values.into_iter().next()?;
        Some((draft.context.wrong_step(*slip), WrongValue::Number(first)))
    });
    wrong.collect()
}

/// The formulas that wrong steps give: another hydrate that the prompt offers, wrong rounding, and slips with the
/// whole number of waters that they give, or a half.
fn wrong_formulas(
    draft: &DegreeDraft<'_>,
    run: &Dehydration,
    weighings: &Weighings,
) -> Vec<(WrongStep, WrongValue)> {
    let (row, offered) = (draft.row, &draft.offered);
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
        values.extend(
            of_slip.map(|(place, waters)| (place, draft.context.wrong_step(*slip), waters)),
        );
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

/// The steps to the number or the formula that the readings give; for the mass of a residue only that of the hydrate.
/// No step tells the result of a later one.
fn working(draft: &DegreeDraft<'_>, run: &Dehydration, exact: &CarefulWork) -> Option<Working> {
    let (last, left_out) = match draft.asked {
        DegreeAsked::Percent => (Quantity::PercentWater, Quantity::Ratio),
        _ => (Quantity::Ratio, Quantity::PercentWater),
    };
    let is_asked = matches!(draft.asked, DegreeAsked::Ratio | DegreeAsked::Percent);
    let is_named = draft.asked == DegreeAsked::Expected && draft.offered.len() == 1;
    let mut working = Working::default();
    let mut quotient = None;
    if run.hydrate_mass().is_none() {
        let (steps, amounts) = in_100_g(run, exact)?;
        steps.into_iter().for_each(|step| working.push(step));
        quotient = Some(amounts);
    }
    for step in run.working().steps() {
        if is_named {
            if step.what() == Quantity::HydrateMass.name() {
                working.push(step.clone());
            }
        } else if step.what() == last.name() {
            let result = match is_asked {
                true => to_figures(&run.value(last)?, FIGURES),
                false => step.result().into(),
            };
            let numbers = quotient.take().unwrap_or_else(|| step.numbers().into());
            let symbols = symbols_of(draft, step);
            working.push(Step::new(
                last.name(),
                symbols,
                numbers,
                result,
                last.unit(),
            ));
            if is_asked {
                return Some(working);
            }
        } else if step.what() != left_out.name() && step.what() != "nearest formula" {
            working.push(step.clone().with_symbols(symbols_of(draft, step)));
        }
    }
    if !is_named {
        let formula = Step::new(
            "formula of the hydrate",
            "the hydrate whose number of waters is nearest to x",
            "take the number of waters that is nearest to x".into(),
            run.nearest_formula().to_string(),
            "",
        );
        working.push(formula.concluded());
    }
    Some(working)
}

/// The symbols of a step: without the formula of a salt that the prompt may only name, and without a residue where
/// water is taken up.
fn symbols_of(draft: &DegreeDraft<'_>, step: &Step) -> String {
    let salt = format!("({})", draft.row.salt);
    let symbols = step.symbols().replace(&salt, "(salt)");
    match draft.context {
        MassContext::OnPaper => symbols.replace("m(residue)", "m(salt)"),
        _ => symbols,
    }
}

/// The masses and amounts in 100 g of a hydrate with a percentage of water, and the sum that the ratio is.
fn in_100_g(run: &Dehydration, exact: &CarefulWork) -> Option<(Vec<Step>, String)> {
    let (left, water) = (run.residue(), Formula::water());
    let solid = match left == run.salt() {
        true => "salt".into(),
        false => left.to_string(),
    };
    let percent = run.percent_water();
    let rest = Ratio::from(100) - percent;
    let (lost, stays) = (percent.to_plain(), rest.to_plain());
    let molar = |formula: &Formula| Some(exact.molar_mass(formula)?.low().clone());
    let [water_molar, salt_molar] = [molar(&water)?, molar(left)?];
    let amount = |mass: &Ratio, molar: &Ratio| {
        let amount = mass.checked_div(molar)?;
        Some(to_figures(&amount, FIGURES + 2))
    };
    let (of_water, of_salt) = (amount(percent, &water_molar)?, amount(&rest, &salt_molar)?);
    let step = |what: &str, symbols: String, numbers, result: &str, unit| {
        Step::new(String::from(what), symbols, numbers, result.into(), unit)
    };
    let mass = |mass, molar: &Ratio| format!("{mass} g / {} g/mol", molar.to_plain());
    let steps = Vec::from([
        step(
            "mass of water in 100 g of the hydrate",
            "percentage of water × 100 g / 100 %".into(),
            format!("{lost} % × 100 g / 100 %"),
            &lost,
            "g",
        ),
        step(
            &format!("mass of {solid} in 100 g of the hydrate"),
            "100 g − m(H2O)".into(),
            format!("100 g − {lost} g"),
            &stays,
            "g",
        ),
        step(
            Quantity::MolSalt.name(),
            format!("n({solid}) = m / M({solid})"),
            mass(&stays, &salt_molar),
            &of_salt,
            "mol",
        ),
        step(
            Quantity::MolWater.name(),
            "n(H2O) = m / M(H2O)".into(),
            mass(&lost, &water_molar),
            &of_water,
            "mol",
        ),
    ]);
    let quotient = format!("{of_water} mol / {of_salt} mol");
    let waters = left
        .one_formula_unit()
        .map_or(Ratio::ZERO, |(_, waters)| waters);
    let sum = match waters.is_zero() {
        true => quotient,
        false => format!("{waters} + {quotient}"),
    };
    Some((steps, sum))
}
