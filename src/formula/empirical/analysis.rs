//! The values of an analysis, and whether they belong together.

use alloc::format;
use alloc::vec::Vec;

use super::entity::{Entity, bad_analysis};
use crate::element::AtomicWeights;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::repr::Formula;
use crate::number::Reading;

/// The values that an analysis of a sample gives: masses or percentages of its parts, or masses of
/// the products of burning it.
///
/// [`empirical`](Analysis::empirical) finds the simplest formula for them. The parts are elements or
/// whole species: the elements of a sugar, or the salt and the water of a hydrate.
///
/// ```
/// use effloresce::formula::Analysis;
/// let sugar = Analysis::new()
///     .percent("C".parse()?, "40.00".parse()?)
///     .percent("H".parse()?, "6.71".parse()?)
///     .percent("O".parse()?, "53.29".parse()?)
///     .molar_mass("180.16".parse()?)
///     .empirical()?;
/// assert_eq!(sugar.formula().unwrap().to_string(), "CH2O");
/// assert_eq!(sugar.molecular_formula().unwrap().to_string(), "C6H12O6");
///
/// let hydrate = Analysis::new()
///     .mass("CuSO4".parse()?, "3.20".parse()?)
///     .mass("H2O".parse()?, "1.80".parse()?)
///     .empirical()?;
/// assert_eq!(hydrate.formula().unwrap().to_string(), "CuSO4·5H2O");
///
/// let burnt = Analysis::new()
///     .sample("0.2000".parse()?)
///     .product("CO2".parse()?, "0.2932".parse()?)
///     .product("H2O".parse()?, "0.1200".parse()?)
///     .by_difference("O".parse()?)
///     .empirical()?;
/// assert_eq!(burnt.formula().unwrap().to_string(), "CH2O");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[must_use = "an analysis does nothing until `empirical`"]
pub struct Analysis {
    pub(super) sample: Option<Reading>,
    pub(super) values: Vec<PartValue>,
    pub(super) by_difference: Option<Formula>,
    pub(super) molar_mass: Option<Reading>,
    pub(super) weights: AtomicWeights,
    pub(super) coverage: f64,
}

/// One value of an analysis.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PartValue {
    pub(super) formula: Formula,
    pub(super) kind: ValueKind,
    pub(super) reading: Reading,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum ValueKind {
    Mass,
    Percent,
    Amount,
    /// The mass of a product of combustion.
    Product,
}

impl Default for Analysis {
    fn default() -> Self {
        Analysis::new()
    }
}

impl Analysis {
    /// The largest number of values in an analysis, the part by difference included.
    pub const MOST_PARTS: usize = 50;

    /// Creates an analysis without values.
    pub fn new() -> Self {
        Analysis {
            sample: None,
            values: Vec::new(),
            by_difference: None,
            molar_mass: None,
            weights: AtomicWeights::default(),
            coverage: 2.0,
        }
    }

    /// Sets the mass of the sample, in grams. The parts must make it up.
    pub fn sample(self, mass: Reading) -> Self {
        Analysis {
            sample: Some(mass),
            ..self
        }
    }

    /// Adds the mass of a part, in grams: of an element (`O` and `O2` are the same) or of a species
    /// such as `H2O`.
    pub fn mass(self, part: Formula, grams: Reading) -> Self {
        self.with(part, ValueKind::Mass, grams)
    }

    /// Adds the mass fraction of a part, in per cent of the sample.
    pub fn percent(self, part: Formula, percent: Reading) -> Self {
        self.with(part, ValueKind::Percent, percent)
    }

    /// Adds the amount of a part, in moles, as a titration of the whole sample gives it.
    pub fn amount(self, part: Formula, moles: Reading) -> Self {
        self.with(part, ValueKind::Amount, moles)
    }

    /// Adds the mass of a product of burning the whole sample, in grams: an oxide such as `CO2`,
    /// `H2O` or `SO2`, or an element such as `N2`. All of its one element other than oxygen must
    /// come from the sample.
    #[doc(alias = "combustion analysis")]
    pub fn product(self, product: Formula, grams: Reading) -> Self {
        self.with(product, ValueKind::Product, grams)
    }

    /// Sets the part that makes up the rest of the sample, or of 100 % if all values are percentages.
    pub fn by_difference(self, part: Formula) -> Self {
        Analysis {
            by_difference: Some(part),
            ..self
        }
    }

