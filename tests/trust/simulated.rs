//! The simulator of benches of the crate, against the method and against the effect of each fault.

use std::fmt::Write;

use effloresce::gravimetry::{Constancy, Dehydration, Method};
use effloresce::mistake::{Direction, Fault, SimulatedBench, Simulator};
use effloresce::{Formula, Ratio, Reading};

/// Hydrates of the catalogue with little and with much water, and one of a half.
const HYDRATES: [&str; 9] = [
    "BaCl2·2H2O",
    "CaSO4·2H2O",
    "CuSO4·5H2O",
    "CoCl2·6H2O",
    "MgSO4·7H2O",
    "ZnSO4·7H2O",
    "Na2CO3·10H2O",
    "KAl(SO4)2·12H2O",
    "K2CO3·1.5H2O",
];

const DIVISION: f64 = 0.001;

fn readability() -> Reading {
    "0.001".parse().unwrap()
}

fn simulator(hydrate: &str) -> Simulator {
    Simulator::new(&hydrate.parse().unwrap(), readability()).unwrap()
}

/// The scatter of the simulator, known to the method.
fn method() -> Method {
    let method = Method::new().readability(readability()).unwrap();
    let method = method.balance_repeatability(DIVISION / 3.0).unwrap();
    method.repeatability(0.003).unwrap()
}

struct Bench {
    run: Dehydration,
    simulated: SimulatedBench,
    /// x minus the degree issued.
    above: f64,
}

fn bench(method: &Method, simulator: &Simulator, hydrate: &Formula, seed: u64) -> Bench {
    let simulated = simulator.bench(seed).unwrap();
    let (salt, waters) = hydrate.one_formula_unit().unwrap();
    let run = method.dehydration(&salt, &simulated.weighings()).unwrap();
    let above = (run.ratio() - &waters).to_f64();
    Bench {
        run,
        simulated,
        above,
    }
}

fn reached(run: &Dehydration) -> Option<bool> {
    run.constant_mass().and_then(Constancy::reached)
}

/// A reading in grams, as the bench wrote it.
fn grams(reading: Reading) -> Ratio {
    reading.value()
}

#[test]
fn sound_benches_are_covered_as_claimed() {
    const SEEDS: u64 = 2_000;
    let mut lines =
        String::from("Sound simulated benches at 0.001 g\nhydrate           covered   heatings\n");
    for hydrate in HYDRATES {
        let simulator = simulator(hydrate);
        let formula: Formula = hydrate.parse().unwrap();
        // The outcome does not matter here, and one candidate saves time.
        let (_, waters) = formula.one_formula_unit().unwrap();
        let method = method().candidates([waters]).unwrap();
        let (mut covered, mut heatings) = (0, 0);
        for seed in 0..SEEDS {
            let bench = bench(&method, &simulator, &formula, seed);
            let simulated = &bench.simulated;
            assert_eq!(reached(&bench.run), Some(true), "{hydrate}, seed {seed}");
            let all = [simulated.container(), simulated.with_hydrate()];
            for reading in all.iter().chain(simulated.heated()) {
                assert_eq!(reading.decimal_places(), 3, "{hydrate}, seed {seed}");
            }
            let (c, b) = (grams(all[0]), grams(all[1]));
            assert!(
                simulated
                    .heated()
                    .iter()
                    .all(|a| c < grams(*a) && grams(*a) < b)
            );
            assert!((2.0..=3.0).contains(&simulated.true_sample()));
            assert!((15.0..=30.0).contains(&simulated.true_container()));
            // The balance shows the true mass within a few divisions.
            let shown = grams(simulated.container()).to_f64();
            assert!((shown - simulated.true_container()).abs() < 3.0 * DIVISION);
            covered += u64::from(bench.above.abs() <= bench.run.budget().expanded(2.0));
            heatings += simulated.heated().len();
        }
        let percent = covered as f64 * 100.0 / SEEDS as f64;
        let mean = heatings as f64 / SEEDS as f64;
        writeln!(lines, "{hydrate:<16} {percent:>7.2} %  {mean:>7.2}").unwrap();
        // With 2,000 runs a coverage of 95 % is known to 0.5 % (one standard deviation).
        assert!((93.5..=99.5).contains(&percent), "{hydrate}: {percent} %");
        assert!((2.0..6.0).contains(&mean), "{hydrate}: {mean} heatings");
    }
    println!("{lines}");
}

/// The faults that a hydrate cannot show: it has no lower hydrate, or a burner leaves it whole.
const NOT_SHOWN: [(&str, Fault); 6] = [
    ("BaCl2·2H2O", Fault::Decomposed),
    ("CaSO4·2H2O", Fault::Decomposed),
    ("MgSO4·7H2O", Fault::Decomposed),
    ("Na2CO3·10H2O", Fault::Decomposed),
    ("K2CO3·1.5H2O", Fault::Decomposed),
    ("K2CO3·1.5H2O", Fault::StoppedAtLowerHydrate),
];

