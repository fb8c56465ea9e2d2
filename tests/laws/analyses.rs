//! Laws of gravimetric analyses: factors, stages, mixtures, losses on drying.

use effloresce::gravimetry::{
    Component, GravimetricFactor, Limits, Method, Mixture, Net, Stages, Weighings,
};
use effloresce::number::TieRule;
use effloresce::{AtomicWeights, Formula, Ratio, Reading};
use proptest::prelude::*;

/// Solids with the residues that they leave one after the other, and the last one's gases.
const SEQUENCES: [(&str, &[&str]); 8] = [
    (
        "CuSO4·5H2O",
        &["CuSO4·3H2O", "CuSO4·H2O", "CuSO4", "CuO·CuSO4", "CuO"],
    ),
    ("CaC2O4·H2O", &["CaC2O4", "CaCO3", "CaO"]),
    (
        "FeSO4·7H2O",
        &["FeSO4·4H2O", "FeSO4·H2O", "Fe(OH)SO4", "Fe2O3"],
    ),
    (
        "KAl(SO4)2·12H2O",
        &["KAl(SO4)2·3H2O", "KAl(SO4)2", "K2SO4·Al2O3"],
    ),
    ("MgCl2·6H2O", &["MgCl2·2H2O", "Mg(OH)Cl", "MgO"]),
    ("CoCl2·6H2O", &["CoCl2·H2O", "CoCl2", "Co3O4"]),
    ("3CdSO4·8H2O", &["CdSO4·H2O", "CdSO4"]),
    ("Na2HPO4·12H2O", &["Na2HPO4·2H2O", "Na2HPO4", "Na4P2O7"]),
];

fn formula(text: &str) -> Formula {
    text.parse().unwrap()
}

fn sequence(start: &str, residues: &[&str]) -> Stages {
    let start = Stages::of(formula(start), &AtomicWeights::default()).unwrap();
    let then = |stages: Stages, residue: &&str| stages.then(formula(residue)).unwrap();
    residues.iter().fold(start, then)
}

fn molar(formula: &Formula) -> Ratio {
    let mass = formula.molar_mass(&AtomicWeights::default()).unwrap();
    mass.exact().clone()
}

fn reading(thousandths: i128) -> Reading {
    Reading::new(thousandths, 3).unwrap()
}

