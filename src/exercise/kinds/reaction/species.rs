//! A reaction with its species, and the reactions of the pool.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use once_cell::race::OnceBox;

use crate::exercise::draft::Refusal;
use crate::exercise::draw::Draw;
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::pool::{Collected, REACTIONS, ReactionRow, SOLUTIONS};
use crate::formula::{Formula, State};
use crate::number::{Ratio, Reading};
use crate::reaction::{Equation, Species};

/// A balanced equation without states, with its species in order.
#[derive(Clone)]
pub(super) struct Reaction {
    pub(super) equation: String,
    pub(super) species: Vec<ReactionSpecies>,
    pub(super) reactants: usize,
}

#[derive(Clone)]
pub(super) struct ReactionSpecies {
    pub(super) formula: Formula,
    /// The formula in canonical plain text.
    pub(super) text: String,
    /// What it is called after "2.00 g of"; the formula alone if the pool does not name it.
    pub(super) name: Option<String>,
    pub(super) coefficient: Ratio,
    pub(super) is_dissolved: bool,
}

/// What a school has only dissolved in water, so that nobody weighs it.
const NOT_WEIGHED: [&str; 3] = ["HCl", "H2SO4", "NH3"];

impl ReactionSpecies {
    /// The name with the formula: `silver nitrate, AgNO3`.
    pub(super) fn words(&self) -> String {
        match &self.name {
            Some(name) => format!("{name}, {}", self.text),
            None => self.text.clone(),
        }
    }

    /// The name with the formula inside a sentence: `silver nitrate, AgNO3,`.
    pub(super) fn words_inside(&self) -> String {
        match &self.name {
            Some(_) => format!("{},", self.words()),
            None => self.text.clone(),
        }
    }

    /// The highest concentration of a solution in moles in a litre; `None` if it is not used as one, such as a
    /// hydrate. A solution does not hold crystals.
    pub(super) fn highest_concentration(&self) -> Option<Ratio> {
        let mut rows = SOLUTIONS.iter();
        let row = rows.find(|row| row.solutes.contains(&self.text.as_str()))?;
        Some(Reading::literal(row.highest).value())
    }

    pub(super) fn is_weighed(&self) -> bool {
        !NOT_WEIGHED.contains(&self.text.as_str())
    }

    /// The salt without its waters, and their number; `None` if there are none.
    pub(super) fn salt_and_waters(&self) -> Option<(Formula, Ratio)> {
        let (salt, waters) = self.formula.one_formula_unit()?;
        waters.is_positive().then_some((salt, waters))
    }
}

impl Reaction {
    fn read(row: &ReactionRow) -> Option<Reaction> {
        let (equation, _) = Equation::read(row.equation).ok()?;
        let species = equation.species().iter().enumerate();
        let species = species.map(|(index, one)| {
            let formula = one.formula().without_state();
            let text = formula.to_string();
            let product = (text == row.product).then_some(row.product_name);
            let name = row.reactants.get(index).copied().or(product);
            ReactionSpecies {
                name: name.map(String::from),
                coefficient: one.count(),
                is_dissolved: one.state() == Some(State::Aqueous),
                formula,
                text,
            }
        });
        let species: Vec<ReactionSpecies> = species.collect();
        let texts = equation.species().iter().zip(&species);
        let texts: Vec<String> = texts
            .map(|(one, species)| written(one, &species.text))
            .collect();
        let (before, after) = texts.split_at_checked(equation.reactants().len())?;
        Some(Reaction {
            equation: format!("{} -> {}", before.join(" + "), after.join(" + ")),
            reactants: before.len(),
            species,
        })
    }

    /// The relation of amounts with the products first: what is used up for them has a positive sign.
    pub(super) fn backwards(&self) -> Reaction {
        let mut species = self.species.clone();
        let reactants = self.reactants.min(species.len());
        species.rotate_left(reactants);
        let equation = match self.equation.split_once(" -> ") {
            Some((before, after)) => format!("{after} = {before}"),
            None => self.equation.clone(),
        };
        Reaction {
            equation,
            reactants: species.len() - self.reactants,
            species,
        }
    }

    /// The salt and its waters as what a hydrate is made of: species 0 and 1, the hydrate is species 2.
    pub(super) fn of_hydrate(row: &PoolHydrate) -> Reaction {
        let species =
            |formula: &Formula, name: Option<&str>, coefficient: &Ratio| ReactionSpecies {
                formula: formula.clone(),
                text: formula.to_string(),
                name: name.map(String::from),
                coefficient: coefficient.clone(),
                is_dissolved: false,
            };
        let waters = match row.waters == Ratio::ONE {
            true => String::new(),
            false => format!("{}", row.waters),
        };
        Reaction {
            equation: format!("{} + {waters}H2O = {}", row.salt, row.hydrate),
            species: Vec::from([
                species(&row.salt, None, &Ratio::ONE),
                species(&Formula::water(), None, &row.waters),
                species(&row.hydrate, Some(&row.name), &Ratio::ONE),
            ]),
            reactants: 2,
        }
    }
}

fn written(species: &Species, text: &str) -> String {
    match species.count() == Ratio::ONE {
        true => text.into(),
        false => format!("{}{text}", species.count()),
    }
}

/// A reaction of the pool.
pub(super) struct PoolReaction {
    pub(super) reaction: Reaction,
    /// The index of the product that is asked for.
    pub(super) product: usize,
    pub(super) gives_a_yield: bool,
    /// True if the product is not sparingly soluble, so that it crystallises from concentrated solutions alone.
    crystallises: bool,
}

impl PoolReaction {
    pub(super) fn has_two_reactants(&self) -> bool {
        self.reaction.reactants == 2
    }

    pub(super) fn reactant(&self, index: usize) -> Option<&ReactionSpecies> {
        let reactants = self.reaction.species.get(..self.reaction.reactants)?;
        reactants.get(index)
    }

    /// True if the reactant can be taken as a solution of a usual concentration.
    pub(super) fn is_dissolved(&self, index: usize) -> bool {
        if self.crystallises {
            return false;
        }
        self.reactant(index)
            .is_some_and(|one| one.is_dissolved && one.highest_concentration().is_some())
    }

    /// True if the reactant can be weighed.
    pub(super) fn is_weighed(&self, index: usize) -> bool {
        self.reactant(index)
            .is_some_and(ReactionSpecies::is_weighed)
    }
}

/// The reactions of the pool, read once.
fn reactions() -> &'static [PoolReaction] {
    static ALL: OnceBox<Vec<PoolReaction>> = OnceBox::new();
    ALL.get_or_init(|| {
        let rows = REACTIONS.iter().filter_map(|row| {
            let reaction = Reaction::read(row)?;
            let mut products = reaction.species.iter().skip(reaction.reactants);
            let product = products.position(|one| one.text == row.product)?;
            Some(PoolReaction {
                product: reaction.reactants + product,
                reaction,
                gives_a_yield: row.gives_a_yield(),
                crystallises: row.collected == Collected::Crystallised,
            })
        });
        Box::new(rows.collect())
    })
}

/// One of the reactions that suit and that the choices leave. `nothing` names them.
pub(super) fn reaction(
    draw: &mut Draw<'_>,
    nothing: &str,
    suits: impl Fn(&&'static PoolReaction) -> bool,
) -> Result<&'static PoolReaction, Refusal> {
    draw.row(nothing, reactions().iter().filter(suits), |row| {
        let species = row.reaction.species.iter();
        species.map(|one| one.formula.clone()).collect()
    })
}
