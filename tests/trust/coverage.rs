//! The coverage of the interval that is reported, x ± 2 u: how often it contains the true degree.
//!
//! A bench is made up, not drawn from the model of the uncertainty: true masses that follow from
//! true atomic weights, a balance that scatters and then shows the nearest division. The weights
//! are drawn from the published bounds, so they are not spread about the abridged ones that the
//! method uses; hydrogen and oxygen are the same in the salt and in its water.
//!
//! With 10,000 runs a coverage of 95 % is known to 0.2 % (one standard deviation).

use effloresce::Reading;
use effloresce::gravimetry::{Constancy, Method, Weighings};

use crate::draws::{Draws, Salt};

const RUNS: usize = 10_000;

/// A balance, and what is weighed on it.
struct Balance {
    division: &'static str,
    /// The decimal places it shows.
    places: usize,
    /// The masses of hydrate taken, in grams.
    sample: (f64, f64),
    container: (f64, f64),
}

const fn balance(
    division: &'static str,
    places: usize,
    sample: (f64, f64),
    container: (f64, f64),
) -> Balance {
    Balance {
        division,
        places,
        sample,
        container,
    }
}

/// A careful bench takes more if the balance is coarser.
const BALANCES: [Balance; 7] = [
    balance("0.1", 1, (20.0, 30.0), (60.0, 100.0)),
    balance("0.05", 2, (15.0, 25.0), (60.0, 100.0)),
    balance("0.01", 2, (4.0, 6.0), (20.0, 40.0)),
    balance("0.005", 3, (4.0, 6.0), (20.0, 40.0)),
    balance("0.002", 3, (2.0, 4.0), (20.0, 40.0)),
    balance("0.001", 3, (2.0, 3.0), (15.0, 30.0)),
    balance("0.0001", 4, (1.0, 2.0), (15.0, 30.0)),
];

/// Hydrates with little and with much water, with and without hydrogen in the salt.
fn hydrates() -> Vec<(Salt, u32)> {
    let salt = Salt::new;
    vec![
        (salt("BaCl2", &[("Ba", 1.0), ("Cl", 2.0)]), 2),
        (salt("CuSO4", &[("Cu", 1.0), ("S", 1.0), ("O", 4.0)]), 5),
        (salt("MgSO4", &[("Mg", 1.0), ("S", 1.0), ("O", 4.0)]), 7),
        (salt("Na2CO3", &[("Na", 2.0), ("C", 1.0), ("O", 3.0)]), 10),
        (
            salt(
                "Na2HPO4",
                &[("Na", 2.0), ("H", 1.0), ("P", 1.0), ("O", 4.0)],
            ),
            12,
        ),
    ]
}

/// The effect of heating.
#[derive(Clone, Copy)]
enum Heating {
    /// One heating, which drove all the water off.
    Complete,
    /// Two heatings that agree within two divisions: the last loss is anywhere up to that, and
    /// so many times as much is left.
    Met { left: f64 },
}

/// How often the interval covered the truth.
struct Covered {
    percent: f64,
    /// The lowest and the highest coverage of a hydrate.
    by_hydrate: (f64, f64),
    /// Series whose readings did not reach the criterion; they are not counted.
    not_met: usize,
}

