//! The wrong steps on the way to a formula.

use alloc::vec::Vec;

use super::counts::{rounded_at_once, text, whole};
use super::sample::{AnalysisData, CompoundSample};
use crate::element::{AtomicWeights, Element};
use crate::exercise::draft::WrongValue;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::mistake::Slip;
use crate::number::{Ratio, Reading, TieRule};

/// The wrong steps with their formulas, without those that happen to give the right one.
pub(super) fn wrong(
    sample: &CompoundSample<'_>,
    is_molecular: bool,
    weights: &AtomicWeights,
) -> Vec<(WrongStep, WrongValue)> {
    let units = match is_molecular {
        true => sample.units(),
        false => 1,
    };
    let right = sample.counts(units);
    let mut steps: Vec<(WrongStep, Option<Vec<i64>>)> = Vec::new();
    if sample.is_hydrate() {
        return of_hydrate(sample, weights);
    }
    if is_molecular {
        let mut first_only = sample.counts(1);
        if let Some(first) = first_only.first_mut() {
            *first *= units;
        }
        steps.push((WrongStep::EMPIRICAL_FORMULA, Some(sample.counts(1))));
        steps.push((WrongStep::MULTIPLE_ON_FIRST, Some(first_only)));
        steps.push((WrongStep::NEXT_MULTIPLE, Some(sample.counts(units + 1))));
        steps.push((WrongStep::NEXT_MULTIPLE, Some(sample.counts(units - 1))));
    }
    if !is_molecular && sample.molar_mass.is_some() {
        let molecular = sample.counts(sample.units());
        steps.push((WrongStep::MOLECULAR_FORMULA, Some(molecular)));
    }
    steps.extend(
        by_ratios(sample, weights)
            .into_iter()
            .map(|(step, counts)| {
                let counts =
                    counts.map(|counts| counts.into_iter().map(|count| units * count).collect());
                (step, counts)
            }),
    );
    let parts = sample.parts();
    let texts = steps.into_iter().filter_map(|(step, counts)| {
        let counts = counts.filter(|counts| *counts != right)?;
        Some((step, WrongValue::Text(text(&parts, &counts))))
    });
    texts.collect()
}

/// The wrong steps on the way to the empirical formula, with the numbers that they give.
fn by_ratios(
    sample: &CompoundSample<'_>,
    weights: &AtomicWeights,
) -> Vec<(WrongStep, Option<Vec<i64>>)> {
    let molar = |part: &str| {
        Some(
            part.parse::<Formula>()
                .ok()?
                .molar_mass(weights)
                .ok()?
                .exact(),
        )
    };
    let amounts = sample.divided(weights, molar);
    let of = |amounts: Option<Vec<Ratio>>| whole(&amounts?);
    let mut steps: Vec<(WrongStep, Option<Vec<i64>>)> = Vec::new();
    if let AnalysisData::Combustion(readings) = &sample.found {
        steps.extend(of_combustion(readings, amounts.as_deref(), weights));
    }
    let masses = sample.masses(weights);
    steps.push((Slip::MassRatioForMoleRatio.into(), of(masses)));
    let at_once = amounts.as_deref().and_then(rounded_at_once);
    steps.push((WrongStep::RATIOS_ROUNDED_AT_ONCE, at_once));
    // Hydrogen, nitrogen, oxygen and the halogens as molecules.
    let of_molecule = |part: &str| {
        let is_diatomic = ["H", "N", "O", "F", "Cl", "Br", "I"].contains(&part);
        let atoms = if is_diatomic { 2 } else { 1 };
        Some(molar(part)? * Ratio::from(atoms))
    };
    steps.push((
        WrongStep::MOLECULES_FOR_ATOMS,
        of(sample.divided(weights, of_molecule)),
    ));
    let atomic_number = |part: &str| -> Option<Ratio> {
        let element = part.parse::<Element>().ok()?;
        Some(Ratio::from(i64::from(element.number())))
    };
    steps.push((
        WrongStep::ATOMIC_NUMBER,
        of(sample.divided(weights, atomic_number)),
    ));
    let mut exchanged = sample.counts(1);
    exchanged.reverse();
    steps.push((WrongStep::COUNTS_EXCHANGED, Some(exchanged)));
    steps.push((WrongStep::NOT_THE_SIMPLEST, Some(sample.counts(2))));
    let multiplied = |part: &str| Ratio::ONE.checked_div(&molar(part)?);
    steps.push((
        Slip::MultipliedByMolarMass.into(),
        of(sample.divided(weights, multiplied)),
    ));
    steps
}

