//! A compound with what an analysis finds.

use alloc::string::String;
use alloc::vec::Vec;

use super::counts::text;
use crate::element::{AtomicWeights, Element};
use crate::exercise::draft::Refusal;
use crate::exercise::draw::{Draw, shown, written};
use crate::exercise::field::Field;
use crate::exercise::pool::CompoundRow;
use crate::exercise::request::{Operation, Request};
use crate::formula::{Analysis, Empirical, Formula};
use crate::number::{Ratio, Reading};

/// The greatest mass of a sample in grams, and of one that is burned (common practice, no source).
const MOST_GRAMS: i64 = 25;
const MOST_GRAMS_BURNED: i64 = 5;
const TOO_COARSE: Refusal = Refusal::Again("the balance is too coarse for the sample");

/// What an analysis finds.
pub(super) enum AnalysisData {
    /// The mass of each part.
    Masses(Vec<Reading>),
    /// The percentage of each part.
    Percent(Vec<Reading>),
    /// The mass of the sample, and those of carbon dioxide and of water.
    Combustion([Reading; 3]),
}

/// A compound of the pool with what an analysis finds.
pub(super) struct CompoundSample<'d> {
    pub(super) row: &'d CompoundRow,
    pub(super) found: AnalysisData,
    /// The molar mass, if it is given.
    pub(super) molar_mass: Option<Reading>,
}

/// How the compound is analysed.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum AnalysisMethod {
    Masses,
    Percent,
    Combustion,
}

/// The molar mass of so many units of a part.
fn mass_of(part: &str, count: i64, weights: &AtomicWeights) -> Result<Ratio, Refusal> {
    let part: Formula = part.parse().map_err(Refusal::refused)?;
    let molar = part.molar_mass(weights).map_err(Refusal::refused)?;
    Ok(Ratio::from(count) * molar.exact())
}

