//! The coverage of the interval that is reported, x ± 2 u: how often it contains the true degree.
//!
//! A bench is made up, not drawn from the model of the uncertainty: true masses that follow from
//! true atomic weights, a balance that scatters and then shows the nearest division. The weights
//! are drawn from the published bounds, so they are not spread about the abridged ones that the
//! method uses; hydrogen and oxygen are the same in the salt and in its water.
//!
//! With 10,000 runs a coverage of 95 % is known to 0.2 % (one standard deviation).

use effloresce::Reading;
use effloresce::gravimetry::{Constancy, Method, UncertaintyPart, Weighings};

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
    /// Three heatings, of which the first drove all the water off.
    DryThrice,
    /// Each heating leaves this share of the water.
    Slow { share: f64, until: Until },
}

/// When a bench whose mass falls slowly stops heating, from the third weighing to the sixth.
#[derive(Clone, Copy, PartialEq)]
enum Until {
    /// As soon as two weighings agree. At most a hundred divisions were left after the first heating.
    Agree,
    /// At any time before two weighings agree. At most half of the water was left after the first heating.
    StillFalling,
}

/// How often the interval covered the truth.
#[derive(Debug)]
struct Covered {
    percent: f64,
    /// The lowest and the highest coverage of a hydrate.
    by_hydrate: (f64, f64),
    /// Series that are not counted: their readings did not reach the criterion, or not when they should.
    not_met: usize,
    /// The percentage of series whose slow loss could be estimated.
    estimated: f64,
}

/// The true masses after each heating.
fn heated_masses(
    heating: Heating,
    division: f64,
    dry: f64,
    water: f64,
    draws: &mut Draws,
) -> Vec<f64> {
    match heating {
        Heating::Complete => vec![dry],
        Heating::DryThrice => vec![dry; 3],
        Heating::Met { left } => {
            let loss = draws.between(0.0, 2.0 * division);
            let last = dry + left * loss;
            vec![last + loss, last]
        }
        Heating::Slow { share, until } => {
            let left = match until {
                Until::Agree => (100.0 * division).min(0.8 * water) * draws.between(0.1, 1.0),
                Until::StillFalling => water * draws.between(0.02, 0.5),
            };
            let weighings = match until {
                Until::Agree => 6,
                Until::StillFalling => 3 + draws.below(4) as i32,
            };
            let left = (0..weighings).map(|heating| left * share.powi(heating));
            left.map(|left| dry + left).collect()
        }
    }
}

/// The weighings that the bench makes of a slow loss; `None` if it stops too soon or too late.
fn weighed(until: Until, criterion: f64, mut heated: Vec<Reading>) -> Option<Vec<Reading>> {
    let agree = |pair: &[Reading]| {
        let [one, other] = [pair[0], pair[1]].map(|reading| reading.value().to_f64());
        (one - other).abs() <= criterion * 1.000_001
    };
    let first = heated.windows(2).position(agree);
    match until {
        Until::Agree => {
            heated.truncate(first? + 2);
            (heated.len() >= 3).then_some(heated)
        }
        Until::StillFalling => first.is_none().then_some(heated),
    }
}

