//! Laws of the heat of hydration: proportions, the equation, and no panic.

use effloresce::gravimetry::{HeatOfHydration, known_salts};
use effloresce::reaction::Equation;
use effloresce::{AtomicWeights, Formula, Reading};
use proptest::prelude::*;
use proptest::sample::select;

use crate::strategies::{Spelling, open_meaning};

fn of(hydrate: &Formula) -> HeatOfHydration {
    HeatOfHydration::of(hydrate, &AtomicWeights::default()).unwrap()
}

/// Every known hydrate of the catalogue.
fn known() -> Vec<Formula> {
    let of_salt = known_salts().flat_map(|facts| {
        let degrees = facts.known_hydrates().iter();
        degrees.filter_map(|waters| facts.salt().with_waters(waters))
    });
    of_salt.collect()
}

proptest! {
    /// Twice the salt needs twice the water and gives off twice the heat. With twice the water, too, it gets
    /// exactly as warm.
    #[test]
    fn a_sample_is_proportional_to_its_mass(
        hydrate in select(known()),
        milligrams in 1_i128..1_000_000,
        times in 1_i128..1_000,
        water in 1_i128..1_000_000,
    ) {
        let grams = |milligrams| Reading::new(milligrams, 3).unwrap();
        let sample = |times: i128| {
            let dry = of(&hydrate).mass(grams(milligrams * times)).unwrap();
            (dry.clone(), dry.water_mass(grams(water * times)).unwrap())
        };
        let ((one, one_wet), (many, many_wet)) = (sample(1), sample(times));
        prop_assert_eq!(one.heat().map(|heat| heat * times), many.heat());
        let water = one.restoring_water().unwrap();
        prop_assert_eq!(water * times, many.restoring_water().unwrap());
        prop_assert_eq!(one.temperature_rise(), many.temperature_rise());
        if let (Some(rise), Some(of_many)) = (one_wet.temperature_rise(), many_wet.temperature_rise()) {
            prop_assert!((rise.to_f64() - of_many.to_f64()).abs() <= rise.to_f64().abs() * 0.01 + 1e-9);
        }
    }

    /// More water never makes it warmer.
    #[test]
    fn excess_water_only_cools(hydrate in select(known()), water in 1_i128..100_000, more in 0_i128..100_000) {
        let dry = of(&hydrate).mass("10.0".parse().unwrap()).unwrap();
        let rise = |milligrams| {
            let wet = dry.clone().water_mass(Reading::new(milligrams, 3).unwrap()).unwrap();
            wet.temperature_rise()
        };
        if let (Some(less), Some(with_more)) = (rise(water), rise(water + more)) {
            prop_assert!(with_more.abs() <= less.abs());
        }
    }

    #[test]
    fn any_formula_is_answered_or_refused(meaning in open_meaning(), mass in -5_i128..100_000, places in -3_i32..9) {
        let text = Spelling::new(7).write(&meaning);
        if let (Ok(formula), Ok(mass)) = (text.parse::<Formula>(), Reading::new(mass, places)) {
            if let Ok(heat) = HeatOfHydration::of(&formula, &AtomicWeights::default()) {
                let heat = heat.mass(mass).and_then(|heat| heat.water_mass(mass));
                if let Ok(heat) = heat {
                    prop_assert_eq!(heat.heat().is_some(), heat.enthalpy().is_some());
                    prop_assert_eq!(heat.enthalpy().is_some(), heat.source().is_some());
                    prop_assert!(!heat.notes().is_empty());
                }
            }
        }
    }
}

/// The equation reads as one, and it is balanced as it is written.
#[test]
fn every_equation_is_balanced() {
    let hydrates = known();
    assert!(hydrates.len() > 250);
    for hydrate in hydrates {
        let text = of(&hydrate).equation();
        let equation: Equation = text
            .parse()
            .unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!(equation.check().unwrap().is_balanced(), "{text}");
    }
}
