//! The numbers of a problem: what a balance, a flask and a label show.

use alloc::string::String;
use alloc::vec::Vec;

use super::problem::ReactionProblem;
use super::species::{Reaction, ReactionSpecies};
use super::supply::PrintedSupply;
use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::{Draw, written};
use crate::exercise::kind::Level;
use crate::number::{Ratio, Reading};

const NO_NUMBER: Refusal = Refusal::Again("the numbers cannot be drawn");
/// The concentrations of solutions in a school, in moles in a litre.
const CONCENTRATIONS: [&str; 7] = ["0.0500", "0.100", "0.200", "0.250", "0.500", "1.00", "2.00"];

/// A draft of one of the forms of the level. If the choices leave nothing for the form, the other forms of the level
/// are tried, and those of the other levels if none was chosen.
pub(super) fn by_form(
    draw: &mut Draw<'_>,
    forms: fn(Level) -> &'static [&'static str],
    drafted: fn(&mut Draw<'_>, &'static str) -> Result<DraftProblem, Refusal>,
) -> Result<DraftProblem, Refusal> {
    let form = draw.form(forms(draw.level));
    let first = drafted(draw, form);
    if !matches!(first, Err(Refusal::Exhausted(_))) {
        return first;
    }
    let mut levels = Vec::from([draw.level]);
    if draw.source.exercises.level.is_none() {
        levels.extend(Level::ALL);
    }
    for level in levels {
        draw.level = level;
        for form in forms(level) {
            let other = drafted(draw, form);
            if !matches!(other, Err(Refusal::Exhausted(_))) {
                return other;
            }
        }
    }
    first
}

/// A mass with three significant figures or more.
pub(super) fn mass(draw: &mut Draw<'_>) -> Result<Reading, Refusal> {
    let readability = draw.readability_or("0.01");
    let least = (readability.value() * 100).max(Ratio::ONE);
    let greatest = &least * 12;
    draw.mass(&least, &greatest, &readability)
}

/// A mass between two percentages of another one.
pub(super) fn mass_near(
    draw: &mut Draw<'_>,
    grams: &Ratio,
    percent: [i64; 2],
) -> Result<Reading, Refusal> {
    let readability = draw.readability_or("0.01");
    let hundredth = Ratio::new(1, 100).unwrap_or_default();
    let [least, greatest] = percent.map(|percent| grams * Ratio::from(percent) * &hundredth);
    let step = readability.value();
    if least < &step * 100 || greatest > (&step * 2_500).max(Ratio::from(25)) {
        return Err(Refusal::Again("the mass is not usual on the balance"));
    }
    draw.mass(&least, &greatest, &readability)
}

/// An amount with three significant figures.
pub(super) fn amount(draw: &mut Draw<'_>) -> Result<PrintedSupply, Refusal> {
    let (units, places) = match draw.sampler.below(2) {
        0 => (draw.sampler.between(100, 990), 4),
        _ => (draw.sampler.between(100, 250), 3),
    };
    let moles = Reading::new(units.into(), places).map_err(Refusal::refused)?;
    Ok(PrintedSupply::Amount(moles))
}

/// A volume of a solution.
pub(super) fn solution(draw: &mut Draw<'_>) -> Result<PrintedSupply, Refusal> {
    let concentration = draw.sampler.one_of(&CONCENTRATIONS).copied();
    let concentration = Reading::literal(concentration.unwrap_or("0.100"));
    let (units, places) = match draw.sampler.below(2) {
        0 => (draw.sampler.between(20, 100) * 10, 4),
        _ => (draw.sampler.between(20, 100) * 5, 3),
    };
    let litres = Reading::new(units.into(), places).map_err(Refusal::refused)?;
    if concentration.value() * litres.value() > Ratio::new(1, 8).unwrap_or_default() {
        return Err(Refusal::Again("the solution holds too much"));
    }
    Ok(PrintedSupply::Solution {
        concentration,
        litres,
    })
}

/// A percentage from 80.0 to 98.5.
pub(super) fn purity(draw: &mut Draw<'_>) -> Result<Reading, Refusal> {
    let units = draw.sampler.between(800, 985);
    Reading::new(units.into(), 1).map_err(Refusal::refused)
}