/// Runs of one balance; `noise` is the standard deviation of a reading in divisions.
fn simulate(
    balance: &Balance,
    hydrates: &[(Salt, u32)],
    noise: f64,
    heating: Heating,
    (runs, seed): (usize, u64),
) -> Covered {
    let division: f64 = balance.division.parse().unwrap();
    let sd = noise * division;
    let method = Method::new()
        .readability(balance.division.parse().unwrap())
        .and_then(|method| method.balance_repeatability(sd))
        .unwrap();
    let mut draws = Draws::new(seed);
    let mut covered = vec![0_usize; hydrates.len()];
    let (mut not_met, mut estimated) = (0, 0);
    for index in 0..runs {
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
            let water = container + hydrate - dry;
            let heated = heated_masses(heating, division, dry, water, &mut draws);
            let mut read = |mass: f64| -> Reading {
                let shown = ((mass + draws.gauss(sd)) / division).round() * division;
                format!("{shown:.*}", balance.places).parse().unwrap()
            };
            let (container, with_hydrate) = (read(container), read(container + hydrate));
            let mut heated: Vec<Reading> = heated.into_iter().map(read).collect();
            if let Heating::Slow { until, .. } = heating {
                let Some(weighed) = weighed(until, 2.0 * division, heated) else {
                    not_met += 1;
                    continue;
                };
                heated = weighed;
            }
            let run = method
                .dehydration(
                    &salt.formula,
                    &Weighings::new(container, with_hydrate, heated),
                )
                .unwrap();
            if let Heating::Slow { until, .. } = heating {
                let reached = run.constant_mass().and_then(Constancy::reached);
                assert_eq!(reached, Some(until == Until::Agree));
                let slow = run
                    .uncertainty_covers()
                    .contains(&UncertaintyPart::SlowLoss);
                estimated += usize::from(slow);
                break run;
            }
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
    let each = (runs / hydrates.len()) as f64 / 100.0;
    let by_hydrate = |least: fn(f64, f64) -> f64, start: f64| {
        let percents = covered.iter().map(|count| *count as f64 / each);
        percents.fold(start, least)
    };
    Covered {
        percent: covered.iter().sum::<usize>() as f64 * 100.0 / runs as f64,
        by_hydrate: (by_hydrate(f64::min, 100.0), by_hydrate(f64::max, 0.0)),
        not_met,
        estimated: estimated as f64 * 100.0 / runs as f64,
    }
}

/// Prints and asserts the coverage of every balance.
fn table(title: &str, noise: f64, heating: Heating, most: impl Fn(&Balance) -> f64) {
    let hydrates = hydrates();
    let mut lines = format!("{title}\ndivision  sample      covered   by hydrate     not met\n");
    let mut complaints = Vec::new();
    for (seed, balance) in (1_u64..).zip(&BALANCES) {
        let covered = simulate(balance, &hydrates, noise, heating, (RUNS, seed));
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

/// Two weighings that agree cannot show water that leaves so slowly that each heating takes a third of it or less.
/// The interval then often misses the true degree. A third weighing shows it.
#[test]
fn two_weighings_do_not_show_a_slow_loss() {
    let heating = Heating::Met { left: 2.0 };
    let covered = simulate(&BALANCES[5], &hydrates(), 1.0 / 3.0, heating, (RUNS, 1));
    println!(
        "Twice as much left as the last loss, 0.001 g: {} %\n",
        covered.percent
    );
    assert!(covered.percent < 75.0, "{}", covered.percent);
}

/// Prints and asserts the coverage of every balance by the share of the water that each heating leaves.
fn slow_table(title: &str, noise: f64, until: Until) {
    // The share, and the least coverage.
    const SHARES: [(f64, f64); 6] = [
        (0.3, 93.0),
        (0.5, 93.0),
        (0.6, 93.0),
        (0.7, 93.0),
        (0.8, 89.0),
        (0.85, 80.0),
    ];
    const RUNS: usize = 1_000;
    let hydrates = hydrates();
    let mut lines = format!("{title}: covered in %, by the share of the water left\ndivision");
    lines.extend(SHARES.map(|(share, _)| format!("{share:>7}")));
    lines += "    mean  not counted\n";
    let mut complaints = Vec::new();
    for (seed, balance) in (1_u64..).zip(&BALANCES) {
        let division = balance.division;
        lines += &format!("{division:>6} g");
        let (mut sum, mut not_met) = (0.0, 0);
        for (share, least) in SHARES {
            let heating = Heating::Slow { share, until };
            let covered = simulate(balance, &hydrates, noise, heating, (RUNS, seed));
            sum += covered.percent;
            not_met += covered.not_met;
            lines += &format!("{:>7.1}", covered.percent);
            if covered.percent < least || covered.estimated < 99.0 {
                complaints.push(format!("{division} g, share {share}: {covered:?}"));
            }
        }
        let mean = sum / SHARES.len() as f64;
        lines += &format!("{mean:>8.2}  {not_met:>11}\n");
        if !(93.0..=98.0).contains(&mean) {
            complaints.push(format!("{division} g: {mean} %"));
        }
    }
    println!("{lines}");
    assert!(complaints.is_empty(), "{title}: {}", complaints.join(", "));
}

#[test]
fn a_slow_loss_is_covered_where_weighings_agree_on_a_steady_balance() {
    slow_table("Slow loss, weighings agree, no noise", 0.0, Until::Agree);
}

/// The share of 0.85 is the limit: such a bench stops because two of its readings agree by chance.
#[test]
fn a_slow_loss_is_covered_where_weighings_agree_on_a_balance_with_noise() {
    let title = "Slow loss, weighings agree, noise";
    slow_table(title, 1.0 / 3.0, Until::Agree);
}

#[test]
fn a_slow_loss_is_covered_while_the_mass_falls_on_a_steady_balance() {
    let title = "Slow loss, mass still falls, no noise";
    slow_table(title, 0.0, Until::StillFalling);
}

#[test]
fn a_slow_loss_is_covered_while_the_mass_falls_on_a_balance_with_noise() {
    let title = "Slow loss, mass still falls, noise";
    slow_table(title, 1.0 / 3.0, Until::StillFalling);
}

#[test]
fn three_weighings_of_a_dry_residue_on_a_steady_balance() {
    let title = "Three heatings, dry after the first, no noise";
    table(title, 0.0, Heating::DryThrice, |_| 100.0);
}

#[test]
fn three_weighings_of_a_dry_residue_on_a_balance_with_noise() {
    let title = "Three heatings, dry after the first, noise";
    table(title, 1.0 / 3.0, Heating::DryThrice, |_| 100.0);
}

/// A residue that was dry before the first of three weighings is seldom heated again, also on a coarse balance.
#[test]
fn a_dry_residue_is_seldom_called_wet() {
    const BENCHES: usize = 4_000;
    let issued = "MgSO4·7H2O".parse().unwrap();
    let mut draws = Draws::new(1);
    let mut called_wet = 0;
    for _ in 0..BENCHES {
        let (container, hydrate) = (draws.between(20.0, 40.0), draws.between(4.0, 6.0));
        let dry = container + hydrate * 120.36 / 246.466;
        let readings = [container, container + hydrate, dry, dry, dry].map(|mass| -> Reading {
            let mass = mass + draws.gauss(0.01 / 3.0);
            format!("{mass:.2}").parse().unwrap()
        });
        let [container, with_hydrate, heated @ ..] = readings;
        let check = Method::new()
            .check(&issued, &Weighings::new(container, with_hydrate, heated))
            .unwrap();
        let reasons = check.reasons();
        called_wet += usize::from(reasons.iter().any(|reason| reason.code() == "slow_loss"));
    }
    let percent = called_wet as f64 * 100.0 / BENCHES as f64;
    println!("Dry residues with the reason slow_loss, 0.01 g: {percent} %\n");
    assert!(percent < 1.0, "{percent} %");
}
