//! The given amounts, and the calculation from them to the amounts of all species.

use alloc::format;
use alloc::vec::Vec;

use super::reacted::{Extent, Reacted, SpeciesAmount};
use super::supply::Supply;
use super::yields::PercentYield;
use crate::element::AtomicWeights;
use crate::formula::{Formula, MolarInputs};
use crate::number::{Inputs, Ratio, Reading, Traced};
use crate::reaction::equation::{Side, is_named};
use crate::reaction::error::Error;
use crate::reaction::stoichiometry::{ReactionTerm, Stoichiometry};
use crate::text::list;

/// The given amounts of a reaction's species, from which [`react`](Amounts::react) calculates all
/// others.
///
/// Reactants that are not given are in excess. One species is enough, on either side: from a product
/// follows what was used up for it.
///
/// ```
/// use effloresce::reaction::{Amounts, Equation, Supply};
/// let burning: Equation = "4Al + 3O2 -> 2Al2O3".parse()?;
/// let reacted = Amounts::new()
///     .with("Al".parse()?, Supply::mass("10.0".parse()?))
///     .with("O2".parse()?, Supply::mass("10.0".parse()?))
///     .actual("Al2O3".parse()?, "15.0".parse()?)
///     .react(&burning.stoichiometry()?)?;
/// assert_eq!(reacted.limiting().next().unwrap().formula().to_string(), "Al");
/// let oxide = &reacted.species()[2];
/// assert_eq!(oxide.measured_mass_change().written(Default::default()).to_string(), "18.9");
/// let percent = reacted.percent_yield().unwrap();
/// assert_eq!(percent.measured().written(Default::default()).to_string(), "79.4");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
#[must_use = "amounts do nothing until `react`"]
pub struct Amounts {
    given: Vec<(Formula, Supply)>,
    actual: Option<(Formula, Reading)>,
    weights: AtomicWeights,
}

/// A species with its molar mass and its given amount.
struct SpeciesInput<'a> {
    term: &'a ReactionTerm,
    molar: Traced,
    initial: Option<(Supply, Traced)>,
}

impl Amounts {
    /// Returns amounts with nothing given.
    pub fn new() -> Self {
        Amounts::default()
    }

    /// Gives the amount of a species.
    ///
    /// A formula without a state names the species in any state. If a species is on both sides, the
    /// amount is that of the reactant.
    pub fn with(mut self, species: Formula, supply: Supply) -> Self {
        self.given.push((species, supply));
        self
    }

    /// Gives the mass of a product that was obtained, in grams, for the percent yield.
    #[doc(alias = "experimental yield")]
    pub fn actual(self, product: Formula, grams: Reading) -> Self {
        Amounts {
            actual: Some((product, grams)),
            ..self
        }
    }

    /// Uses this table of atomic weights instead of the default one.
    pub fn weights(self, weights: AtomicWeights) -> Self {
        Amounts { weights, ..self }
    }

