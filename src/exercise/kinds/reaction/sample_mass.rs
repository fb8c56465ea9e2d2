//! The mass to weigh out for a purpose.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::draw::{amount, by_form, mass, mass_near, purity, solution};
use super::problem::{Ask, ProblemWords, ReactionProblem};
use super::route::WrongNumber;
use super::species::{PoolReaction, Reaction, reaction};
use super::supply::PrintedSupply;
use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::Draw;
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::kind::Level;
use crate::exercise::kinds::row::KindRow;
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;
use crate::number::Ratio;

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// An amount of the hydrate, of its salt or of its water is wanted; the name is given. A solution, another mass of
/// salt, a loss of water or a product is wanted. There is a number too many; the salt in the recipe is impure, or
/// what reacts is; one of two hydrates is to be chosen.
const HYDRATE: &str = "amount_of_hydrate";
const NAMED: &str = "amount_from_name";
const SALT: &str = "amount_of_salt";
const WATER: &str = "amount_of_water";
const SOLUTION: &str = "for_solution";
const RECIPE: &str = "instead_of_anhydrous_salt";
const LOSS: &str = "for_loss_of_water";
const PRODUCT: &str = "for_product";
const SUPERFLUOUS: &str = "with_superfluous_mass";
const IMPURE_SALT: &str = "instead_of_impure_salt";
const IMPURE_PARTNER: &str = "for_impure_sample";
const LIGHTER: &str = "lighter_of_two";

/// The indices of the species of [`Reaction::of_hydrate`].
const SALT_INDEX: usize = 0;
const WATER_INDEX: usize = 1;
const HYDRATE_INDEX: usize = 2;

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    by_form(draw, forms, |draw, form| match form {
        PRODUCT | SUPERFLUOUS | IMPURE_PARTNER => of_reaction(draw, form),
        LIGHTER => lighter(draw),
        _ => of_hydrate(draw, form),
    })
}

fn forms(level: Level) -> &'static [&'static str] {
    match level {
        Level::OneStep => &[HYDRATE, NAMED, SALT, WATER],
        Level::SeveralSteps => &[SOLUTION, RECIPE, LOSS, PRODUCT],
        Level::Judgement => &[SUPERFLUOUS, IMPURE_SALT, IMPURE_PARTNER, LIGHTER],
    }
}

/// The mass of a hydrate.
fn of_hydrate(draw: &mut Draw<'_>, form: &'static str) -> Result<DraftProblem, Refusal> {
    let row = match form {
        LOSS => draw.heated_hydrate()?,
        _ => draw.hydrate()?,
    };
    let from = match form {
        HYDRATE | NAMED => HYDRATE_INDEX,
        WATER | LOSS => WATER_INDEX,
        _ => SALT_INDEX,
    };
    let reaction = Reaction::of_hydrate(row);
    let supply = match form {
        SOLUTION => solution(draw, &reaction, from)?,
        RECIPE | LOSS => PrintedSupply::Mass(mass(draw, &reaction, from)?),
        IMPURE_SALT => PrintedSupply::Impure {
            grams: mass(draw, &reaction, from)?,
            percent: purity(draw)?,
        },
        _ => amount(draw, &reaction, from)?,
    };
    let prompt = hydrate_prompt(form, row, &supply);
    let mut skills = Vec::new();
    if form == NAMED {
        skills.push(Skill::ReadName);
    }
    hydrate_problem(
        draw,
        &reaction,
        (from, supply),
        words(form, prompt, skills, Vec::new()),
    )
}

fn words(
    form: &'static str,
    prompt: String,
    skills: Vec<Skill>,
    wrong: Vec<WrongNumber>,
) -> ProblemWords {
    ProblemWords {
        form,
        prompt,
        skills,
        wrong,
    }
}

fn hydrate_problem(
    draw: &Draw<'_>,
    reaction: &Reaction,
    supply: (usize, PrintedSupply),
    words: ProblemWords,
) -> Result<DraftProblem, Refusal> {
    let problem = ReactionProblem {
        reaction,
        supplies: Vec::from([supply]),
        to: HYDRATE_INDEX,
        ask: Ask::Mass,
        superfluous: None,
    };
    problem.draft(draw, words)
}

fn hydrate_prompt(form: &str, row: &PoolHydrate, supply: &PrintedSupply) -> String {
    let PoolHydrate {
        hydrate,
        name,
        salt,
        ..
    } = row;
    let given = match supply {
        PrintedSupply::Mass(grams) => format!("{grams}\u{a0}g"),
        PrintedSupply::Amount(moles) => format!("{moles}\u{a0}mol"),
        PrintedSupply::Impure { grams, percent } => {
            format!("{grams}\u{a0}g of an anhydrous sample that is {percent}\u{a0}% {salt} by mass")
        }
        PrintedSupply::Solution {
            concentration,
            litres,
        } => format!("{litres}\u{a0}L of a {concentration}\u{a0}mol/L solution"),
    };
    match form {
        HYDRATE => format!("You need {given} of {hydrate}. Work out the mass to weigh out."),
        NAMED => format!("You need {given} of {name}. Work out the mass to weigh out."),
        SALT => format!(
            "You need {given} of {salt}. The store has {hydrate}. Work out the mass of {hydrate} to weigh out."
        ),
        WATER => format!(
            "A sample of {hydrate} must hold {given} of water. Work out the mass of {hydrate} to weigh out."
        ),
        SOLUTION => format!(
            "You need {given} of {salt}. The store has {name}, {hydrate}. \
             Work out the mass of {hydrate} to weigh out."
        ),
        RECIPE => format!(
            "The instructions say {given} of anhydrous {salt}. The store has {name}, {hydrate}. \
             Work out the mass of {hydrate} that holds as much {salt}."
        ),
        LOSS => format!(
            "A sample of {name}, {hydrate}, is heated until all of its water has left. It must lose {given} of water. \
             Work out the mass of {hydrate} to weigh out."
        ),
        _ => format!(
            "The instructions say {given}. The store has {name}, {hydrate}. \
             Work out the mass of {hydrate} that holds as much {salt}."
        ),
    }
}