impl<'d> CompoundSample<'d> {
    pub(super) fn new(
        row: &'d CompoundRow,
        method: AnalysisMethod,
        with_molar_mass: bool,
        draw: &mut Draw<'_>,
    ) -> Result<CompoundSample<'d>, Refusal> {
        let weights = draw.weights();
        let parts = row.parts.iter();
        let masses = parts.map(|(part, count)| mass_of(part, i64::from(*count), weights));
        let masses = masses.collect::<Result<Vec<Ratio>, Refusal>>()?;
        let whole: Ratio = masses.iter().cloned().sum();
        let share = |mass: &Ratio| {
            let share = mass.checked_div(&whole);
            share.ok_or(Refusal::Again("the compound has no mass"))
        };
        let shares = masses
            .iter()
            .map(share)
            .collect::<Result<Vec<Ratio>, Refusal>>()?;
        let found = match method {
            AnalysisMethod::Masses => AnalysisData::Masses(weighed(&shares, draw)?),
            AnalysisMethod::Percent => AnalysisData::Percent(percentages(&shares, draw)?),
            AnalysisMethod::Combustion => AnalysisData::Combustion(burned(row, &whole, draw)?),
        };
        let units = i64::from(row.multiple.unwrap_or(1));
        let molar_mass = written(&(whole * Ratio::from(units)), 1)?;
        Ok(CompoundSample {
            row,
            found,
            molar_mass: with_molar_mass.then_some(molar_mass),
        })
    }

    /// The parts of the formula, in order.
    pub(super) fn parts(&self) -> Vec<&'static str> {
        self.row.parts.iter().map(|(part, _)| *part).collect()
    }

    /// Their numbers in so many empirical formulas.
    pub(super) fn counts(&self, units: i64) -> Vec<i64> {
        let counts = self.row.parts.iter();
        counts.map(|(_, count)| units * i64::from(*count)).collect()
    }

    /// The number of empirical formulas in a molecule.
    pub(super) fn units(&self) -> i64 {
        i64::from(self.row.multiple.unwrap_or(1))
    }

    pub(super) fn is_hydrate(&self) -> bool {
        self.row.parts.iter().any(|(part, _)| *part == "H2O")
    }

    pub(super) fn has_oxygen(&self) -> bool {
        self.row.parts.iter().any(|(part, _)| *part == "O")
    }

    /// Works the analysis out with the library. Another formula than that of the compound is a refusal.
    /// The molar mass counts if `molecular` says so.
    pub(super) fn solved(
        &self,
        molecular: bool,
        weights: &AtomicWeights,
    ) -> Result<Empirical, Refusal> {
        let mut analysis = Analysis::new().weights(weights.clone());
        let parse = |text: &str| text.parse::<Formula>().map_err(Refusal::refused);
        match &self.found {
            AnalysisData::Masses(masses) => {
                for (part, mass) in self.parts().into_iter().zip(masses) {
                    analysis = analysis.mass(parse(part)?, *mass);
                }
            }
            AnalysisData::Percent(percent) => {
                for (part, percent) in self.parts().into_iter().zip(percent) {
                    analysis = analysis.percent(parse(part)?, *percent);
                }
            }
            AnalysisData::Combustion([sample, carbon_dioxide, water]) => {
                analysis = analysis
                    .sample(*sample)
                    .product(parse("CO2")?, *carbon_dioxide)
                    .product(parse("H2O")?, *water);
                if self.has_oxygen() {
                    analysis = analysis.by_difference(parse("O")?);
                }
            }
        }
        if let Some(molar_mass) = self.molar_mass.filter(|_| molecular) {
            analysis = analysis.molar_mass(molar_mass);
        }
        let solved = analysis.empirical().map_err(Refusal::refused)?;
        let expected = text(&self.parts(), &self.counts(1));
        let is_found = solved
            .formula()
            .is_some_and(|found| alloc::format!("{found}") == expected);
        match is_found {
            true => Ok(solved),
            false => Err(Refusal::Again(
                "the analysis does not give the formula of the compound",
            )),
        }
    }

    pub(super) fn request(&self, weights: &AtomicWeights) -> Request {
        let request = Request::new(Operation::Empirical, weights);
        let request = match &self.found {
            AnalysisData::Masses(masses) => request.with(
                "masses",
                Field::object(self.parts().into_iter().zip(masses)),
            ),
            AnalysisData::Percent(percent) => request.with(
                "percent",
                Field::object(self.parts().into_iter().zip(percent)),
            ),
            AnalysisData::Combustion([sample, carbon_dioxide, water]) => {
                let mut members: Vec<(&str, Field)> = Vec::from([
                    ("sample", sample.into()),
                    ("CO2", carbon_dioxide.into()),
                    ("H2O", water.into()),
                ]);
                if self.has_oxygen() {
                    members.push(("by_difference", "O".into()));
                }
                request.with("combustion", Field::object(members))
            }
        };
        match &self.molar_mass {
            Some(molar_mass) => request.with("molar_mass", molar_mass),
            None => request,
        }
    }

    /// The mass of each part, or its percentage. The oxygen of a combustion is the rest.
    pub(super) fn masses(&self, weights: &AtomicWeights) -> Option<Vec<Ratio>> {
        let readings = match &self.found {
            AnalysisData::Masses(readings) | AnalysisData::Percent(readings) => readings,
            AnalysisData::Combustion([sample, carbon_dioxide, water]) => {
                let molar = |text: &str| mass_of(text, 1, weights).ok();
                let carbon = (carbon_dioxide.value() * molar("C")?).checked_div(&molar("CO2")?)?;
                let hydrogen = water.value() * Ratio::from(2) * molar("H")?;
                let hydrogen = hydrogen.checked_div(&molar("H2O")?)?;
                let rest = sample.value() - &carbon - &hydrogen;
                let mut masses = Vec::from([carbon, hydrogen]);
                if self.has_oxygen() {
                    masses.push(rest);
                }
                return Some(masses);
            }
        };
        Some(readings.iter().map(Reading::value).collect())
    }

    /// Each mass, divided by a number for its part.
    pub(super) fn divided(
        &self,
        weights: &AtomicWeights,
        by: impl Fn(&str) -> Option<Ratio>,
    ) -> Option<Vec<Ratio>> {
        let masses = self.masses(weights)?;
        let pairs = masses.iter().zip(self.parts());
        pairs
            .map(|(mass, part)| mass.checked_div(&by(part)?))
            .collect()
    }

    /// The name of a part, as it follows a mass.
    pub(super) fn part_name(part: &str) -> String {
        let element = part.parse::<Element>().ok();
        let formula = || part.parse::<Formula>().ok();
        let name = match part {
            "H2O" => Some("water".into()),
            _ => element
                .map(|element| String::from(element.name()))
                .or_else(|| Some(formula()?.name().ok()?.name().into())),
        };
        match (name, element) {
            (Some(name), Some(_)) => name,
            (Some(name), None) => alloc::format!("{name} ({part})"),
            (None, _) => part.into(),
        }
    }
}