#[test]
fn each_fault_moves_x_its_own_way() {
    const SEEDS: u64 = 200;
    let method = method();
    let mut lines = String::from("x found, less x issued, in per cent of it: least and greatest\n");
    let mut shown = 0;
    for fault in Fault::ALL {
        let mut range = (f64::MAX, f64::MIN);
        for hydrate in HYDRATES {
            let formula: Formula = hydrate.parse().unwrap();
            // Without the scatter of the method each run shows the effect.
            let without_fault = simulator(hydrate).repeatability(0.0).unwrap();
            let simulator = match without_fault.fault(fault) {
                Ok(simulator) => simulator,
                Err(error) => {
                    assert!(NOT_SHOWN.contains(&(hydrate, fault)), "{hydrate}: {error}");
                    assert_eq!(error.code(), "fault_not_shown");
                    continue;
                }
            };
            shown += 1;
            let waters = formula.waters().unwrap().to_f64();
            let (mut up, mut down) = (0, 0);
            for seed in 0..SEEDS {
                let bench = bench(&method, &simulator, &formula, seed);
                assert_eq!(bench.simulated.fault(), Some(fault));
                up += u64::from(bench.above > 0.0);
                down += u64::from(bench.above < 0.0);
                let relative = bench.above * 100.0 / waters;
                range = (range.0.min(relative), range.1.max(relative));
            }
            let expected = match fault.direction() {
                Direction::Up => up == SEEDS,
                Direction::Down => down == SEEDS,
                _ => up + down == SEEDS && up > SEEDS / 5 && down > SEEDS / 5,
            };
            assert!(expected, "{fault}, {hydrate}: {up} up, {down} down");
        }
        writeln!(
            lines,
            "{:<26} {:>8.2} {:>8.2}",
            fault.code(),
            range.0,
            range.1
        )
        .unwrap();
    }
    assert_eq!(shown, HYDRATES.len() * Fault::ALL.len() - NOT_SHOWN.len());
    println!("{lines}");
}

/// The series distinguishes three cases: still falling, rising, and falling below the expected mass.
#[test]
fn the_series_tells_what_it_can() {
    const SEEDS: u64 = 200;
    let method = method();
    let hydrate: Formula = "CuSO4·5H2O".parse().unwrap();
    let count = |fault: Option<Fault>, is: fn(&Bench) -> bool| {
        let simulator = simulator("CuSO4·5H2O").fault(fault).unwrap();
        let benches = (0..SEEDS).map(|seed| bench(&method, &simulator, &hydrate, seed));
        benches.filter(is).count() as u64
    };
    let falling = |bench: &Bench| {
        let change = bench.run.constant_mass().and_then(Constancy::last_change);
        reached(&bench.run) == Some(false) && change.unwrap().value().is_negative()
    };
    let rising = |bench: &Bench| {
        let change = bench.run.constant_mass().and_then(Constancy::last_change);
        reached(&bench.run) == Some(false) && change.unwrap().value().is_positive()
    };
    let still = |bench: &Bench| reached(&bench.run) == Some(true);
    assert_eq!(count(Some(Fault::WaterLeft), falling), SEEDS);
    assert_eq!(count(Some(Fault::MoistureTakenUp), rising), SEEDS);
    assert_eq!(count(Some(Fault::WeighedWarm), falling), SEEDS);
    assert_eq!(count(Some(Fault::Decomposed), falling), SEEDS);
    // Constant mass is reached in spite of the fault.
    for fault in [
        None,
        Some(Fault::StoppedAtLowerHydrate),
        Some(Fault::SolidLost),
        Some(Fault::SampleDamp),
        Some(Fault::SampleEffloresced),
        Some(Fault::ContainerDamp),
        Some(Fault::BalanceChanged),
    ] {
        assert_eq!(count(fault, still), SEEDS, "{fault:?}");
    }
}

/// A bench that stops too soon is at one of the salt's plateaus: for copper sulfate one water or three.
#[test]
fn a_lower_hydrate_is_one_of_the_salt() {
    let hydrate: Formula = "CuSO4·5H2O".parse().unwrap();
    let simulator = simulator("CuSO4·5H2O");
    let simulator = simulator.fault(Fault::StoppedAtLowerHydrate).unwrap();
    let mut seen = [0; 2];
    for seed in 0..200 {
        let bench = bench(&method(), &simulator, &hydrate, seed);
        let left = 5.0 * bench.simulated.water_left() / bench.simulated.true_water();
        match left {
            0.99..1.1 => seen[0] += 1,
            2.99..3.1 => seen[1] += 1,
            _ => panic!("{left} waters are left"),
        }
    }
    assert!(seen.iter().all(|count| *count > 50), "{seen:?}");
}

/// A misreading is an exchange of neighbouring digits or one digit off by one, in one reading.
#[test]
fn a_misreading_changes_one_reading() {
    let without_fault = simulator("MgSO4·7H2O");
    let misread = without_fault.clone().fault(Fault::WeighingMisread).unwrap();
    let all = |bench: &SimulatedBench| {
        let mut all = vec![bench.container(), bench.with_hydrate()];
        all.extend(bench.heated());
        all
    };
    let mut exchanged = 0;
    for seed in 0..400 {
        // The misreading is drawn last, so that the weighings are the same.
        let shown = all(&without_fault.bench(seed).unwrap());
        let written = all(&misread.bench(seed).unwrap());
        let changed: Vec<(String, String)> = shown
            .iter()
            .zip(&written)
            .filter(|(shown, written)| shown != written)
            .map(|(shown, written)| (shown.to_string(), written.to_string()))
            .collect();
        let [(shown, written)] = &changed[..] else {
            panic!("{changed:?}");
        };
        let sorted = |text: &str| {
            let mut digits: Vec<char> = text.chars().collect();
            digits.sort_unstable();
            digits
        };
        let differ = shown.chars().zip(written.chars()).filter(|(a, b)| a != b);
        match differ.count() {
            2 => {
                assert_eq!(sorted(shown), sorted(written));
                exchanged += 1;
            }
            1 => {}
            n => panic!("{n} digits differ in {shown} and {written}"),
        }
    }
    // 85 %, known to 1.8 %.
    assert!((310..=370).contains(&exchanged), "{exchanged}");
}
