//! Laws of empirical formulas: what was weighed into a substance is found again.

use effloresce::formula::{Analysis, Empirical};
use effloresce::number::Contribution;
use effloresce::{AtomicWeights, Element, Formula, Ratio, Reading};
use proptest::prelude::*;

/// Elements of very different weights, all of which are known well enough to tell twelfths apart.
const ELEMENTS: [&str; 9] = ["H", "C", "N", "O", "F", "Na", "Cl", "Fe", "I"];

/// Distinct elements with small counts.
fn counted() -> impl Strategy<Value = Vec<(&'static str, u32)>> {
    let some = proptest::sample::subsequence(ELEMENTS.to_vec(), 2..=4).prop_shuffle();
    some.prop_flat_map(|elements| {
        let counts = proptest::collection::vec(1_u32..=12, elements.len());
        counts.prop_map(move |counts| elements.iter().copied().zip(counts).collect())
    })
}

fn gcd(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// The mass of each element in `scale` grams, rounded to `places` decimal places.
fn weighed(counts: &[(&str, u32)], scale: u32, places: i32) -> Vec<(Formula, Reading)> {
    let weights = AtomicWeights::default();
    let weigh = |(symbol, count): &(&str, u32)| {
        let element: Element = symbol.parse().unwrap();
        &Ratio::from(*count) * weights.weight(element).unwrap().value()
    };
    let whole: Ratio = counts.iter().map(weigh).sum();
    let parts = counts.iter().map(|part| {
        let share = (&weigh(part) * &Ratio::from(scale))
            .checked_div(&whole)
            .unwrap();
        let mass = share.to_places(places, Default::default()).to_string();
        (part.0.parse().unwrap(), mass.parse().unwrap())
    });
    parts.collect()
}

fn masses(parts: &[(Formula, Reading)]) -> Analysis {
    let parts = parts.iter().cloned();
    parts.fold(Analysis::new(), |analysis, (part, mass)| {
        analysis.mass(part, mass)
    })
}

/// The counts in lowest terms, by element.
fn lowest(counts: &[(&str, u32)]) -> Vec<(String, Ratio)> {
    let divisor = counts
        .iter()
        .fold(0, |divisor, (_, count)| gcd(divisor, *count));
    let lowest = counts.iter();
    let lowest = lowest.map(|(symbol, n)| (symbol.to_string(), Ratio::from(n / divisor)));
    let mut lowest: Vec<_> = lowest.collect();
    lowest.sort();
    lowest
}

fn composition(formula: &Formula) -> Vec<(String, Ratio)> {
    let counts = formula.composition().unwrap();
    let mut counts: Vec<_> = counts
        .iter()
        .map(|(a, n)| (a.to_string(), n.clone()))
        .collect();
    counts.sort();
    counts
}

proptest! {
    /// To nine places of a gram the counts come back in lowest terms, whatever the order.
    #[test]
    fn masses_give_the_counts_back(counts in counted()) {
        let found = masses(&weighed(&counts, 1, 9)).empirical().unwrap();
        let formula = found.formula().unwrap();
        prop_assert_eq!(composition(formula), lowest(&counts));
        // The molar mass gives the number of formulas in the molecule.
        let units = counts.iter().fold(0, |divisor, (_, count)| gcd(divisor, *count));
        let one = formula.molar_mass(&AtomicWeights::default()).unwrap().exact();
        let molar = (&one * &Ratio::from(units)).to_plain();
        let found = masses(&weighed(&counts, 1, 9)).molar_mass(molar.parse().unwrap());
        let found = found.empirical().unwrap();
        prop_assert_eq!(found.multiplier(), Some(units));
        let molecule = composition(found.molecular_formula().unwrap());
        for ((symbol, count), (other, one)) in molecule.iter().zip(composition(formula)) {
            prop_assert_eq!(symbol, &other);
            prop_assert_eq!(count, &(&one * &Ratio::from(units)));
        }
        prop_assert_eq!(found.warnings(), []);
    }

    /// The order of the parts changes the formula's text at most, and ten times the sample nothing.
    #[test]
    fn order_and_scale(counts in counted(), places in 2..6) {
        let parts = weighed(&counts, 10, places);
        prop_assume!(parts.iter().all(|(_, mass)| mass.value().is_positive()));
        let found = masses(&parts).empirical().unwrap();
        // All are divided by the first of equal least amounts, so that one stays first in every order.
        let mut order: Vec<usize> = (0..parts.len()).rev().collect();
        let is_least = |index: &usize| *found.constituents()[*index].ratio() == Ratio::ONE;
        if order.iter().filter(|index| is_least(index)).count() > 1 {
            order.sort_by_key(|index| (0..parts.len()).find(is_least) != Some(*index));
        }
        let turned: Vec<_> = order.iter().map(|index| parts[*index].clone()).collect();
        let turned = masses(&turned).empirical().unwrap();
        let chosen = |f: &Empirical| f.chosen().map(effloresce::formula::Trial::multiplier);
        prop_assert_eq!(chosen(&found), chosen(&turned));
        prop_assert_eq!(found.formula().map(composition), turned.formula().map(composition));
        for (index, other) in order.iter().zip(turned.constituents()) {
            let one = &found.constituents()[*index];
            prop_assert_eq!(one.ratio(), other.ratio());
            let (u, v) = (one.standard_uncertainty(), other.standard_uncertainty());
            prop_assert!(u.is_sign_positive() && v.is_sign_positive());
            prop_assert!((u - v).abs() <= 1e-9 * u.max(v));
        }
        let larger: Vec<_> = parts
            .iter()
            .map(|(part, mass)| {
                let mass = &mass.value() * &Ratio::from(10);
                let mass = mass.to_places(places - 1, Default::default()).to_string();
                (part.clone(), mass.parse().unwrap())
            })
            .collect();
        let larger = masses(&larger).empirical().unwrap();
        prop_assert_eq!(chosen(&found), chosen(&larger));
        prop_assert_eq!(found.formula(), larger.formula());
    }

    /// Each sensitivity is the slope that a small step of its reading shows.
    #[test]
    fn sensitivities_are_slopes(counts in counted()) {
        let parts = weighed(&counts, 10, 6);
        let found = masses(&parts).empirical().unwrap();
        for (place, (part, mass)) in parts.iter().enumerate() {
            let step = 1e-6;
            let moved = |by: i32| {
                let mut moved = parts.clone();
                let mass = &mass.value() + &Ratio::new(by.into(), 1_000_000).unwrap();
                moved[place].1 = mass.to_places(6, Default::default()).to_string().parse().unwrap();
                masses(&moved).empirical().unwrap()
            };
            let (low, high) = (moved(-1), moved(1));
            let same_base = |f: &Empirical| f.constituents().iter().map(|c| c.ratio() == &Ratio::ONE).collect::<Vec<_>>();
            prop_assume!(same_base(&low) == same_base(&found) && same_base(&high) == same_base(&found));
            let name = format!("mass of {part}");
            for (at, constituent) in found.constituents().iter().enumerate() {
                let ratio = |f: &Empirical| f.constituents()[at].ratio().clone();
                let slope = (&ratio(&high) - &ratio(&low)).to_f64() / (2.0 * step);
                let mut inputs = constituent.budget().contributions().iter();
                let told = inputs.find(|c| c.input() == name).map_or(0.0, Contribution::sensitivity);
                prop_assert!((told - slope).abs() <= 1e-6 * slope.abs(), "{} and {}", told, slope);
            }
        }
    }

    /// The salt and its water are found as the hydrate, and its elements' masses as its atoms.
    #[test]
    fn hydrates(waters in 1_u32..=12, salt in 0..4_usize) {
        let salt: Formula = ["CuSO4", "MgSO4", "Na2CO3", "BaCl2"][salt].parse().unwrap();
        let hydrate = salt.with_waters(&Ratio::from(waters)).unwrap();
        let weights = AtomicWeights::default();
        let percent = hydrate.percent_water(&weights).unwrap().unwrap();
        let water: Reading = percent.to_places(4, Default::default()).to_string().parse().unwrap();
        let rest = &Ratio::from(100) - &water.value();
        let rest = rest.to_places(4, Default::default()).to_string().parse().unwrap();
        let found = Analysis::new()
            .percent("H2O".parse().unwrap(), water)
            .percent(salt, rest)
            .empirical()
            .unwrap();
        prop_assert_eq!(found.formula(), Some(&hydrate));
    }
}
