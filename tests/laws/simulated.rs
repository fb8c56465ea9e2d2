//! Simulated benches: possible masses on any balance, and the same readings from the same seed.

use effloresce::gravimetry::{ConstantMass, Method};
use effloresce::mistake::{Fault, Simulator};
use effloresce::number::TieRule;
use effloresce::{Formula, Reading};
use proptest::prelude::*;
use proptest::sample::select;

const HYDRATES: [&str; 6] = [
    "BaCl2·2H2O",
    "CuSO4·5H2O",
    "MgSO4·7H2O",
    "Na2CO3·10H2O",
    "KAl(SO4)2·12H2O",
    "3CdSO4·8H2O",
];

const DIVISIONS: [&str; 9] = [
    "0.00001", "0.0001", "0.001", "0.002", "0.005", "0.01", "0.05", "0.1", "1",
];

proptest! {
    #[test]
    fn masses_are_possible_on_any_balance(
        hydrate in select(&HYDRATES[..]),
        division in select(&DIVISIONS[..]),
        fault in prop::option::of(select(&Fault::ALL[..])),
        heatings in 1_u32..20,
        seed: u64,
    ) {
        let issued: Formula = hydrate.parse().unwrap();
        let readability: Reading = division.parse().unwrap();
        let simulator = Simulator::new(&issued, readability).unwrap();
        let simulator = simulator.most_heatings(heatings).unwrap();
        let Ok(simulator) = simulator.fault(fault) else {
            return Ok(());
        };
        let bench = simulator.bench(seed).unwrap();
        let again = simulator.bench(seed).unwrap();
        prop_assert_eq!(&bench, &again);
        prop_assert!((1..=heatings as usize).contains(&bench.heated().len()));
        let step = readability.value();
        for reading in [bench.container(), bench.with_hydrate()].iter().chain(bench.heated()) {
            let value = reading.value();
            prop_assert_eq!(value.to_multiple(&step, TieRule::Even).unwrap().value(), value);
            prop_assert_eq!(reading.decimal_places(), readability.decimal_places());
        }
        let (salt, _) = issued.one_formula_unit().unwrap();
        let method = Method::new().readability(readability).unwrap();
        prop_assert!(method.dehydration(&salt, &bench.weighings()).is_ok());
    }

    /// For any small sample there are possible masses, or an error that names the least mass.
    #[test]
    fn a_sample_is_enough_or_refused(
        hydrate in select(&HYDRATES[..]),
        division in select(&DIVISIONS[..]),
        fault in prop::option::of(select(&Fault::ALL[..])),
        mass in "[0-9]{1,3}\\.[0-9]{3}",
        seed: u64,
    ) {
        let issued: Formula = hydrate.parse().unwrap();
        let simulator = Simulator::new(&issued, division.parse().unwrap()).unwrap();
        let Ok(simulator) = simulator.fault(fault) else {
            return Ok(());
        };
        match simulator.sample_mass(mass.parse().unwrap()) {
            Ok(simulator) => {
                let bench = simulator.bench(seed).unwrap();
                let about: f64 = mass.parse().unwrap();
                prop_assert!((bench.true_sample() / about - 1.0).abs() <= 0.0501);
            }
            Err(error) => {
                prop_assert_eq!(error.code(), "out_of_range");
                let about: f64 = mass.parse().unwrap();
                let help = if about > 900.0 { "give at most 1000 g" } else { "take at least " };
                prop_assert!(error.help().unwrap().starts_with(help), "{}", error);
            }
        }
    }
}

/// The balance and the mass that the help names are enough.
#[test]
fn the_help_is_enough() {
    let issued: Formula = "MgSO4·7H2O".parse().unwrap();
    let simulator = Simulator::new(&issued, "0.1".parse().unwrap()).unwrap();
    let little = simulator.clone().sample_mass("1.0".parse().unwrap());
    let error = little.unwrap_err();
    assert_eq!(
        error.to_string(),
        "1.0 g of MgSO4·7H2O is too little for a balance with a smallest step of 0.1 g"
    );
    let help = error.help().unwrap();
    let enough = help.strip_prefix("take at least ").unwrap();
    let (enough, _) = enough.split_once(" g,").unwrap();
    assert!(
        simulator.sample_mass(enough.parse().unwrap()).is_ok(),
        "{help}"
    );
}

fn written(fault: Option<Fault>) -> String {
    let issued: Formula = "CuSO4·5H2O".parse().unwrap();
    let simulator = Simulator::new(&issued, "0.001".parse().unwrap()).unwrap();
    let simulator = simulator.fault(fault).unwrap();
    let bench = simulator.bench(2026).unwrap();
    let mut all = vec![bench.container(), bench.with_hydrate()];
    all.extend(bench.heated());
    let all: Vec<String> = all.iter().map(Reading::to_string).collect();
    all.join(" ")
}