    /// Calculates the amounts of all species, exactly.
    ///
    /// The extent of reaction is the least *n*/*ν* among the given reactants, in moles of the reaction
    /// with its coefficients. Every reactant that has this least value is limiting. If a product is
    /// given instead, the extent is the one that forms its amount.
    ///
    /// The warnings are the reaction's notes ([`Stoichiometry::notes`]), `suspect_purity` for a purity that
    /// may be a fraction ([`Supply::pure`]), and those of the percent yield ([`PercentYield`]).
    ///
    /// # Errors
    /// - `bad_request` if nothing is given; if a species is not in the equation, appears twice on its
    ///   side or is given twice; if several products, or a product and a reactant, are given; if the
    ///   obtained product is not a product of the equation.
    /// - `impossible_masses` if an amount is not positive.
    /// - `out_of_range` for a purity above 100 %.
    /// - `no_standard_weight` if a species has no molar mass.
    pub fn react(&self, reaction: &Stoichiometry) -> Result<Reacted, Error> {
        let mut inputs = Inputs::default();
        let mut table = MolarInputs::new(&self.weights);
        let mut rows = Vec::new();
        for term in &reaction.terms {
            let molar = table.molar(&term.formula, &mut inputs);
            rows.push(SpeciesInput {
                molar: molar.map_err(|error| term.error(&error))?,
                initial: None,
                term,
            });
        }
        self.fill(&mut rows, &mut inputs)?;
        let extents = self.extents(&rows)?;
        let smallest = extents.iter().map(|(_, extent)| extent);
        let smallest = smallest.min_by(|one, other| one.value().cmp(other.value()));
        let extent = smallest.ok_or_else(nothing_given)?;
        let limits = |index: usize, row: &SpeciesInput<'_>| {
            let mut extents = extents.iter();
            row.term.side == Side::Reactants
                && extents.any(|(of, value)| *of == index && value.value() == extent.value())
        };
        let species: Vec<SpeciesAmount> = rows
            .iter()
            .enumerate()
            .map(|(index, row)| row.after(extent, limits(index, row), &inputs))
            .collect();
        let percent_yield = self.percent_yield(&species, &mut inputs)?;
        let mut warnings = reaction.notes().to_vec();
        let given = self.given.iter();
        warnings.extend(given.filter_map(|(species, supply)| supply.doubt(species)));
        let of_yield = percent_yield.iter().flat_map(PercentYield::warnings);
        warnings.extend(of_yield.cloned());
        Ok(Reacted {
            warnings,
            extent: Extent::new(extent.clone(), &inputs),
            species,
            percent_yield,
            balanced_equation: reaction
                .balanced_first
                .as_ref()
                .map(|(text, _)| text.clone()),
            edition: self.weights.edition(),
        })
    }

    /// Enters each given amount in the row of its species.
    fn fill(&self, rows: &mut [SpeciesInput<'_>], inputs: &mut Inputs) -> Result<(), Error> {
        for (formula, supply) in &self.given {
            let index = index_of(rows, formula, Side::Reactants)?;
            let Some(row) = rows.get_mut(index) else {
                return Err(nothing_given());
            };
            if row.initial.is_some() {
                return Err(Error::request(
                    format!("`{formula}` is given twice"),
                    "give one amount for each species",
                ));
            }
            let moles = supply.moles_of(&row.term.formula, &row.molar, inputs)?;
            row.initial = Some((*supply, moles));
        }
        Ok(())
    }

    /// Returns the extent that each given amount allows.
    fn extents(&self, rows: &[SpeciesInput<'_>]) -> Result<Vec<(usize, Traced)>, Error> {
        let given = rows.iter().filter(|row| row.initial.is_some());
        let (products, reactants): (Vec<_>, Vec<_>) =
            given.partition(|row| row.term.side == Side::Products);
        if let [one, other, ..] = products.as_slice() {
            return Err(Error::request(
                format!(
                    "amounts of two products are given, {} and {}",
                    one.term.formula, other.term.formula
                ),
                "give one product, or the reactants",
            ));
        }
        if let ([product, ..], [reactant, ..]) = (products.as_slice(), reactants.as_slice()) {
            return Err(Error::request(
                format!(
                    "amounts of both a product, {}, and a reactant, {}, are given",
                    product.term.formula, reactant.term.formula
                ),
                "give only reactants or only the product; give a mass obtained as the actual mass",
            ));
        }
        let mut extents = Vec::new();
        for (index, row) in rows.iter().enumerate() {
            if let Some((_, moles)) = &row.initial {
                let coefficient = Traced::exact(row.term.coefficient.clone());
                extents.push((index, moles.over(&coefficient).ok_or_else(nothing_given)?));
            }
        }
        Ok(extents)
    }

    fn percent_yield(
        &self,
        species: &[SpeciesAmount],
        inputs: &mut Inputs,
    ) -> Result<Option<PercentYield>, Error> {
        let Some((formula, grams)) = &self.actual else {
            return Ok(None);
        };
        let products = species.iter().filter(|s| s.side == Side::Products);
        let mut named = products.filter(|s| is_named(&s.formula, formula));
        let (Some(product), None) = (named.next(), named.next()) else {
            return Err(Error::request(
                format!("`{formula}` is not a product of the equation, or appears there twice"),
                "give the mass of a product as it is written in the equation",
            ));
        };
        PercentYield::of(grams, &product.mass_change, inputs).map(Some)
    }
}

impl SpeciesInput<'_> {
    fn after(&self, extent: &Traced, limiting: bool, inputs: &Inputs) -> SpeciesAmount {
        let turned = extent.times_exact(&self.term.coefficient);
        let reactant = self.term.side == Side::Reactants;
        let change = if reactant {
            turned.times_exact(&Ratio::from(-1))
        } else {
            turned
        };
        let (given, initial) = match &self.initial {
            Some((supply, moles)) if reactant => (Some(*supply), Some(moles.clone())),
            Some((supply, _)) => (Some(*supply), Some(Traced::exact(Ratio::ZERO))),
            None if reactant => (None, None),
            None => (None, Some(Traced::exact(Ratio::ZERO))),
        };
        let last = initial.as_ref().map(|initial| initial.plus(&change));
        let mass = |moles: &Traced| moles.times(&self.molar);
        SpeciesAmount {
            formula: self.term.formula.clone(),
            coefficient: self.term.coefficient.clone(),
            side: self.term.side,
            given,
            limiting,
            molar: self.molar.clone(),
            mass_initial: initial.as_ref().map(mass),
            mass_final: last.as_ref().map(mass),
            budget: inputs.budget(&mass(&change)),
            mass_change: mass(&change),
            initial,
            last,
            change,
        }
    }
}

/// Returns the index of the species that a formula names, on the preferred side if it is there.
fn index_of(rows: &[SpeciesInput<'_>], formula: &Formula, first: Side) -> Result<usize, Error> {
    let named = |side: Option<Side>| {
        let rows = rows.iter().enumerate().filter(move |(_, row)| {
            is_named(&row.term.formula, formula) && side.is_none_or(|side| row.term.side == side)
        });
        rows.map(|(index, _)| index).collect::<Vec<_>>()
    };
    let preferred = named(Some(first));
    let indices = if preferred.is_empty() {
        named(None)
    } else {
        preferred
    };
    match indices[..] {
        [index] => Ok(index),
        [] => {
            let all = rows.iter().map(|row| format!("{}", row.term.formula));
            Err(Error::request(
                format!("`{formula}` is not a species of the equation"),
                format!("the species are {}", list(all)),
            ))
        }
        [..] => Err(Error::request(
            format!("`{formula}` appears twice on one side of the equation"),
            "write it once, with the sum of the coefficients",
        )),
    }
}

fn nothing_given() -> Error {
    Error::request(
        "no amount is given",
        "give the amount of a species of the equation",
    )
}