/// The wrong steps with the products of a combustion.
fn of_combustion(
    [_, carbon_dioxide, water]: &[Reading; 3],
    amounts: Option<&[Ratio]>,
    weights: &AtomicWeights,
) -> Vec<(WrongStep, Option<Vec<i64>>)> {
    let mut steps = Vec::new();
    let Some([carbon, hydrogen, rest @ ..]) = amounts else {
        return steps;
    };
    let halved = hydrogen.checked_div(&Ratio::from(2));
    let one_each = halved.map(|halved| {
        let mut amounts = Vec::from([carbon.clone(), halved]);
        amounts.extend(rest.iter().cloned());
        amounts
    });
    steps.push((
        WrongStep::HYDROGEN_NOT_DOUBLED,
        one_each.and_then(|amounts| whole(&amounts)),
    ));
    if !rest.is_empty() {
        let without = whole(&[carbon.clone(), hydrogen.clone()]).map(|mut counts| {
            counts.push(0);
            counts
        });
        steps.push((WrongStep::OXYGEN_LEFT_OUT, without));
        // All oxygen of the products as if it came from the compound.
        let of_products =
            carbon * Ratio::from(2) + hydrogen.checked_div(&Ratio::from(2)).unwrap_or_default();
        let amounts = [carbon.clone(), hydrogen.clone(), of_products];
        steps.push((WrongStep::OXYGEN_OF_PRODUCTS, whole(&amounts)));
    }
    let molar = |symbol: &str| {
        Some(
            symbol
                .parse::<Formula>()
                .ok()?
                .molar_mass(weights)
                .ok()?
                .exact(),
        )
    };
    let as_elements = || {
        let carbon = carbon_dioxide.value().checked_div(&molar("C")?)?;
        let hydrogen = water.value().checked_div(&molar("H")?)?;
        let mut counts = whole(&[carbon, hydrogen])?;
        counts.extend(rest.iter().map(|_| 0));
        Some(counts)
    };
    steps.push((WrongStep::PRODUCT_AS_ELEMENT, as_elements()));
    steps
}

/// The wrong steps for a salt with water: each with the number of waters that it gives.
fn of_hydrate(
    sample: &CompoundSample<'_>,
    weights: &AtomicWeights,
) -> Vec<(WrongStep, WrongValue)> {
    let parts = sample.parts();
    let right = sample.counts(1);
    let waters = waters(sample, weights).unwrap_or_default();
    let texts = waters.into_iter().filter_map(|(step, waters)| {
        let waters = waters?.to_places(0, TieRule::Even).value();
        let waters = waters
            .to_i128()
            .and_then(|waters| i64::try_from(waters).ok());
        let waters = waters.filter(|waters| (1..=30).contains(waters))?;
        let counts = [1, waters];
        (counts[..] != right[..]).then(|| (step, WrongValue::Text(text(&parts, &counts))))
    });
    texts.collect()
}

fn waters(
    sample: &CompoundSample<'_>,
    weights: &AtomicWeights,
) -> Option<Vec<(WrongStep, Option<Ratio>)>> {
    let molar = |text: &str| {
        Some(
            text.parse::<Formula>()
                .ok()?
                .molar_mass(weights)
                .ok()?
                .exact(),
        )
    };
    let masses = sample.masses(weights)?;
    let ([of_salt, of_water], [salt, _]) = (&masses[..], &sample.parts()[..]) else {
        return None;
    };
    let (salt, water) = (molar(salt)?, molar("H2O")?);
    let ratio = |of_water: &Ratio, water: &Ratio, of_salt: &Ratio, salt: &Ratio| {
        (of_water * salt).checked_div(&(water * of_salt))
    };
    let x = ratio(of_water, &water, of_salt, &salt)?;
    let whole = x.to_places(0, TieRule::Even).value();
    let hydrate = &salt + &whole * &water;
    let both = of_salt + of_water;
    let sixteen = Ratio::from(16);
    Some(Vec::from([
        (
            Slip::MassRatioForMoleRatio.into(),
            of_water.checked_div(of_salt),
        ),
        (
            Slip::HydrateMassAsSalt.into(),
            ratio(of_water, &water, &both, &salt),
        ),
        (
            Slip::HydrateMolarMassForSalt.into(),
            ratio(of_water, &water, of_salt, &hydrate),
        ),
        (
            Slip::SaltWaterSwapped.into(),
            ratio(of_salt, &water, of_water, &salt),
        ),
        (
            Slip::WrongWaterMolarMass.into(),
            ratio(of_water, &sixteen, of_salt, &salt),
        ),
        (WrongStep::NEXT_WHOLE_NUMBER, Some(&whole + Ratio::ONE)),
        (WrongStep::NEXT_WHOLE_NUMBER, Some(&whole - Ratio::ONE)),
    ]))
}
