//! The numbers of a problem: what a balance, a flask and a label show.

use alloc::string::String;
use alloc::vec::Vec;

use super::problem::ReactionProblem;
use super::species::{Reaction, ReactionSpecies};
use super::supply::PrintedSupply;
use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::{Draw, written};
use crate::exercise::kind::Level;
use crate::number::{Ratio, Reading, TieRule};

const NO_NUMBER: Refusal = Refusal::Again("the numbers cannot be drawn");
const NO_SOLUTION: Refusal = Refusal::Again("no solution fits");
const TOO_COARSE: Refusal =
    Refusal::Again("the balance is too coarse for the masses that are usual");
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

/// The greatest mass in grams that is taken of a species: silver and its salts are dear, ribbon and foil are light
/// (common practice, no source).
fn most_grams(species: &ReactionSpecies) -> Ratio {
    let grams = match species.text.as_str() {
        "Mg" | "Al" => 3,
        text if text.contains("Ag") => 5,
        _ => 25,
    };
    grams.into()
}

/// The greatest mass of a species from which no product has more than its own greatest mass.
fn most_in(draw: &Draw<'_>, reaction: &Reaction, index: usize) -> Result<Ratio, Refusal> {
    let in_equation = |one: &ReactionSpecies| {
        let molar = draw.exact().molar_mass(&one.formula).ok_or(NO_NUMBER)?;
        Ok(molar.low() * &one.coefficient)
    };
    let species = reaction.species.get(index).ok_or(NO_NUMBER)?;
    let own = in_equation(species)?;
    let mut most = most_grams(species);
    for product in reaction.species.iter().skip(reaction.reactants) {
        let allowed = (most_grams(product) * &own).checked_div(&in_equation(product)?);
        most = most.min(allowed.ok_or(NO_NUMBER)?);
    }
    Ok(most)
}

/// A mass of a species with three significant figures or more.
pub(super) fn mass(
    draw: &mut Draw<'_>,
    reaction: &Reaction,
    index: usize,
) -> Result<Reading, Refusal> {
    let readability = draw.readability_or("0.01");
    let least = (readability.value() * 100).max(Ratio::ONE);
    let greatest = (&least * 12).min(most_in(draw, reaction, index)?);
    if greatest < &least * Ratio::new(11, 10).unwrap_or_default() {
        return Err(TOO_COARSE);
    }
    draw.mass(&least, &greatest, &readability)
}

/// A mass of a species between two percentages of another one.
pub(super) fn mass_near(
    draw: &mut Draw<'_>,
    species: &ReactionSpecies,
    grams: &Ratio,
    percent: [i64; 2],
) -> Result<Reading, Refusal> {
    let readability = draw.readability_or("0.01");
    let hundredth = Ratio::new(1, 100).unwrap_or_default();
    let [least, greatest] = percent.map(|percent| grams * Ratio::from(percent) * &hundredth);
    let (fewest, greatest) = (readability.value() * 100, greatest.min(most_grams(species)));
    if least < fewest || greatest < least {
        return Err(TOO_COARSE);
    }
    draw.mass(&least, &greatest, &readability)
}

/// Refuses more moles of a species than its greatest mass has.
fn check_amount(
    draw: &Draw<'_>,
    reaction: &Reaction,
    index: usize,
    moles: &Ratio,
) -> Result<(), Refusal> {
    let species = reaction.species.get(index).ok_or(NO_NUMBER)?;
    let molar = draw.exact().molar_mass(&species.formula).ok_or(NO_NUMBER)?;
    match moles * molar.low() <= most_in(draw, reaction, index)? {
        true => Ok(()),
        false => Err(Refusal::Again("the amount is more than a school takes")),
    }
}

/// An amount of a species with three significant figures.
pub(super) fn amount(
    draw: &mut Draw<'_>,
    reaction: &Reaction,
    index: usize,
) -> Result<PrintedSupply, Refusal> {
    let (units, places) = match draw.sampler.below(2) {
        0 => (draw.sampler.between(100, 990), 4),
        _ => (draw.sampler.between(100, 250), 3),
    };
    let moles = Reading::new(units.into(), places).map_err(Refusal::refused)?;
    check_amount(draw, reaction, index, &moles.value())?;
    Ok(PrintedSupply::Amount(moles))
}

/// The concentrations that are usual for a species.
fn concentrations(species: &ReactionSpecies) -> Vec<Reading> {
    let highest = species.highest_concentration().unwrap_or_default();
    let usual = CONCENTRATIONS.map(Reading::literal).into_iter();
    usual.filter(|one| one.value() <= highest).collect()
}

/// A volume of a solution of a species, in steps of 5 mL up to 95 mL and of 10 mL from 100 mL.
pub(super) fn solution(
    draw: &mut Draw<'_>,
    reaction: &Reaction,
    index: usize,
) -> Result<PrintedSupply, Refusal> {
    let species = reaction.species.get(index).ok_or(NO_NUMBER)?;
    let concentration = draw.sampler.one_of(&concentrations(species)).copied();
    let concentration = concentration.ok_or(NO_SOLUTION)?;
    let (units, places) = match draw.sampler.below(2) {
        0 => (draw.sampler.between(4, 19) * 50, 4),
        _ => (draw.sampler.between(10, 50) * 10, 3),
    };
    let litres = Reading::new(units.into(), places).map_err(Refusal::refused)?;
    let moles = concentration.value() * litres.value();
    if moles > Ratio::new(1, 8).unwrap_or_default() {
        return Err(Refusal::Again("the solution holds too much"));
    }
    check_amount(draw, reaction, index, &moles)?;
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

/// A volume of a solution of a species that holds about so many moles.
fn solution_of(
    draw: &mut Draw<'_>,
    species: &ReactionSpecies,
    moles: &Ratio,
) -> Result<PrintedSupply, Refusal> {
    let litres = |concentration: &Reading| moles.checked_div(&concentration.value());
    let usual = [Ratio::new(1, 50), Ratio::new(1, 2)].map(Option::unwrap_or_default);
    let suitable = concentrations(species).into_iter();
    let suitable: Vec<Reading> = suitable
        .filter(|one| litres(one).is_some_and(|volume| usual[0] <= volume && volume <= usual[1]))
        .collect();
    let concentration = draw.sampler.one_of(&suitable).copied();
    let concentration = concentration.ok_or(NO_SOLUTION)?;
    let volume = litres(&concentration).ok_or(NO_NUMBER)?;
    let (step, places) = match volume < Ratio::new(95, 1000).unwrap_or_default() {
        true => (Ratio::new(1, 200), 4),
        false => (Ratio::new(1, 100), 3),
    };
    let volume = volume.to_multiple(&step.ok_or(NO_NUMBER)?, TieRule::Even);
    Ok(PrintedSupply::Solution {
        concentration,
        litres: written(&volume.ok_or(NO_NUMBER)?.value(), places)?,
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
        Given::Solution => solution(draw, reaction, 0)?,
        given => of_grams(draw, given, |draw| mass(draw, reaction, 0))?,
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
            solution_of(draw, other, &moles)?
        }
        given => {
            let grams = exactly * molar_other.low();
            of_grams(draw, given, |draw| mass_near(draw, other, &grams, percent))?
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