/// Two hydrates in the store: the mass of the one of which less is needed.
fn lighter(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let (one, other) = (draw.hydrate()?, draw.hydrate()?);
    let molar = |row: &PoolHydrate| {
        let molar = draw.exact().molar_mass(&row.hydrate);
        let molar = molar.ok_or(Refusal::Again("the hydrate has no molar mass"))?;
        Ok(molar.low().clone())
    };
    let (first, second) = (molar(one)?, molar(other)?);
    let (lighter, least, greatest) = match first < second {
        true => (one, first.clone(), second.clone()),
        false => (other, second.clone(), first.clone()),
    };
    if greatest < &least * Ratio::new(11, 10).unwrap_or_default() {
        return Err(Refusal::Again("the two hydrates weigh nearly the same"));
    }
    let reaction = Reaction::of_hydrate(lighter);
    let supply = amount(draw, &reaction, HYDRATE_INDEX)?;
    let PrintedSupply::Amount(moles) = &supply else {
        return Err(Refusal::Again("no amount is given"));
    };
    let prompt = format!(
        "You need {moles}\u{a0}mol of a hydrate. The store has {} and {}. Take the one of which you need the smaller \
         mass. Work out this mass.",
        one.hydrate, other.hydrate
    );
    let wrong = (WrongStep::OTHER_SUBSTANCE, greatest * moles.value());
    let words = words(
        LIGHTER,
        prompt,
        Vec::from([Skill::Compare]),
        Vec::from([wrong]),
    );
    hydrate_problem(draw, &reaction, (HYDRATE_INDEX, supply), words)
}

/// The mass of the first reactant for a product, or of the second for an impure sample of the first.
fn of_reaction(draw: &mut Draw<'_>, form: &'static str) -> Result<DraftProblem, Refusal> {
    let row = reaction(draw, "no reaction", |row: &&PoolReaction| match form {
        IMPURE_PARTNER => row.has_two_reactants() && row.is_weighed(0) && row.is_weighed(1),
        _ => row.gives_a_yield && row.is_weighed(0),
    })?;
    let backwards = row.reaction.backwards();
    let first = backwards.reactants;
    let (from, to) = match form {
        IMPURE_PARTNER => (first, first + 1),
        _ => (row.product - row.reaction.reactants, first),
    };
    let grams = mass(draw, &backwards, from)?;
    let supply = match form {
        IMPURE_PARTNER => PrintedSupply::Impure {
            grams,
            percent: purity(draw)?,
        },
        _ => PrintedSupply::Mass(grams),
    };
    let mut problem = ReactionProblem {
        reaction: &backwards,
        supplies: Vec::from([(from, supply)]),
        to,
        ask: Ask::Mass,
        superfluous: None,
    };
    let mut wrong = Vec::new();
    let mut weighed = String::new();
    if form == SUPERFLUOUS {
        let exact = problem.route(0)?.along(draw.exact());
        let exact = exact.ok_or(Refusal::Again("a substance has no molar mass"))?;
        let percent = match draw.sampler.below(2) {
            0 => [70, 90],
            _ => [112, 140],
        };
        let grams = mass_near(draw, problem.species(to)?, exact.low(), percent)?;
        problem.superfluous = Some(grams);
        wrong.push((WrongStep::SUPERFLUOUS_MASS, grams.value()));
        let words = problem.species(to)?.words();
        weighed =
            format!("The bench has weighed out {grams}\u{a0}g of {words}, without a calculation.");
    }
    let (given, sought) = (problem.supplies_in_words()?, problem.species(to)?);
    let equation = &row.reaction.equation;
    let (name, text) = (sought.words_inside(), &sought.text);
    let prompt = match form {
        IMPURE_PARTNER => format!(
            "The equation is {equation}. You have {given}. Work out the mass of {name} that reacts with all of it."
        ),
        SUPERFLUOUS => format!(
            "The equation is {equation}. Bench Hazel wants {given}. {weighed} Work out the mass of {text} that the \
             bench needs at least."
        ),
        _ => format!(
            "The equation is {equation}. You want {given}. There is enough of everything else. \
             Work out the mass of {name} that you need at least."
        ),
    };
    problem.draft(draw, words(form, prompt, Vec::new(), wrong))
}