/// Runs of one balance; `noise` is the standard deviation of a reading in divisions.
fn simulate(
    balance: &Balance,
    hydrates: &[(Salt, u32)],
    noise: f64,
    heating: Heating,
    seed: u64,
) -> Covered {
    let division: f64 = balance.division.parse().unwrap();
    let sd = noise * division;
    let method = Method::new()
        .readability(balance.division.parse().unwrap())
        .and_then(|method| method.balance_repeatability(sd))
        .unwrap();
    let mut draws = Draws::new(seed);
    let mut covered = vec![0_usize; hydrates.len()];
    let mut not_met = 0;
    for index in 0..RUNS {
        let which = index % hydrates.len();
        let (salt, waters) = &hydrates[which];
        // The outcome does not matter here, and one candidate saves time.
        let method = method.clone().candidates([(*waters).into()]).unwrap();
        let run = loop {
            let molar = salt.as_it_may_be(&mut draws);
            let container = draws.between(balance.container.0, balance.container.1);
            let hydrate = draws.between(balance.sample.0, balance.sample.1);
            let whole = molar.salt + f64::from(*waters) * molar.water;
            let dry = container + hydrate * molar.salt / whole;
            let heated = match heating {
                Heating::Complete => vec![dry],
                Heating::Met { left } => {
                    let loss = draws.between(0.0, 2.0 * division);
                    let last = dry + left * loss;
                    vec![last + loss, last]
                }
            };
            let mut read = |mass: f64| -> Reading {
                let shown = ((mass + draws.gauss(sd)) / division).round() * division;
                format!("{shown:.*}", balance.places).parse().unwrap()
            };
            let (container, with_hydrate) = (read(container), read(container + hydrate));
            let heated: Vec<Reading> = heated.into_iter().map(read).collect();
            let run = method
                .dehydration(
                    &salt.formula,
                    &Weighings::new(container, with_hydrate, heated),
                )
                .unwrap();
            let reached = run.constant_mass().and_then(Constancy::reached);
            if reached != Some(false) {
                break run;
            }
            not_met += 1;
        };
        let apart = run.ratio().to_f64() - f64::from(*waters);
        if apart.abs() <= run.budget().expanded(2.0) {
            covered[which] += 1;
        }
    }
    let each = (RUNS / hydrates.len()) as f64 / 100.0;
    let by_hydrate = |least: fn(f64, f64) -> f64, start: f64| {
        let percents = covered.iter().map(|count| *count as f64 / each);
        percents.fold(start, least)
    };
    Covered {
        percent: covered.iter().sum::<usize>() as f64 * 100.0 / RUNS as f64,
        by_hydrate: (by_hydrate(f64::min, 100.0), by_hydrate(f64::max, 0.0)),
        not_met,
    }
}

/// Prints and asserts the coverage of every balance.
fn table(title: &str, noise: f64, heating: Heating, most: impl Fn(&Balance) -> f64) {
    let hydrates = hydrates();
    let mut lines = format!("{title}\ndivision  sample      covered   by hydrate     not met\n");
    let mut complaints = Vec::new();
    for (seed, balance) in (1_u64..).zip(&BALANCES) {
        let covered = simulate(balance, &hydrates, noise, heating, seed);
        let (worst, best) = covered.by_hydrate;
        lines += &format!(
            "{:>6} g  {:>2} to {:>2} g  {:>6.2} %  {worst:>5.1} to {best:>5.1}  {:>6}\n",
            balance.division, balance.sample.0, balance.sample.1, covered.percent, covered.not_met
        );
        let (least, most) = (93.0, most(balance));
        if !(least..=most).contains(&covered.percent) {
            complaints.push(format!("{} g: {} %", balance.division, covered.percent));
        }
    }
    println!("{lines}");
    assert!(complaints.is_empty(), "{title}: {}", complaints.join(", "));
}

/// From 0.1 g to 0.001 g the balance decides, and the interval covers 93 to 98 %. At 0.0001 g
/// the atomic weights matter. Their limits are wider than those that they are drawn from.
fn one_heating(balance: &Balance) -> f64 {
    match balance.division {
        "0.0001" => 100.0,
        _ => 98.0,
    }
}

#[test]
fn one_heating_on_a_steady_balance() {
    let title = "One heating, no noise but the display's";
    table(title, 0.0, Heating::Complete, one_heating);
}

#[test]
fn one_heating_on_a_balance_with_noise() {
    let title = "One heating, noise of a third of a division, known to the method";
    table(title, 1.0 / 3.0, Heating::Complete, one_heating);
}

/// As much is left as the last heating drove off: each heating takes half of what there was.
const HALF_EACH_TIME: Heating = Heating::Met { left: 1.0 };

#[test]
fn a_met_criterion_on_a_steady_balance() {
    let title = "Two heatings within two divisions, as much left as the last loss, no noise";
    table(title, 0.0, HALF_EACH_TIME, |_| 100.0);
}

#[test]
fn a_met_criterion_on_a_balance_with_noise() {
    let title = "Two heatings within two divisions, as much left as the last loss, noise";
    table(title, 1.0 / 3.0, HALF_EACH_TIME, |_| 100.0);
}

/// A criterion that is reached cannot show water that leaves so slowly that each heating takes a third
/// of it or less. The interval then often misses the true degree.
#[test]
fn a_slow_loss_is_not_covered() {
    let heating = Heating::Met { left: 2.0 };
    let covered = simulate(&BALANCES[5], &hydrates(), 1.0 / 3.0, heating, 1);
    println!(
        "Twice as much left as the last loss, 0.001 g: {} %\n",
        covered.percent
    );
    assert!(covered.percent < 75.0, "{}", covered.percent);
}
