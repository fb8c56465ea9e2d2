//! The diagnosis of any readings: probabilities, and no panic.

use effloresce::gravimetry::{Constancy, Method, Net, Weighings};
use effloresce::mistake::{Diagnosis, Evidence, Fault, Priors, Simulator};
use effloresce::{Formula, Reading};
use proptest::prelude::*;
use proptest::sample::select;

const HYDRATES: [&str; 6] = [
    "BaCl2·2H2O",
    "CuSO4·5H2O",
    "MgSO4·7H2O",
    "CaSO4·0.5H2O",
    "KAl(SO4)2·12H2O",
    "ErCl3·6H2O",
];

fn reading() -> impl Strategy<Value = Reading> {
    let text = prop_oneof![
        "[0-9]{1,3}(\\.[0-9]{0,5})?",
        "2[0-4]\\.[0-9]{3}",
        "-?[0-9]{1,12}\\.[0-9]{0,6}",
        "[0-9]e-?[0-9]{1,2}",
    ];
    text.prop_filter_map("a reading", |text| text.parse().ok())
}

fn weighings() -> impl Strategy<Value = Weighings> {
    let container = (
        reading(),
        reading(),
        prop::collection::vec(reading(), 0..20),
    );
    prop_oneof![
        4 => container.prop_map(|(c, b, heated)| Weighings::new(c, b, heated)),
        1 => (reading(), reading(), select(&Net::ALL[..]))
            .prop_map(|(hydrate, residue, net)| Weighings::net(hydrate, residue, net)),
        1 => reading().prop_map(Weighings::percent_water),
    ]
}

/// The probabilities are from 0 to 1, in order, and add up to 1. The likely faults are the first ones.
fn is_sensible(diagnosis: &Diagnosis) -> Result<(), TestCaseError> {
    let all = diagnosis.all();
    prop_assert_eq!(all.len(), Fault::ALL.len());
    let mut sum = diagnosis.no_fault();
    prop_assert!((0.0..=1.0).contains(&sum), "{}", sum);
    for pair in all.windows(2) {
        prop_assert!(pair[0].probability() >= pair[1].probability());
    }
    for own in all {
        prop_assert!((0.0..=1.0).contains(&own.probability()));
        sum += own.probability();
        for text in [
            own.sentence(),
            own.evidence().sentence(),
            own.next().sentence().to_owned(),
        ] {
            prop_assert!(text.ends_with('.'), "{}", text);
        }
        let pupils = [own.evidence().pupil(), own.next().pupil().to_owned()];
        prop_assert!(pupils.iter().all(|text| text.ends_with('.')));
        if let Evidence::OtherReading(misreading) = own.evidence() {
            prop_assert!((0.0..=1.0).contains(&misreading.probability()));
        }
    }
    prop_assert!((sum - 1.0).abs() < 1e-9, "{}", sum);
    let likely = diagnosis.likely();
    prop_assert!(
        likely
            .iter()
            .all(|own| own.probability() > diagnosis.no_fault())
    );
    prop_assert_eq!(likely, &all[..likely.len()]);
    Ok(())
}

proptest! {
    #[test]
    fn any_readings_have_probabilities_or_an_error(
        hydrate in select(&HYDRATES[..]),
        weighings in weighings(),
        prior in 0.0..0.8,
    ) {
        let issued: Formula = hydrate.parse().unwrap();
        let priors = Priors::new().with(Fault::WaterLeft, prior);
        let priors = priors.unwrap_or_default();
        match Diagnosis::new(&issued, &Method::new(), &priors, &weighings) {
            Ok(diagnosis) => is_sensible(&diagnosis)?,
            Err(error) => prop_assert!(error.help().is_some(), "{}", error),
        }
    }

    /// A fault with a prior of 0 has no probability, and the same readings have the same diagnosis.
    #[test]
    fn simulated_benches_are_diagnosed(
        hydrate in select(&HYDRATES[..]),
        balance in select(&["0.1", "0.02", "0.01", "0.001", "0.0001", "0.00001"][..]),
        fault in prop::option::of(select(&Fault::ALL[..])),
        excluded in select(&Fault::ALL[..]),
        heatings in 1_u32..20,
        seed: u64,
    ) {
        let issued: Formula = hydrate.parse().unwrap();
        let readability: Reading = balance.parse().unwrap();
        let simulator = Simulator::new(&issued, readability).unwrap();
        let Ok(simulator) = simulator.most_heatings(heatings).unwrap().fault(fault) else {
            return Ok(());
        };
        let weighings = simulator.bench(seed).unwrap().weighings();
        let method = Method::new().readability(readability).unwrap();
        let priors = Priors::new().with(excluded, 0.0).unwrap();
        let diagnosis = Diagnosis::new(&issued, &method, &priors, &weighings).unwrap();
        is_sensible(&diagnosis)?;
        let own = diagnosis.all().iter().find(|own| own.fault() == excluded).unwrap();
        let is_misread = excluded == Fault::WeighingMisread;
        prop_assert!(own.probability() == 0.0 || is_misread, "{:?}", own);
        let again = Diagnosis::new(&issued, &method, &priors, &weighings).unwrap();
        prop_assert_eq!(diagnosis, again);
    }

    /// A bench whose last two weighings agree, and are within three standard uncertainties of the expected
    /// mass, is not accused, whatever is believed of faults.
    #[test]
    fn a_constant_mass_as_expected_is_not_accused(
        hydrate in select(&HYDRATES[..]),
        balance in select(&["0.1", "0.01", "0.001", "0.0001"][..]),
        prior in 0.0..0.7,
        heatings in 2_u32..8,
        seed: u64,
    ) {
        let issued: Formula = hydrate.parse().unwrap();
        let readability: Reading = balance.parse().unwrap();
        let simulator = Simulator::new(&issued, readability).unwrap();
        let bench = simulator.most_heatings(heatings).unwrap().bench(seed).unwrap();
        let weighings = bench.weighings();
        let method = Method::new().readability(readability).unwrap();
        let method = method.repeatability(0.003).unwrap();
        let (salt, waters) = issued.one_formula_unit().unwrap();
        let run = method.dehydration(&salt, &weighings).unwrap();
        let reached = run.constant_mass().and_then(Constancy::reached);
        let off = (run.ratio() - &waters).to_f64().abs();
        prop_assume!(reached == Some(true) && off <= 2.9 * run.budget().standard_uncertainty());
        let priors = Priors::new().with(Fault::WeighedWarm, prior).unwrap_or_default();
        let diagnosis = Diagnosis::new(&issued, &method, &priors, &weighings).unwrap();
        prop_assert!(diagnosis.likely().is_empty(), "{:?}", diagnosis);
    }
}
