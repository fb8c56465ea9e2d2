//! The percent yield of a preparation.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::draw::{Given, amount, both, by_form, mass, mass_near, purity, solution};
use super::problem::{Ask, ProblemWords, ReactionProblem};
use super::species::{PoolReaction, reaction};
use super::supply::PrintedSupply;
use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::Draw;
use crate::exercise::kind::Level;
use crate::exercise::kinds::row::KindRow;
use crate::exercise::wrong_step::WrongStep;
use crate::number::Ratio;

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// One reactant is given, as a mass, an amount or a solution. Two are, and one limits. A reactant is impure.
const FROM_MASS: &str = "from_mass";
const FROM_AMOUNT: &str = "from_amount";
const FROM_SOLUTION: &str = "from_solution";
const TWO_MASSES: &str = "two_masses";
const MASS_AND_SOLUTION: &str = "mass_and_solution";
const SOLUTIONS: &str = "two_solutions";
const IMPURE: &str = "impure_reactant";
const IMPURE_TWO: &str = "impure_of_two";
const IMPURE_SOLUTION: &str = "impure_and_solution";

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    by_form(draw, forms, draft)
}

fn forms(level: Level) -> &'static [&'static str] {
    match level {
        Level::OneStep => &[FROM_MASS, FROM_AMOUNT, FROM_SOLUTION],
        Level::SeveralSteps => &[TWO_MASSES, MASS_AND_SOLUTION, SOLUTIONS],
        Level::Judgement => &[IMPURE, IMPURE_TWO, IMPURE_SOLUTION],
    }
}

fn draft(draw: &mut Draw<'_>, form: &'static str) -> Result<DraftProblem, Refusal> {
    let row = row(draw, form)?;
    let mut problem = ReactionProblem {
        reaction: &row.reaction,
        supplies: supplies(draw, form, row)?,
        to: row.product,
        ask: Ask::Mass,
        superfluous: None,
    };
    let exact = draw.exact();
    let limiting = problem.limiting(exact)?;
    let possible = problem.route(limiting)?.along(exact);
    let possible = possible.ok_or(Refusal::Again("the product has no molar mass"))?;
    let obtained = mass_near(draw, problem.species(problem.to)?, possible.low(), [55, 98])?;
    problem.ask = Ask::Yield(obtained);
    let yields = problem.finish(&possible, exact);
    let mut wrong = Vec::new();
    if let Some(grams) = problem.supplies.get(limiting).and_then(|one| one.1.grams()) {
        let percent = (obtained.value() * 100).checked_div(&grams.value());
        wrong.extend(percent.map(|percent| (WrongStep::PERCENT_OF_REACTANT, percent)));
    }
    if let Some(percent) = yields {
        let lost = Ratio::from(100) - percent.low();
        wrong.push((WrongStep::PERCENT_NOT_OBTAINED, lost));
    }
    let product = problem.species(problem.to)?.words();
    let rest = match (problem.supplies.len(), row.reaction.reactants) {
        (2, _) | (_, 1) => String::new(),
        _ => " There is enough of everything else.".into(),
    };
    let prompt = format!(
        "The equation is {}. The reaction starts with {}.{rest} It gives {obtained}\u{a0}g of {product}. \
         Work out the percent yield.",
        row.reaction.equation,
        problem.supplies_in_words()?,
    );
    let words = ProblemWords {
        form,
        prompt,
        skills: Vec::new(),
        wrong,
    };
    problem.draft(draw, words)
}

fn row(draw: &mut Draw<'_>, form: &str) -> Result<&'static PoolReaction, Refusal> {
    reaction(draw, "no reaction with a yield", |row| {
        let two = row.has_two_reactants();
        let suits = match form {
            FROM_SOLUTION => row.is_dissolved(0),
            TWO_MASSES | IMPURE_TWO => two && row.is_weighed(0) && row.is_weighed(1),
            MASS_AND_SOLUTION | IMPURE_SOLUTION => two && row.is_weighed(0) && row.is_dissolved(1),
            SOLUTIONS => two && row.is_dissolved(0) && row.is_dissolved(1),
            _ => row.is_weighed(0),
        };
        row.gives_a_yield && suits
    })
}

fn supplies(
    draw: &mut Draw<'_>,
    form: &str,
    row: &PoolReaction,
) -> Result<Vec<(usize, PrintedSupply)>, Refusal> {
    let given = match form {
        TWO_MASSES => [Given::Mass; 2],
        MASS_AND_SOLUTION => [Given::Mass, Given::Solution],
        SOLUTIONS => [Given::Solution; 2],
        IMPURE_TWO => [Given::Impure, Given::Mass],
        IMPURE_SOLUTION => [Given::Impure, Given::Solution],
        _ => {
            let supply = match form {
                FROM_MASS => PrintedSupply::Mass(mass(draw, &row.reaction, 0)?),
                FROM_AMOUNT => amount(draw, &row.reaction, 0)?,
                FROM_SOLUTION => solution(draw, &row.reaction, 0)?,
                _ => PrintedSupply::Impure {
                    grams: mass(draw, &row.reaction, 0)?,
                    percent: purity(draw)?,
                },
            };
            return Ok([(0, supply)].into());
        }
    };
    Ok(both(draw, &row.reaction, given)?.into())
}
