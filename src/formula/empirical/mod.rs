//! Empirical and molecular formulas: from an analysis of a sample to the whole numbers in a formula.

mod assemble;
mod constituent;
mod found;
mod multiplier;
mod part;
#[cfg(test)]
mod tests;
#[cfg(feature = "serde")]
mod wire;

use alloc::format;
use alloc::vec::Vec;

use super::{Error, ErrorKind, Formula};
use crate::element::AtomicWeights;
use crate::number::Reading;
use crate::text::Detail;

pub use constituent::Constituent;
pub(crate) use constituent::{Origin, Product};
pub use found::Empirical;
pub use multiplier::{Fit, Trial};
use part::Part;

/// More parts than any analysis finds.
const MOST_PARTS: usize = 50;

/// What an analysis of a sample found: masses or percentages of its parts, or the products of
/// burning it, from which [`empirical`](Analysis::empirical) finds the simplest formula.
///
/// The parts are elements or whole species: the elements of a sugar, or the salt and the water of a
/// hydrate.
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
    sample: Option<Reading>,
    given: Vec<(Formula, Given)>,
    by_difference: Option<Formula>,
    molar_mass: Option<Reading>,
    weights: AtomicWeights,
    coverage: f64,
}

/// One figure of an analysis.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Given {
    Mass(Reading),
    Percent(Reading),
    Amount(Reading),
    /// Of what the sample burns to.
    Product(Reading),
}

impl Given {
    fn reading(&self) -> &Reading {
        match self {
            Given::Mass(reading)
            | Given::Percent(reading)
            | Given::Amount(reading)
            | Given::Product(reading) => reading,
        }
    }
}

impl Default for Analysis {
    fn default() -> Self {
        Analysis::new()
    }
}

impl Analysis {
    /// An analysis that found nothing yet.
    pub fn new() -> Self {
        Analysis {
            sample: None,
            given: Vec::new(),
            by_difference: None,
            molar_mass: None,
            weights: AtomicWeights::default(),
            coverage: 2.0,
        }
    }

    /// The mass of the sample, in grams, which its parts must make up.
    pub fn sample(self, mass: Reading) -> Self {
        Analysis {
            sample: Some(mass),
            ..self
        }
    }

    /// The mass of a part, in grams: of an element (`O` and `O2` are one) or of a species such as
    /// `H2O`.
    pub fn mass(self, part: Formula, grams: Reading) -> Self {
        self.with(part, Given::Mass(grams))
    }

    /// The mass fraction of a part, in per cent of the sample.
    pub fn percent(self, part: Formula, percent: Reading) -> Self {
        self.with(part, Given::Percent(percent))
    }

    /// The amount of a part, in moles, as a titration of the whole sample gives it.
    pub fn amount(self, part: Formula, moles: Reading) -> Self {
        self.with(part, Given::Amount(moles))
    }

    /// The mass of a product of burning the whole sample, in grams: an oxide such as `CO2`, `H2O` or
    /// `SO2`, or an element such as `N2`. It stands for its one element other than oxygen, all of
    /// which came from the sample.
    #[doc(alias = "combustion analysis")]
    pub fn product(self, product: Formula, grams: Reading) -> Self {
        self.with(product, Given::Product(grams))
    }

    /// The part that makes up the rest of the sample, or of 100 % where percentages alone are given.
    pub fn by_difference(self, part: Formula) -> Self {
        Analysis {
            by_difference: Some(part),
            ..self
        }
    }

    /// The molar mass of the substance, in grams a mole, which leads on to the molecular formula.
    pub fn molar_mass(self, molar_mass: Reading) -> Self {
        Analysis {
            molar_mass: Some(molar_mass),
            ..self
        }
    }

    /// The table of atomic weights; the default one where nothing is said.
    pub fn weights(self, weights: AtomicWeights) -> Self {
        Analysis { weights, ..self }
    }