/// The masses of the parts of a sample, as the balance shows them.
fn weighed(shares: &[Ratio], draw: &mut Draw<'_>) -> Result<Vec<Reading>, Refusal> {
    let readability = draw.readability_or("0.001");
    let step = readability.value();
    let least = (&step * Ratio::from(150)).max(Ratio::ONE);
    let greatest = (&step * Ratio::from(600)).max(Ratio::from(5));
    let greatest = greatest.min(Ratio::from(MOST_GRAMS));
    if greatest < least {
        return Err(TOO_COARSE);
    }
    let sample = draw.mass(&least, &greatest, &readability)?.value();
    let masses = shares
        .iter()
        .map(|share| shown(&(share * &sample), &readability));
    masses.collect()
}

/// Percentages with two decimal places, as an analysis finds them: hundredths off. Together they are at most 100 %
/// and at least 99.98 %.
fn percentages(shares: &[Ratio], draw: &mut Draw<'_>) -> Result<Vec<Reading>, Refusal> {
    let mut found = Vec::new();
    let mut rest = Ratio::from(100);
    let hundredths = |hundredths: i64| Ratio::from(hundredths) * Ratio::power_of_ten(-2);
    let last = shares.len().saturating_sub(1);
    for share in shares.iter().take(last) {
        let off = hundredths(draw.sampler.between(-5, 5));
        let percent = written(&(100 * share + off), 2)?;
        rest -= percent.value();
        found.push(percent);
    }
    let missing = hundredths(draw.sampler.between(0, 2));
    found.push(written(&(rest - missing), 2)?);
    Ok(found)
}

/// The masses of a sample and of the carbon dioxide and the water that it gives.
fn burned(row: &CompoundRow, whole: &Ratio, draw: &mut Draw<'_>) -> Result<[Reading; 3], Refusal> {
    let readability = draw.readability_or("0.0001");
    let step = readability.value();
    let least = (&step * Ratio::from(150)).max(Ratio::power_of_ten(-1));
    let greatest = (&step * Ratio::from(600)).max(Ratio::power_of_ten(-1) * Ratio::from(9));
    let greatest = greatest.min(Ratio::from(MOST_GRAMS_BURNED));
    if greatest < least {
        return Err(TOO_COARSE);
    }
    let sample = draw.mass(&least, &greatest, &readability)?;
    let weights = draw.weights();
    let product = |element: &str, product: &str, per_product: i64| {
        let count = row.parts.iter().find(|(part, _)| *part == element);
        let count = count.map_or(0, |(_, count)| i64::from(*count));
        let mass = sample.value() * mass_of(product, count, weights)?;
        let mass = mass.checked_div(&(whole * Ratio::from(per_product)));
        shown(
            &mass.ok_or(Refusal::Again("the compound has no mass"))?,
            &readability,
        )
    };
    Ok([sample, product("C", "CO2", 1)?, product("H", "H2O", 2)?])
}