    /// Sets the molar mass of the substance, in grams per mole. It gives the molecular formula.
    pub fn molar_mass(self, molar_mass: Reading) -> Self {
        Analysis {
            molar_mass: Some(molar_mass),
            ..self
        }
    }

    /// Sets the table of atomic weights. Without it the default table is used.
    pub fn weights(self, weights: AtomicWeights) -> Self {
        Analysis { weights, ..self }
    }

    /// Sets the number of standard uncertainties by which a count may differ from a whole number.
    /// Without it the number is two.
    ///
    /// # Errors
    /// `out_of_range` if the factor is not a positive number.
    pub fn coverage(self, factor: f64) -> Result<Self, Error> {
        if !(factor > 0.0 && factor.is_finite()) {
            return Err(Error::nowhere(
                ErrorKind::OutOfRange,
                format!("{factor} is not a coverage factor"),
                "give a positive number, such as 2",
            ));
        }
        Ok(Analysis {
            coverage: factor,
            ..self
        })
    }

    fn with(mut self, formula: Formula, kind: ValueKind, reading: Reading) -> Self {
        // One too many is refused, so no more are kept.
        if self.values.len() <= Analysis::MOST_PARTS {
            self.values.push(PartValue {
                formula,
                kind,
                reading,
            });
        }
        self
    }

    /// What each value is of, with the part by difference last.
    pub(super) fn entities(&self) -> Result<Vec<Entity>, Error> {
        let parts = self.values.len() + usize::from(self.by_difference.is_some());
        if parts > Analysis::MOST_PARTS {
            return Err(bad_analysis(
                format!("more than {} parts are given", Analysis::MOST_PARTS),
                "give each element or species once",
            ));
        }
        let mut entities = Vec::new();
        for value in &self.values {
            let (formula, reading) = (&value.formula, &value.reading);
            let entity = match value.kind {
                ValueKind::Product => Entity::burnt_to(formula)?,
                _ => Entity::new(formula)?,
            };
            if !reading.value().is_positive() {
                return Err(Error::nowhere(
                    ErrorKind::ImpossibleMasses,
                    format!("{formula} is given as {reading}"),
                    "give a positive number, and leave out parts that the sample does not have",
                ));
            }
            entities.push(entity);
        }
        if let Some(rest) = &self.by_difference {
            entities.push(Entity::new(rest)?);
        }
        self.check_entities(&entities)?;
        self.check_values()?;
        Ok(entities)
    }

    fn check_entities(&self, entities: &[Entity]) -> Result<(), Error> {
        let kind = |index: usize| self.values.get(index).map(|value| value.kind);
        let is_product = |index: usize| kind(index) == Some(ValueKind::Product);
        for (index, entity) in entities.iter().enumerate() {
            let before = entities.iter().take(index).enumerate();
            let mut equal = before.filter(|(_, other)| *other == entity);
            // Carbon may burn to two oxides, but then no other value of it may be given.
            if equal.any(|(other, _)| !(is_product(index) && is_product(other))) {
                let message = format!("`{}` is given twice", entity.formula());
                return Err(bad_analysis(message, "give each part once"));
            }
        }
        if entities
            .iter()
            .all(|entity| Some(entity) == entities.first())
        {
            return Err(bad_analysis(
                "fewer than two parts are given".into(),
                "give the mass or the percentage of each element, or of the salt and the water",
            ));
        }
        Ok(())
    }

    fn check_values(&self) -> Result<(), Error> {
        let kinds = self.values.iter().map(|value| value.kind);
        let percents = kinds.filter(|kind| *kind == ValueKind::Percent).count();
        let no_sample =
            |message: &str| Err(bad_analysis(message.into(), "give the mass of the sample"));
        if self.sample.is_none() && percents > 0 && percents < self.values.len() {
            return no_sample("masses and percentages are given without the mass of the sample");
        }
        if let Some(mass) = self.molar_mass.filter(|mass| !mass.value().is_positive()) {
            return Err(Error::nowhere(
                ErrorKind::OutOfRange,
                format!("{mass} g/mol is not a molar mass"),
                "give a positive number",
            ));
        }
        if self.sample.is_none() && percents == 0 && self.by_difference.is_some() {
            return no_sample(
                "a part is to be found by difference, but the mass of the sample is not given",
            );
        }
        Ok(())
    }
}