/// The readings of one seed and each fault, on every machine and in every later patch release.
#[test]
fn a_seed_is_replayed_to_the_digit() {
    let pinned: [(Option<Fault>, &str); 12] = [
        (None, "23.994 26.249 25.459 25.439 25.435 25.436"),
        (Some(Fault::WaterLeft), "23.994 26.249 25.611 25.474"),
        (
            Some(Fault::StoppedAtLowerHydrate),
            "23.995 26.249 25.930 25.924 25.923",
        ),
        (
            Some(Fault::MoistureTakenUp),
            "23.994 26.249 25.459 25.439 25.435 25.436 25.449",
        ),
        (
            Some(Fault::SolidLost),
            "23.994 26.249 25.445 25.425 25.421 25.421",
        ),
        (
            Some(Fault::Decomposed),
            "23.995 26.249 25.442 25.431 25.428 25.424",
        ),
        (
            Some(Fault::SampleDamp),
            "23.995 26.249 25.437 25.431 25.430",
        ),
        (
            Some(Fault::SampleEffloresced),
            "23.995 26.249 25.449 25.444 25.443",
        ),
        (
            Some(Fault::ContainerDamp),
            "24.003 26.257 25.442 25.436 25.435",
        ),
        (
            Some(Fault::WeighingMisread),
            "23.994 26.294 25.459 25.439 25.435 25.436",
        ),
        (
            Some(Fault::WeighedWarm),
            "23.994 26.249 25.459 25.439 25.435 25.436 25.424",
        ),
        (
            Some(Fault::BalanceChanged),
            "23.995 26.249 25.436 25.429 25.428",
        ),
    ];
    let found: Vec<(Option<Fault>, String)> = pinned
        .iter()
        .map(|(fault, _)| (*fault, written(*fault)))
        .collect();
    let expected: Vec<(Option<Fault>, String)> = pinned
        .iter()
        .map(|(fault, text)| (*fault, text.to_string()))
        .collect();
    assert_eq!(found, expected);
}

#[track_caller]
fn refused<T: std::fmt::Debug>(
    result: Result<T, effloresce::mistake::Error>,
    code: &str,
    message: &str,
    help: &str,
) {
    let error = result.unwrap_err();
    assert_eq!(error.to_string(), message);
    assert_eq!((error.code(), error.help()), (code, Some(help)));
}

#[test]
fn what_cannot_be_simulated() {
    let new = |issued: &str, readability: &str| {
        Simulator::new(&issued.parse().unwrap(), readability.parse().unwrap())
    };
    refused(
        new("MgSO4", "0.001"),
        "bad_request",
        "MgSO4 is not a hydrate",
        "give the hydrate that was issued, such as MgSO4·7H2O",
    );
    for (issued, code) in [
        ("MgSO4·xH2O", "unknown_degree"),
        ("PmCl3·6H2O", "no_standard_weight"),
        ("H2O", "bad_request"),
    ] {
        assert_eq!(new(issued, "0.001").unwrap_err().code(), code, "{issued}");
    }
    refused(
        new("MgSO4·7H2O", "0"),
        "out_of_range",
        "a readability of 0 g is not possible for this experiment",
        "give the smallest step that the balance shows, from 0.0000001 g to 1 g, such as 0.001",
    );
    // A hundredth of its mass is water.
    refused(
        new("U3O8·0.5H2O", "1"),
        "out_of_range",
        "a smallest step of 1 g is too large to find the water of U3O8·0.5H2O in up to 1000 g",
        "give a balance with a smaller step",
    );
    let simulator = || new("MgSO4·7H2O", "0.001").unwrap();
    refused(
        simulator().fault(Fault::Decomposed),
        "fault_not_shown",
        "no lighter solid is known that a burner could make of MgSO4, so the fault cannot be shown",
        "choose another fault, or a salt that decomposes, such as CuSO4·5H2O",
    );
    refused(
        new("CaSO4·0.5H2O", "0.001")
            .unwrap()
            .fault(Fault::StoppedAtLowerHydrate),
        "fault_not_shown",
        "no lower hydrate is known at which heating CaSO4·0.5H2O may stop, so the fault cannot be shown",
        "choose another fault, or a salt with lower hydrates, such as CuSO4·5H2O",
    );
    let reading = |text: &str| text.parse::<Reading>().unwrap();
    for result in [
        simulator().sample_mass(reading("-2")),
        simulator().sample_mass(reading("1e20")),
        simulator().sample_between(reading("3"), reading("2")),
        simulator().container_between(reading("0"), reading("2")),
        simulator().container_between(reading("3"), reading("2")),
        simulator().most_heatings(0),
        simulator().repeatability(f64::NAN),
        simulator().repeatability(0.2),
        simulator().balance_repeatability(-0.001),
        simulator().balance_repeatability(f64::INFINITY),
    ] {
        assert_eq!(result.unwrap_err().code(), "out_of_range");
    }
    let never = Method::new().constant_mass(ConstantMass::Absolute(reading("-1")));
    let bench = simulator().method(never).unwrap();
    let bench = bench.bench(1);
    assert_eq!(
        bench.unwrap_err().to_string(),
        "-1 is not a criterion for constant mass"
    );
}