    /// By how many standard uncertainties a count may miss a whole number; two where nothing is
    /// said.
    ///
    /// # Errors
    /// `out_of_range` where the factor is no number above nought.
    pub fn coverage(self, factor: f64) -> Result<Self, Error> {
        if !(factor > 0.0 && factor.is_finite()) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                Detail::new(format!("{factor} is no coverage factor"))
                    .help("give a number above 0, such as 2"),
            ));
        }
        Ok(Analysis {
            coverage: factor,
            ..self
        })
    }

    fn with(mut self, part: Formula, given: Given) -> Self {
        self.given.push((part, given));
        self
    }

    /// The simplest formula that the analysis speaks for.
    ///
    /// The amounts of the parts, *n* = *m*/*M*, are divided by the smallest and multiplied by 1, 2,
    /// 3 …; [`Empirical::trials`] shows each multiplier with how far it is from whole numbers. Chosen
    /// is the smallest multiplier, up to 12, at which every count is a whole number within the
    /// coverage factor times its own standard uncertainty ([`Fit::Figures`]), as long as counts at
    /// random would not have come so near by then ([`Trial::chance`]). Where there is none, the
    /// school's rule decides ([`Fit::School`]): the smallest multiplier, up to 6, at which every
    /// count is within 0.1 of a whole number, or within 1 % of it where that is more (common
    /// practice, no source). Where neither finds one, there is no formula, and a warning says which
    /// multiplier comes nearest.
    ///
    /// The warnings are `ambiguous_multiplier` (the readings' own uncertainty allows other counts,
    /// which are named), `beyond_figures` (the counts miss whole numbers by more than the readings'
    /// own uncertainty, twice over), `no_whole_numbers`, `sum_not_whole` (the parts do not make up the sample, or
    /// the percentages 100), `nothing_left` (no mass is left for the part by difference, which is
    /// left out) and `molar_mass_no_multiple`.
    ///
    /// # Errors
    /// `bad_request` where fewer than two parts are given, a part is given twice, is charged or a
    /// formula with a dot, where a product of burning has not exactly one element beside oxygen, or
    /// where percentages or a difference stand without the sample that they belong to;
    /// `impossible_masses` where a figure is not above nought, or the parts differ from the sample by
    /// more than 5 %; `out_of_range` where the molar mass is not above nought; and where a part has no molar mass.
    #[doc(alias = "simplest formula")]
    pub fn empirical(&self) -> Result<Empirical, Error> {
        let mut warnings = Vec::new();
        let found = self.amounts(self.parts()?, &mut warnings)?;
        self.conclude(found, warnings)
    }

    /// What each figure is of, with the part by difference last.
    fn parts(&self) -> Result<Vec<Part>, Error> {
        let mut parts = Vec::new();
        for (formula, given) in &self.given {
            let part = match given {
                Given::Product(_) => Part::burnt_to(formula)?,
                Given::Mass(_) | Given::Percent(_) | Given::Amount(_) => Part::new(formula)?,
            };
            let reading = given.reading();
            if !reading.value().is_positive() {
                return Err(Error::new(
                    ErrorKind::ImpossibleMasses,
                    Detail::new(format!("{formula} is given as {reading}"))
                        .help("give a number above 0, and leave out what is not there"),
                ));
            }
            parts.push(part);
        }
        if let Some(rest) = &self.by_difference {
            parts.push(Part::new(rest)?);
        }
        self.sensible(&parts)?;
        Ok(parts)
    }

    fn sensible(&self, parts: &[Part]) -> Result<(), Error> {
        let bad = |message, help| Err(Error::nowhere(ErrorKind::BadAnalysis, message, help));
        let product = |place: usize| {
            let given = self.given.get(place);
            matches!(given, Some((_, Given::Product(_))))
        };
        for (place, part) in parts.iter().enumerate() {
            // Carbon may burn to two oxides, but is not given in any other way beside them.
            let before = parts.iter().take(place).enumerate();
            let mut twice = before.filter(|(_, other)| *other == part);
            if twice.any(|(other, _)| !(product(place) && product(other))) {
                return bad(
                    format!("{} is given twice", part.formula()),
                    "give each part once",
                );
            }
        }
        if parts.len() > MOST_PARTS {
            return bad(
                format!("more than {MOST_PARTS} parts are given"),
                "give each element or species once",
            );
        }
        let mut kinds = parts.iter().skip(1);
        if !kinds.any(|part| Some(part) != parts.first()) {
            return bad(
                "fewer than two parts are given".into(),
                "give the mass or the percentage of each element, or of the salt and the water",
            );
        }
        let percents = self.given.iter().map(|(_, given)| given);
        let percents = percents.filter(|given| matches!(given, Given::Percent(_)));
        let percents = percents.count();
        if self.sample.is_none() && percents > 0 && percents < self.given.len() {
            return bad(
                "masses and percentages are given without the mass of the sample".into(),
                "give the mass of the sample that the percentages are of",
            );
        }
        if let Some(mass) = self.molar_mass.filter(|mass| !mass.value().is_positive()) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                Detail::new(format!("{mass} g/mol is no molar mass")).help("give a number above 0"),
            ));
        }
        if self.sample.is_none() && percents == 0 && self.by_difference.is_some() {
            return bad(
                "a part is to be found by difference, but the mass of the sample is not given"
                    .into(),
                "give the mass of the sample",
            );
        }
        Ok(())
    }
}