/// A volume of solution that holds about so many moles.
fn solution_of(draw: &mut Draw<'_>, moles: &Ratio) -> Result<PrintedSupply, Refusal> {
    let litres = |concentration: &Reading| moles.checked_div(&concentration.value());
    let usual = [Ratio::new(1, 50), Ratio::new(1, 2)].map(Option::unwrap_or_default);
    let suitable = CONCENTRATIONS.map(Reading::literal);
    let suitable: Vec<Reading> = suitable
        .into_iter()
        .filter(|one| litres(one).is_some_and(|volume| usual[0] <= volume && volume <= usual[1]))
        .collect();
    let concentration = draw.sampler.one_of(&suitable).copied();
    let concentration = concentration.ok_or(Refusal::Again("no solution fits"))?;
    let volume = litres(&concentration).ok_or(NO_NUMBER)?;
    let places = match volume < Ratio::new(1, 10).unwrap_or_default() {
        true => 4,
        false => 3,
    };
    Ok(PrintedSupply::Solution {
        concentration,
        litres: written(&volume, places)?,
    })
}

/// How the second of two reactants is given.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Given {
    Mass,
    Impure,
    Solution,
}

/// Supplies of both reactants, of which one clearly limits. What nobody weighs is given as a solution.
pub(super) fn both(
    draw: &mut Draw<'_>,
    reaction: &Reaction,
    given: [Given; 2],
) -> Result<[(usize, PrintedSupply); 2], Refusal> {
    let species = |index: usize| -> Result<&ReactionSpecies, Refusal> {
        reaction.species.get(index).ok_or(NO_NUMBER)
    };
    let (one, other) = (species(0)?, species(1)?);
    let [first, second] = given;
    let supply = match first {
        Given::Solution => solution(draw)?,
        given => of_grams(draw, given, mass)?,
    };
    let second = match second {
        Given::Mass if !other.is_weighed() => Given::Solution,
        second => second,
    };
    let molar = |one: &ReactionSpecies| draw.exact().molar_mass(&one.formula).ok_or(NO_NUMBER);
    let (molar_one, molar_other) = (molar(one)?, molar(other)?);
    let amount = supply.amount(draw.exact(), &molar_one).ok_or(NO_NUMBER)?;
    let ratio = other
        .coefficient
        .checked_div(&one.coefficient)
        .ok_or(NO_NUMBER)?;
    let exactly = amount.low() * &ratio;
    let percent = match draw.sampler.below(2) {
        0 => [50, 85],
        _ => [125, 220],
    };
    let second = match second {
        Given::Solution => {
            let percent = Ratio::from(draw.sampler.between(percent[0], percent[1]));
            let moles = exactly * percent * Ratio::new(1, 100).unwrap_or_default();
            solution_of(draw, &moles)?
        }
        given => {
            let grams = exactly * molar_other.low();
            of_grams(draw, given, |draw| mass_near(draw, &grams, percent))?
        }
    };
    Ok([(0, supply), (1, second)])
}

fn of_grams(
    draw: &mut Draw<'_>,
    given: Given,
    grams: impl FnOnce(&mut Draw<'_>) -> Result<Reading, Refusal>,
) -> Result<PrintedSupply, Refusal> {
    let grams = grams(draw)?;
    Ok(match given {
        Given::Impure => PrintedSupply::Impure {
            grams,
            percent: purity(draw)?,
        },
        _ => PrintedSupply::Mass(grams),
    })
}

impl ReactionProblem<'_> {
    /// The supplies in words: `2.50 g of zinc, Zn, and 6.10 g of silver nitrate, AgNO3`.
    pub(super) fn supplies_in_words(&self) -> Result<String, Refusal> {
        let mut words = String::new();
        for (index, supply) in &self.supplies {
            if !words.is_empty() {
                // A sentence has one fact. The words on an impure sample are long.
                words.push_str(match words.contains('%') {
                    true => ". The other reactant is ",
                    false => ", and ",
                });
            }
            words.push_str(&supply.words(self.species(*index)?));
        }
        Ok(words)
    }
}