proptest! {
    /// Whatever stages are left out, the losses of all stages add up to the total, and the total is the
    /// same. Gases and residue together have the mass of the solid.
    #[test]
    fn losses_add_up(which in 0..SEQUENCES.len(), kept in any::<[bool; 5]>()) {
        let (start, all) = SEQUENCES[which];
        let (last, before) = all.split_last().unwrap();
        let mut residues: Vec<&str> = before.iter().zip(kept).filter(|(_, k)| *k).map(|(r, _)| *r).collect();
        residues.push(last);
        let (some, whole) = (sequence(start, &residues), sequence(start, all));
        let mut total = Ratio::ZERO;
        for stage in some.stages() {
            total += stage.percent_lost();
            prop_assert_eq!(&total, stage.percent_total());
            prop_assert_eq!(&total + stage.percent_residue(), Ratio::from(100));
        }
        let (one, other) = (some.stages().last().unwrap(), whole.stages().last().unwrap());
        prop_assert_eq!(one.percent_total(), other.percent_total());
        prop_assert_eq!(one.per_start(), other.per_start());
        let of_start = molar(some.start());
        for stage in some.stages() {
            if stage.taken_up().is_none() {
                let gases = stage.gases().iter();
                let lost: Ratio = gases.map(|(gas, n)| n * molar(&formula(gas))).sum();
                let percent = (lost * 100).checked_div(&of_start).unwrap();
                prop_assert_eq!(&percent, stage.percent_lost());
            }
        }
    }

    /// The masses of a sample are in the proportions of the percentages.
    #[test]
    fn masses_are_shares(which in 0..SEQUENCES.len(), grams in 1_i128..100_000) {
        let (start, residues) = SEQUENCES[which];
        let stages = sequence(start, residues).sample(reading(grams)).unwrap();
        for stage in stages.stages() {
            let share = stage.percent_residue() * reading(grams).value();
            prop_assert_eq!(share, stage.mass().unwrap() * Ratio::from(100));
        }
    }

    /// The nearest sequence to the exact losses of a sequence of the catalogue is that sequence.
    #[test]
    fn a_sequence_is_found_again(which in 0_usize..2) {
        let (start, residues) = [
            ("CuSO4·5H2O", &["CuSO4·3H2O", "CuSO4·H2O", "CuSO4", "CuO"][..]),
            ("MgCl2·6H2O", &["MgCl2·2H2O", "Mg(OH)Cl", "MgO"]),
        ][which];
        let stages = sequence(start, residues);
        let observed: Vec<Reading> = stages
            .stages()
            .iter()
            .map(|stage| stage.percent_lost().to_places(6, TieRule::Even).try_into().unwrap())
            .collect();
        let fits = Stages::fitting(&formula(start), &observed, &AtomicWeights::default()).unwrap();
        prop_assert!(fits[0].distance() < 1e-6);
        let found: Vec<String> = fits[0].stages().stages().iter().map(|s| s.residue().to_string()).collect();
        prop_assert_eq!(found, residues);
        prop_assert!(fits.windows(2).all(|pair| pair[0].distance() <= pair[1].distance()));
    }

    /// A factor and the one that is turned round are each other's inverses, and factors chain.
    #[test]
    fn factors_are_inverses(one in 0_usize..5, other in 0_usize..5) {
        const IRON: [&str; 5] = ["Fe", "Fe2O3", "Fe3O4", "FeSO4·7H2O", "(NH4)2Fe(SO4)2·6H2O"];
        let weights = AtomicWeights::default();
        let iron = "Fe".parse().unwrap();
        let factor = |a: &str, b: &str| {
            GravimetricFactor::linked_by(iron, formula(a), formula(b), &weights).unwrap()
        };
        let (there, back) = (factor(IRON[one], IRON[other]), factor(IRON[other], IRON[one]));
        prop_assert_eq!(there.value() * back.value(), Ratio::ONE);
        let [a, b] = there.sought_per_weighed().clone();
        prop_assert_eq!(back.sought_per_weighed(), &[b, a]);
        let by_metal = factor(IRON[one], "Fe").value() * factor("Fe", IRON[other]).value();
        prop_assert_eq!(by_metal, there.value().clone());
        if one == other {
            prop_assert_eq!(there.standard_uncertainty(), 0.0);
        }
    }

    /// A mixture that is made of known fractions gives them back exactly, in either order.
    #[test]
    fn a_mixture_gives_its_fractions_back(first in 0_i128..=100_000, pair in 0_usize..4) {
        let parts = |turned: bool| {
            let [one, other] = [
                [("NaHCO3", "Na2CO3"), ("Na2CO3", "Na2CO3")],
                [("CuSO4·5H2O", "CuSO4"), ("SiO2", "SiO2")],
                [("MgSO4·7H2O", "MgSO4"), ("BaCl2·2H2O", "BaCl2")],
                [("Fe", "Fe2O3"), ("CaCO3", "CaO")],
            ][pair]
            .map(|(whole, residue)| Component::new(formula(whole), formula(residue)).unwrap());
            if turned { [other, one] } else { [one, other] }
        };
        // Whole weights, so that the residue is a reading that a balance could show.
        let weights = AtomicWeights::default().decimals(0);
        let method = || Method::new().weights(weights.clone());
        let left = |part: &Component| {
            let mass = |of: &Formula| of.molar_mass(&weights).unwrap().exact().clone();
            (mass(part.residue().unwrap()) * part.residues_per_formula())
                .checked_div(&mass(part.formula()))
                .unwrap()
        };
        let [one, other] = parts(false);
        let share = Ratio::new(first, 100_000).unwrap();
        let residue = &share * left(&one) + (1 - &share) * left(&other);
        // The sample is so large that its residue is a whole number of milligrams.
        let (_, denominator) = residue.to_parts().unwrap();
        let sample = Reading::new(denominator, 0).unwrap();
        let residue = Reading::new((residue * denominator).to_i128().unwrap(), 0).unwrap();
        let weighings = Weighings::net(sample, residue, Net::Tared);
        let fractions = |mixture: &Mixture| mixture.fractions().clone();
        let found = fractions(&method().mixture(parts(false), &weighings).unwrap());
        prop_assert_eq!(&found, &[&share * 100, (1 - &share) * 100]);
        let [a, b] = fractions(&method().mixture(parts(true), &weighings).unwrap());
        prop_assert_eq!([b, a], found);
    }

    /// A loss on drying is what the degree of hydration takes as the percentage of water, with the same
    /// uncertainty.
    #[test]
    fn a_loss_is_the_percentage_of_water(
        hydrate in 1_000_i128..5_000,
        share in 1_i128..900,
        heatings in 1_usize..4,
    ) {
        let (container, residue) = (20_000, hydrate - hydrate * share / 1_000);
        let heated: Vec<Reading> = (0..heatings).map(|_| reading(container + residue)).collect();
        let weighings = Weighings::new(reading(container), reading(container + hydrate), heated);
        let loss = Method::new().loss_on_drying(&weighings).unwrap();
        let run = Method::new().dehydration(&formula("MgSO4"), &weighings).unwrap();
        prop_assert_eq!(loss.percent(), run.percent_water());
        prop_assert_eq!(loss.constant_mass(), run.constant_mass());
        // Through x: dx/d(percent) = 100 M(salt)/M(water)/(100 − percent)².
        let (p, u) = (loss.percent().to_f64(), loss.standard_uncertainty());
        let table_free = run.budget().contributions().iter().filter(|c| !c.input().starts_with("atomic"));
        let of_x = table_free.map(|c| c.amount().powi(2)).sum::<f64>().sqrt();
        let slope = 100.0 * 120.361 / 18.015 / (100.0 - p).powi(2);
        prop_assert!((of_x - slope * u).abs() <= 1e-9 * of_x, "{} {}", of_x, slope * u);
    }

    /// A result complies if it is rounded to the limits' places and lies between them, and only then.
    #[test]
    fn limits_hold(percent in 0_i128..100_000, low in 0_i128..500, width in 0_i128..500, places in 0_i32..2) {
        let percent = Ratio::new(percent, 1_000).unwrap();
        let unit = 10_i128.pow(places.unsigned_abs());
        let (low, high) = (low * unit / 10, (low + width) * unit / 10);
        let limit = |n| Reading::new(n, places).unwrap();
        let limits = Limits::between(limit(low), limit(high)).unwrap();
        // Half a unit below the lower limit still complies, half a unit above the upper one does not.
        let half = Ratio::new(1, 2 * unit).unwrap();
        let within = percent >= limit(low).value() - &half && percent < limit(high).value() + &half;
        prop_assert_eq!(limits.compare(&percent).complies(), within);
    }
}
