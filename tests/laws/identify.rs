//! Laws of identification: probabilities, the order of the matches, and no panic.

use effloresce::gravimetry::{
    HydrateMatch, Identification, Method, Net, Weighings, known_hydrates,
};
use effloresce::mistake::Simulator;
use effloresce::{AtomicWeights, Formula, Reading};
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

/// Hydrates of schools, including some with nearly the same percentage of water.
const HYDRATES: [&str; 14] = [
    "CuSO4·5H2O",
    "MgSO4·7H2O",
    "Na2CO3·10H2O",
    "BaCl2·2H2O",
    "CaSO4·2H2O",
    "CaSO4·0.5H2O",
    "3CdSO4·8H2O",
    "NiSO4·7H2O",
    "CoSO4·7H2O",
    "FeSO4·7H2O",
    "ZnSO4·7H2O",
    "CoCl2·6H2O",
    "KAl(SO4)2·12H2O",
    "Na2S2O3·5H2O",
];

fn list() -> impl Strategy<Value = Vec<Formula>> {
    let some = subsequence(HYDRATES.to_vec(), 1..=HYDRATES.len());
    some.prop_map(|texts| texts.iter().map(|text| text.parse().unwrap()).collect())
}

/// The probabilities add up to 1 and fall, and the nearest hydrate in uncertainties comes with the list.
fn sound(found: &Identification) -> Result<(), TestCaseError> {
    let probabilities: Vec<f64> = found
        .matches()
        .iter()
        .map(HydrateMatch::probability)
        .collect();
    let sum: f64 = probabilities.iter().sum();
    prop_assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    prop_assert!(probabilities.iter().all(|p| (0.0..=1.0).contains(p)));
    prop_assert!(probabilities.is_sorted_by(|a, b| a >= b));
    prop_assert_eq!(found.undecided(), probabilities[0] < 0.95);
    let likely: f64 = found.likely().iter().map(HydrateMatch::probability).sum();
    prop_assert!(likely >= 0.95 - 1e-9, "{likely}");
    prop_assert!(found.undecided() || found.likely().len() == 1);
    Ok(())
}

proptest! {
    #[test]
    fn any_readings_are_answered_or_refused(
        list in list(),
        hydrate in 0_i128..100_000_000,
        residue in 0_i128..100_000_000,
        places in -3_i32..9,
        repeatability in select(vec![0.0, 1e-9, 0.003, 1.0]),
    ) {
        let reading = |mantissa| Reading::new(mantissa, places);
        if let (Some(hydrate), Some(residue)) = (reading(hydrate).ok(), reading(residue).ok()) {
            let method = Method::new().repeatability(repeatability).unwrap();
            for weighings in [
                Weighings::net(hydrate, residue, Net::Subtracted),
                Weighings::percent_water(hydrate),
                Weighings::new(residue, hydrate, [residue]),
            ] {
                if let Ok(found) = method.identify_among(list.clone(), &weighings) {
                    prop_assert_eq!(found.matches().len(), list.len());
                    sound(&found)?;
                }
            }
        }
    }

    /// A percentage with all its digits is that of the hydrate or of one that has the same.
    #[test]
    fn the_hydrate_of_an_exact_percentage_is_first(list in list(), which in any::<prop::sample::Index>()) {
        let hydrate = which.get(&list);
        let expected = hydrate.percent_water(&AtomicWeights::default()).unwrap().unwrap();
        let percent = expected.to_places(10, Default::default()).to_string();
        let weighings = Weighings::percent_water(percent.parse().unwrap());
        let found = Method::new().identify_among(list.clone(), &weighings).unwrap();
        sound(&found)?;
        prop_assert_eq!(found.matches()[0].formula(), hydrate);
    }

    /// The order of a list does not change a probability.
    #[test]
    fn the_order_of_the_list_does_not_matter(list in list(), percent in 1_000_i128..7_000) {
        let weighings = Weighings::percent_water(Reading::new(percent, 2).unwrap());
        let of = |list: Vec<Formula>| {
            let found = Method::new().identify_among(list, &weighings).unwrap();
            let matches = found.matches().iter();
            let mut all: Vec<(String, f64)> = matches
                .map(|one| (one.formula().to_string(), one.probability()))
                .collect();
            all.sort_by(|(one, _), (other, _)| one.cmp(other));
            all
        };
        let turned: Vec<Formula> = list.iter().rev().cloned().collect();
        for ((one, p), (other, q)) in of(list).iter().zip(of(turned)) {
            prop_assert_eq!(one, &other);
            prop_assert!((p - q).abs() < 1e-12, "{one}: {p} and {q}");
        }
    }
}

/// The whole catalogue is compared: each known degree of a salt is there once.
#[test]
fn every_known_degree_is_compared() {
    let weighings = Weighings::percent_water("40".parse().unwrap());
    let found = Method::new().identify(&weighings).unwrap();
    for salt in ["CuSO4", "CaSO4", "CdSO4", "Na2CO3", "MgCl2"] {
        let salt: Formula = salt.parse().unwrap();
        assert!(!known_hydrates(&salt).is_empty(), "{salt}");
        for waters in known_hydrates(&salt) {
            let hydrate = salt.with_waters(waters).unwrap();
            let matches = found.matches().iter();
            let count = matches.filter(|one| *one.formula() == hydrate).count();
            assert_eq!(count, 1, "{hydrate}");
        }
    }
}

/// A probability of 0.8 is right in 8 of 10 benches. Whole benches are simulated, with their balance, what is left
/// of the water and 0.3 % of repeatability. Over all of them the matches are right as often as they say, or a
/// little more often, because a criterion that is reached counts in both directions.
#[test]
fn probabilities_are_as_often_right_as_they_say() {
    let list: Vec<Formula> = HYDRATES.iter().map(|text| text.parse().unwrap()).collect();
    let (mut right, mut said, mut benches) = (0.0, 0.0, 0.0);
    for step in ["0.01", "0.001"] {
        for issued in &list {
            let simulator = Simulator::new(issued, step.parse().unwrap()).unwrap();
            for seed in 0..60 {
                let bench = simulator.bench(seed).unwrap();
                let found = Method::new().identify_among(list.clone(), &bench.weighings());
                let found = found.unwrap();
                let best = &found.matches()[0];
                benches += 1.0;
                said += best.probability();
                right += f64::from(u8::from(best.formula() == issued));
            }
        }
    }
    let (right, said) = (right / benches, said / benches);
    // The documentation prints both.
    assert_eq!(
        format!("{right:.2} and {said:.2} of {benches}"),
        "0.79 and 0.72 of 1680"
    );
}
