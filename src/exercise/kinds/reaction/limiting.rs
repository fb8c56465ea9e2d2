//! What forms, what is left, and which reactant limits.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::draw::{Given, amount, both, by_form, mass};
use super::problem::{Ask, ProblemWords, ReactionProblem};
use super::route::WrongNumber;
use super::species::reaction;
use super::supply::PrintedSupply;
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::Draw;
use crate::exercise::kind::Level;
use crate::exercise::kinds::row::KindRow;
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;
use crate::number::Ratio;

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// One amount is given: the mass or the amount of a product is asked for. Two are given, in several ways. What is
/// left is asked for, or which reactant limits.
const PRODUCT: &str = "mass_of_product";
const PRODUCT_AMOUNT: &str = "amount_of_product";
const FROM_AMOUNT: &str = "mass_from_amount";
const BY_PRODUCT: &str = "mass_of_by_product";
const TWO_MASSES: &str = "two_masses";
const TWO_MASSES_AMOUNT: &str = "amount_from_two_masses";
const MASS_AND_SOLUTION: &str = "mass_and_solution";
const LEFT: &str = "left_over";
const IMPURE: &str = "impure_reactant";
const SOLUTIONS: &str = "two_solutions";
const WHICH: &str = "which_limits";

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    by_form(draw, forms, |draw, form| match draw.level {
        Level::OneStep => one_given(draw, form),
        _ => two_given(draw, form),
    })
}

fn forms(level: Level) -> &'static [&'static str] {
    match level {
        Level::OneStep => &[PRODUCT, PRODUCT_AMOUNT, FROM_AMOUNT, BY_PRODUCT],
        Level::SeveralSteps => &[TWO_MASSES, TWO_MASSES_AMOUNT, MASS_AND_SOLUTION],
        Level::Judgement => &[LEFT, IMPURE, SOLUTIONS, WHICH],
    }
}

fn one_given(draw: &mut Draw<'_>, form: &'static str) -> Result<DraftProblem, Refusal> {
    let row = reaction(draw, "no reaction", |_| true)?;
    let reactants = row.reaction.reactants;
    let from: Vec<usize> = (0..reactants)
        .filter(|index| row.is_weighed(*index))
        .collect();
    let from = draw.sampler.one_of(&from).copied();
    let from = from.ok_or(Refusal::Again("no reactant is weighed"))?;
    let supply = match form {
        FROM_AMOUNT => amount(draw, &row.reaction, from)?,
        _ => PrintedSupply::Mass(mass(draw, &row.reaction, from)?),
    };
    let products: Vec<usize> = (reactants..row.reaction.species.len())
        .filter(|index| *index != row.product)
        .collect();
    let to = match form {
        BY_PRODUCT => draw.sampler.one_of(&products).copied(),
        _ => Some(row.product),
    };
    let problem = ReactionProblem {
        reaction: &row.reaction,
        supplies: Vec::from([(from, supply)]),
        to: to.ok_or(Refusal::Again("the reaction has one product only"))?,
        ask: match form {
            PRODUCT_AMOUNT => Ask::Amount,
            _ => Ask::Mass,
        },
        superfluous: None,
    };
    let rest = match reactants {
        1 => String::new(),
        _ => " There is enough of everything else.".into(),
    };
    let prompt = format!(
        "The equation is {}. The reaction uses up {}.{rest} {}",
        row.reaction.equation,
        problem.supplies_in_words()?,
        question(&problem)?
    );
    problem.draft(draw, words(form, prompt, Vec::new()))
}

fn words(form: &'static str, prompt: String, wrong: Vec<WrongNumber>) -> ProblemWords {
    ProblemWords {
        form,
        prompt,
        skills: Vec::new(),
        wrong,
    }
}

fn question(problem: &ReactionProblem<'_>) -> Result<String, Refusal> {
    let words = problem.species(problem.to)?.words_inside();
    Ok(match problem.ask {
        Ask::Amount => format!("Work out the amount of {words} that forms, in moles."),
        Ask::Left(_) => format!("Work out the mass of {words} that is left."),
        _ => format!("Work out the mass of {words} that forms."),
    })
}

fn two_given(draw: &mut Draw<'_>, form: &'static str) -> Result<DraftProblem, Refusal> {
    let row = reaction(draw, "no reaction of two reactants", |row| {
        row.has_two_reactants()
            && match form {
                MASS_AND_SOLUTION => row.is_weighed(0) && row.is_dissolved(1),
                SOLUTIONS => row.is_dissolved(0) && row.is_dissolved(1),
                TWO_MASSES | TWO_MASSES_AMOUNT => row.is_weighed(0) && row.is_weighed(1),
                _ => row.is_weighed(0),
            }
            && (form != WHICH || row.reaction.species.len() > 3)
    })?;
    let given = match form {
        MASS_AND_SOLUTION => [Given::Mass, Given::Solution],
        SOLUTIONS => [Given::Solution; 2],
        IMPURE => [Given::Impure, Given::Mass],
        _ => [Given::Mass; 2],
    };
    let mut problem = ReactionProblem {
        reaction: &row.reaction,
        supplies: both(draw, &row.reaction, given)?.into(),
        to: row.product,
        ask: match form {
            TWO_MASSES_AMOUNT => Ask::Amount,
            _ => Ask::Mass,
        },
        superfluous: None,
    };
    let limiting = problem.limiting(draw.exact())?;
    let grams = |place: usize| problem.supplies.get(place)?.1.grams();
    let (left, masses) = (grams(1 - limiting.min(1)), [grams(0), grams(1)]);
    if form == LEFT {
        let grams = left.ok_or(Refusal::Again("a solution is left"))?;
        problem.to = 1 - limiting.min(1);
        problem.ask = Ask::Left(grams);
    }
    let mut wrong = Vec::new();
    if let (TWO_MASSES, [Some(one), Some(other)]) = (form, masses) {
        let sum: Ratio = one.value() + other.value();
        wrong.push((WrongStep::ADDED_MASSES, sum));
    }
    let question = match form {
        WHICH => "Work out which reactant is used up. Give its formula.".into(),
        _ => question(&problem)?,
    };
    let prompt = format!(
        "The equation is {}. The reaction starts with {}. It goes on until one of them is used up. {question}",
        row.reaction.equation,
        problem.supplies_in_words()?,
    );
    match form {
        WHICH => which(draw, &problem, limiting, prompt),
        _ => problem.draft(draw, words(form, prompt, wrong)),
    }
}

/// The problem whose answer is the formula of a reactant.
fn which(
    draw: &Draw<'_>,
    problem: &ReactionProblem<'_>,
    limiting: usize,
    prompt: String,
) -> Result<DraftProblem, Refusal> {
    let species = problem.reaction.species.iter().enumerate();
    let wrong = species.filter(|(index, _)| *index != limiting);
    let wrong = wrong.map(|(index, one)| {
        let step = match index < problem.reaction.reactants {
            true => WrongStep::REACTANT_LEFT_OVER,
            false => WrongStep::PRODUCT_NOT_REACTANT,
        };
        (step, WrongValue::Text(one.text.clone()))
    });
    Ok(DraftProblem {
        form: WHICH,
        skills: Vec::from([Skill::AmountFromMass, Skill::LimitingReactant]),
        prompt,
        request: problem.request(draw)?,
        asked: Asked::Formula {
            pointer: "/limiting/0".into(),
        },
        wrong: wrong.collect(),
        working: problem
            .limiting_steps(draw.exact(), limiting, 3)
            .ok_or(Refusal::Again("the steps cannot be written"))?,
    })
}
